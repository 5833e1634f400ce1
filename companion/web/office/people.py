"""People and customers: codes that stand in the log, and names that can be erased."""

from flask import Blueprint, Response, g, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from ...errors import NotKnown, OutOfRange, Taken
from ...records import names
from ...records.names import CUSTOMERS, PEOPLE, REGISTERS
from ...wire.people_csv import Moment
from ..state import now_utc, state
from . import spreadsheet
from .phrases import _
from .scale_context import ErasePage, NameFormPage, NamesPage, Register

blueprint = Blueprint("people", __name__)


@blueprint.get("/people")
def listing() -> str:
    """Both registers."""
    page = NamesPage(tuple(map(_register, REGISTERS)), _done(request.args.get("did", "")))
    return render_template("office/people.html", page=page)


@blueprint.get("/people/<register>.csv")
def csv(register: str) -> Response:
    """One register as a file for a spreadsheet."""
    found = names.every(state().store, register)
    lines = ((one.code, one.name, Moment(one.erased_at[:10])) for one in found)
    return spreadsheet.answer(register, (_("Code"), _("Name"), _("Name erased")), lines)


@blueprint.get("/people/<register>/new")
def new_form(register: str) -> str:
    """The form of a new entry."""
    return _form(_known(register), "", "", {})


@blueprint.post("/people/<register>/new")
def add(register: str) -> AnyResponse:
    """Enter somebody."""
    code, name = request.form.get("code", ""), request.form.get("name", "")
    try:
        names.add(state().store, _known(register), code, name)
    except (OutOfRange, Taken) as error:
        status = error.http_hint
        return make_response(_form(register, code, name, {error.field: _problem(error)}), status)
    g.event = "name_added"
    return redirect(url_for(".listing", did="added", _anchor=register), 303)


@blueprint.get("/people/<register>/rename")
def rename_form(register: str) -> str:
    """The form of another name."""
    entry = _standing(register)
    return _form(register, entry.code, entry.name, {}, renames=True)


@blueprint.post("/people/<register>/rename")
def rename(register: str) -> AnyResponse:
    """Give somebody another name."""
    code, name = request.args.get("code", ""), request.form.get("name", "")
    try:
        names.rename(state().store, register, code, name)
    except OutOfRange as error:
        errors = {error.field: _problem(error)}
        return make_response(_form(register, code, name, errors, renames=True), 422)
    g.event = "name_changed"
    return redirect(url_for(".listing", did="renamed", _anchor=register), 303)


@blueprint.get("/people/<register>/erase")
def erase_form(register: str) -> str:
    """Ask once more."""
    page = ErasePage(register, _standing(register))
    return render_template("office/erase_name.html", page=page)


@blueprint.post("/people/<register>/erase")
def erase(register: str) -> AnyResponse:
    """Erase a name for good; its code stays."""
    names.erase(state().store, register, request.args.get("code", ""), now_utc())
    g.event = "name_erased"
    return redirect(url_for(".listing", did="erased", _anchor=register), 303)


def _known(register: str) -> str:
    if register not in REGISTERS:
        raise NotKnown("register", register)
    return register


def _standing(register: str) -> names.Named:
    """The entry that was asked for; one whose name was erased has nothing to change."""
    entry = names.find(state().store, register, request.args.get("code", ""))
    if entry.erased_at:
        raise NotKnown(register, entry.code)
    return entry


def _register(name: str) -> Register:
    title, caption, new = {
        PEOPLE: (
            _("People"),
            _("Who weighs and who decides. Their codes stand in the log."),
            _("New person"),
        ),
        CUSTOMERS: (
            _("Customers"),
            _("Whom parts are made for. Their codes stand in jobs and in the log."),
            _("New customer"),
        ),
    }[name]
    return Register(name, title, caption, new, tuple(names.every(state().store, name)))


def _done(did: str) -> str:
    return {
        "added": _("The name was entered."),
        "renamed": _("The name was changed."),
        "erased": _("The name was erased. Its code stays in the log."),
    }.get(did, "")


def _form(
    register: str, code: str, name: str, errors: dict[str, str], *, renames: bool = False
) -> str:
    words = {
        (PEOPLE, False): _("New person"),
        (CUSTOMERS, False): _("New customer"),
        (PEOPLE, True): _("Another name for person %(code)s", code=code),
        (CUSTOMERS, True): _("Another name for customer %(code)s", code=code),
    }
    page = NameFormPage(
        title=words[(register, renames)],
        action=url_for(".rename", register=register, code=code)
        if renames
        else url_for(".add", register=register),
        asks_code=not renames,
        code=code,
        name=name,
        errors=errors,
    )
    return render_template("office/name_form.html", page=page)


def _problem(error: OutOfRange | Taken) -> str:
    given = str(error.value)[: names.LONGEST_NAME]
    if isinstance(error, Taken):
        return _(
            "Code: “%(given)s” is or once was the code of %(holder)s. One that nobody ever had is "
            "allowed.",
            given=given,
            holder=error.holder,
        )
    field = {"code": _("Code"), "name": _("Name")}[error.field]
    most = {"code": names.LONGEST_CODE, "name": names.LONGEST_NAME}[error.field]
    return _(
        "%(field)s: “%(given)s”. 1 to %(most)s printable characters are allowed.",
        field=field,
        given=given,
        most=most,
    )
