"""The office door: the passphrase, and the browsers that came in with it."""

from flask import Blueprint, g, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...errors import OutOfRange
from ...records import passphrase, sessions
from ..access import cookie_name, is_open, limits, session
from ..limits import LOGIN_TRIES, later
from ..state import now_utc, state
from .access_context import AccessPage, DoorPage, SessionLine
from .language import same_site_path
from .phrases import _

blueprint = Blueprint("access", __name__)

#: What browsers and systems call themselves, the more particular name first.
_BROWSERS = ("Firefox", "Edg", "OPR", "Chrome", "Safari")
_SYSTEMS = ("Android", "iPhone", "iPad", "Windows", "Macintosh", "CrOS", "Linux")
_COOKIE_LIFE_S = int(sessions.WHOLE_LIFE.total_seconds())


@blueprint.get("/login")
def login_form() -> Response:
    """Ask for the passphrase."""
    return _login_page("")


@blueprint.post("/login")
def login() -> Response:
    """Let a browser in that knows the passphrase."""
    asker = _asker()
    if wait_s := limits().wait_s(*LOGIN_TRIES, of=asker):
        return later(wait_s)
    if not passphrase.fits(state().store, request.form.get("passphrase", "")):
        limits().count(*LOGIN_TRIES, of=asker)
        g.event = "login_refused"
        return _login_page(_("This is not the passphrase."))
    g.event = "login"
    return _come_in(same_site_path(request.form.get("then", "")))


@blueprint.post("/logout")
def logout() -> Response:
    """End the session of this browser."""
    here = session()
    if here:
        sessions.end(state().store, here.number, now_utc())
        g.event = "logout"
    response = redirect(url_for(".login_form"), 303)
    response.delete_cookie(cookie_name(), secure=request.is_secure, path="/")
    return response


@blueprint.get("/passphrase")
def passphrase_form() -> Response:
    """Choose the passphrase with the code of the terminal."""
    return _passphrase_page({})


@blueprint.post("/passphrase")
def choose_passphrase() -> Response:
    """Set the passphrase and come in; every other session ends."""
    asker, typed = _asker(), request.form.get("passphrase", "")
    if wait_s := limits().wait_s(*LOGIN_TRIES, of=asker):
        return later(wait_s)
    if typed != request.form.get("again", ""):
        return _passphrase_page({"again": _("Both fields must hold the same passphrase.")})
    try:
        code = request.form.get("code", "")
        is_done = passphrase.choose_with_code(state().store, code, typed, now_utc())
    except OutOfRange as error:
        return _passphrase_page({"passphrase": _short_or_long(error)})
    if not is_done:
        limits().count(*LOGIN_TRIES, of=asker)
        g.event = "passphrase_refused"
        wrong = _("This code is not good (any more). Start the server anew for another one.")
        return _passphrase_page({"code": wrong})
    g.event = "passphrase_set"
    return _come_in("/")


@blueprint.get("/access")
def page() -> str:
    """Who may come in, and which browsers are in."""
    here, store = session(), state().store
    lines = tuple(
        SessionLine(one, _in_short(one.browser), here is not None and one.number == here.number)
        for one in sessions.going_on(store, now_utc())
    )
    shown = AccessPage(is_open=is_open(), sessions=lines)
    return render_template("office/access.html", page=shown)


@blueprint.post("/access/sessions/<int:number>/end")
def end_session(number: int) -> Response:
    """End one session."""
    sessions.end(state().store, number, now_utc())
    g.event = "session_ended"
    return redirect(url_for(".page"), 303)


@blueprint.post("/access/sessions/end-others")
def end_other_sessions() -> Response:
    """End every session but this one."""
    here = session()
    sessions.end_others(state().store, here.number if here else 0, now_utc())
    g.event = "sessions_ended"
    return redirect(url_for(".page"), 303)


def _in_short(user_agent: str) -> str:
    """Browser and system of a session, so that a person knows it again."""
    found = (
        next((name for name in names if name in user_agent), "") for names in (_BROWSERS, _SYSTEMS)
    )
    return " · ".join(name for name in found if name)


def _asker() -> str:
    return request.remote_addr or ""


def _come_in(then: str) -> Response:
    token = sessions.begin(state().store, request.headers.get("User-Agent", ""), now_utc())
    response = redirect(then, 303)
    response.set_cookie(
        cookie_name(),
        token,
        max_age=_COOKIE_LIFE_S,
        secure=request.is_secure,
        httponly=True,
        samesite="Strict",
        path="/",
    )
    return response


def _login_page(error: str) -> Response:
    shown = DoorPage(
        is_set=passphrase.is_set(state().store),
        then=same_site_path(request.values.get("then", "")),
        errors={"passphrase": error} if error else {},
    )
    return make_response(render_template("office/login.html", page=shown), 403 if error else 200)


def _passphrase_page(errors: dict[str, str]) -> Response:
    shown = DoorPage(is_set=passphrase.is_set(state().store), then="/", errors=errors)
    body = render_template("office/passphrase.html", page=shown)
    return make_response(body, 422 if errors else 200)


def _short_or_long(error: OutOfRange) -> str:
    return _(
        "%(given)s. Allowed are %(low)s to %(high)s characters; %(advised)s or more are better.",
        given=str(error.value),
        low=passphrase.SHORTEST,
        high=passphrase.LONGEST,
        advised=passphrase.ADVISED,
    )
