"""Cups: what is planned, what was weighed, and the story of each."""

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from ...errors import NotKnown
from ...records import plans, trace
from ...trade.codes import forgive, is_label
from ..state import now_utc, state
from .context import CupsPage, StoryPage
from .lines import planned_line, weighed_line
from .shop import open_shop
from .stories import story_section

blueprint = Blueprint("cups", __name__)

#: Labels the list looks back at, at first and where more are asked for.
FEW, LATEST = 30, 200


@blueprint.get("/")
def listing() -> str:
    """Cups to weigh, and cups weighed."""
    store = state().store
    shop = open_shop(store)
    started = trace.started_codes(store)
    waiting = [plan for plan in plans.every(store, withdrawn=True) if plan.code not in started]
    withdrawn = tuple(planned_line(plan, shop) for plan in waiting if plan.withdrawn_at)
    just = request.args.get("withdrawn", "")
    is_long = bool(request.args.get("more"))
    weighed = trace.latest_stories(store, LATEST if is_long else FEW)
    page = CupsPage(
        planned=tuple(planned_line(plan, shop) for plan in waiting if not plan.withdrawn_at),
        withdrawn=withdrawn,
        weighed=tuple(weighed_line(story, shop) for story in weighed),
        more=not is_long and len(weighed) >= FEW,
        just_withdrawn=just if any(line.plan.code == just for line in withdrawn) else "",
    )
    return render_template("office/cups.html", page=page)


@blueprint.get("/cups/<code>")
def story(code: str) -> Response | str:
    """One label, and every cup that carried it."""
    typed = forgive(code)
    if typed.code and typed.code != code:
        return redirect(url_for(".story", code=typed.code))
    store = state().store
    told = trace.stories(store, code) if is_label(code) else []
    plan = next((plan for plan in plans.every(store, withdrawn=True) if plan.code == code), None)
    if not told and plan is None:
        raise NotKnown("cup", code)
    shop = open_shop(store)
    page = StoryPage(
        code=code,
        plan=planned_line(plan, shop) if plan else None,
        stories=tuple(story_section(one, shop) for one in told),
    )
    return render_template("office/cup.html", page=page)


@blueprint.post("/cups/<code>/withdraw")
def withdraw(code: str) -> Response:
    """Take a planned cup off the list."""
    plans.withdraw(state().store, code, now_utc())
    return redirect(url_for(".listing", withdrawn=code), 303)


@blueprint.post("/cups/<code>/restore")
def restore(code: str) -> Response:
    """Put a withdrawn cup back on the list."""
    plans.restore(state().store, code)
    return redirect(url_for(".listing", _anchor=f"cup-{code}"), 303)
