"""Phones: their logs, what is held of them, who may send; pairing and cutting off."""

from flask import Blueprint, g, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...errors import NotKnown, OutOfRange, Taken
from ...paper.qr import pattern
from ...records import pairing
from ...records.phones import MOST_ROWS_A_DAY, LogSummary, all_logs
from ...trade.numbers import fixed
from ...trade.phone_clock import is_pointed_out, minutes_fast
from ..state import now_utc, state
from .context import Choice
from .figures import day_and_time, figure
from .phone_context import CodePage, PairPage, PhoneLine, PhonesPage
from .phrases import _

blueprint = Blueprint("phones", __name__)

#: What stands in front of a pairing code, so that the app tells it from a label.
PAIRING_MARK = "PAIR:"
NEW_PHONE = "new"


@blueprint.get("/phones")
def listing() -> str:
    """Every log that has been in contact, and every phone that was paired."""
    logs = all_logs(state().store, now_utc())
    names = {log.log_id: _name(log) for log in logs}
    page = PhonesPage(
        phones=tuple(_phone_line(log, names) for log in logs),
        address=state().config.address,
        trust_address=state().config.trust_address,
    )
    return render_template("office/phones.html", page=page)


@blueprint.get("/phones/pair")
def pair_form() -> Response:
    """Ask which phone is to be paired."""
    return _pair_page({})


@blueprint.post("/phones/pair")
def make_code() -> Response:
    """Make the code that one phone may spend within five minutes."""
    name, replaces = request.form.get("name", ""), request.form.get("replaces", "")
    if not replaces:
        return _pair_page({"replaces": _("Say whether it is a new phone or stands for another.")})
    stands_for = "" if replaces == NEW_PHONE else replaces
    try:
        code = pairing.ask_for(state().store, name, stands_for, now_utc())
    except OutOfRange:
        longest = pairing.LONGEST_NAME
        return _pair_page({"name": _("Allowed are 1 to %(most)s characters.", most=longest)})
    except Taken as error:
        text = _("Another phone has this name: %(holder)s.", holder=error.holder)
        return _pair_page({"name": text})
    except NotKnown:
        return _pair_page({"replaces": _("There is no such phone.")})
    g.event = "pairing_code_made"
    drawn = pattern(f"{PAIRING_MARK}{code}")
    page = CodePage(
        name=" ".join(name.split()),
        code=" ".join(code[start : start + 4] for start in range(0, len(code), 4)),
        pattern=drawn,
        black="".join(
            f"M{one.column} {one.row}h{one.columns}v{one.rows}h-{one.columns}z"
            for one in drawn.blocks
        ),
    )
    return make_response(render_template("office/pairing_code.html", page=page))


@blueprint.post("/phones/<log_id>/revoke")
def revoke(log_id: str) -> Response:
    """Cut a phone off from its next request on."""
    pairing.revoke(state().store, log_id, now_utc())
    g.event = "phone_revoked"
    return redirect(url_for(".listing"), 303)


def _pair_page(errors: dict[str, str]) -> Response:
    logs = all_logs(state().store, now_utc())
    page = PairPage(
        name=request.form.get("name", ""),
        replaces=request.form.get("replaces", ""),
        choices=(
            Choice(NEW_PHONE, _("A new phone")),
            *(Choice(log.log_id, _stands_for(log)) for log in logs),
        ),
        errors=errors,
    )
    body = render_template("office/pair_phone.html", page=page)
    return make_response(body, 422 if errors else 200)


def _stands_for(log: LogSummary) -> str:
    seen = day_and_time(log.last_contact_at)
    return _("It stands for %(name)s, last heard of %(seen)s", name=_name(log), seen=seen)


def _name(log: LogSummary) -> str:
    return log.paired.name if log.paired else _("log %(start)s…", start=log.log_id[:8])


def _phone_line(summary: LogSummary, names: dict[str, str]) -> PhoneLine:
    paired = summary.paired
    return PhoneLine(
        log_id=summary.log_id,
        name=_name(summary),
        standing=_standing(summary),
        may_be_revoked=paired is not None and not paired.revoked_at,
        lost=_lost(summary, names),
        last_contact_at=summary.last_contact_at,
        app_version=summary.app_version,
        rows=summary.rows,
        unsent=summary.unsent,
        is_flooding=summary.rows_today > MOST_ROWS_A_DAY,
        missing=tuple(
            str(low) if low == high else _("%(low)s to %(high)s", low=low, high=high)
            for low, high in summary.missing
        ),
        clock=_clock(summary.clock_offset_ms),
        clock_is_off=is_pointed_out(summary.clock_offset_ms),
    )


def _standing(summary: LogSummary) -> str:
    paired = summary.paired
    if paired is None:
        return _("not paired: on this machine, or brought by file")
    if paired.revoked_at:
        return _("revoked %(at)s", at=day_and_time(paired.revoked_at))
    return _("paired %(at)s", at=day_and_time(paired.paired_at))


def _lost(summary: LogSummary, names: dict[str, str]) -> str:
    paired = summary.paired
    if paired is None or not paired.replaces:
        return ""
    return _(
        "Stands for %(name)s since %(at)s: rows after %(upto)s of that log may be missing.",
        name=names.get(paired.replaces, paired.replaces[:8]),
        at=day_and_time(paired.paired_at),
        upto=paired.replaced_upto,
    )


def _clock(offset_ms: int | None) -> str:
    if offset_ms is None:
        return ""
    if not is_pointed_out(offset_ms):
        return _("right to within 2 min")
    fast_min = minutes_fast(offset_ms)
    minutes = figure(fixed(abs(fast_min), 0))
    return (
        _("%(minutes)s min fast: set the clock of this phone", minutes=minutes)
        if fast_min > 0
        else _("%(minutes)s min slow: set the clock of this phone", minutes=minutes)
    )
