"""The page of labels: what was asked for, what can be chosen, and how it will look."""

from collections.abc import Mapping, Sequence

from flask import render_template
from werkzeug.datastructures import MultiDict

from ...paper.asked import BLANK, CUPS, KINDS, PARTS, Asked, Checked
from ...paper.labels import BlankLabel, Label
from ...paper.preview import preview, unprinted
from ...paper.sheet import A4_3X8, FIELDS, ROLL_62X29, Sheet, written
from ...records import catalogue
from ...records.store import Store
from ...trade.cards import Job
from ..state import state
from . import label_words
from .context import Choice
from .label_choices import Choosable, choosable
from .label_context import LabelsPage, NewPart, Preset
from .problem_words import plan_problem, sheet_problem

_PRESETS = {"a4": A4_3X8, "roll": ROLL_62X29}
_FIRST = "a4"


def read_asked(sent: MultiDict[str, str], *, fresh: bool = False) -> tuple[Asked, Choosable]:
    """What was sent; fields that were not sent start from the first preset."""
    what = sent.get("what", CUPS)
    what = what if what in KINDS else CUPS
    found = choosable(state().store, what, sent.get("plan", "") if what == CUPS else "")
    preset = _PRESETS.get(sent.get("preset", ""))
    start_from = written(preset or _PRESETS[_FIRST])
    measures = {
        name: start_from[name] if preset else sent.get(name, start_from[name]) for name in FIELDS
    }
    codes = found.unmade if fresh else tuple(dict.fromkeys(sent.getlist("codes")))
    return Asked(what, codes, sent.get("count", "24"), measures), found


def problems_in_words(found: Choosable, checked: Checked) -> dict[str, str]:
    """Field -> what is wrong with it, in the order of the form."""
    if not found.plan_is_open:
        return {"plan": plan_problem(found.plan)}
    return {one.field: sheet_problem(one) for one in checked.problems}


def page(
    asked: Asked,
    found: Choosable,
    checked: Checked,
    errors: Mapping[str, str],
    new_part: NewPart | None = None,
) -> str:
    """The page as HTML."""
    wanted: Sequence[Label] = [found.labels[code] for code in asked.codes if code in found.labels]
    if asked.what == BLANK:
        wanted = [BlankLabel("")] * checked.count
    shown = wanted if not checked.problems else []
    base = state().config.address
    context = LabelsPage(
        asked=asked,
        kinds=tuple(Choice(name, label_words.kind(name)) for name in KINDS),
        plan=found.plan,
        plans=found.plans,
        choices=found.choices(asked.codes),
        new_part=new_part or NewPart(),
        jobs=_jobs(state().store) if asked.what == PARTS else (),
        presets=tuple(Preset(name, _measures(sheet)) for name, sheet in _PRESETS.items()),
        errors=dict(errors),
        count=len(wanted),
        preview=preview(shown, checked.sheet, base) if shown else None,
        unprinted=" ".join(unprinted(shown, checked.sheet, base)),
    )
    return render_template("office/labels.html", page=context)


def _jobs(store: Store) -> tuple[Choice, ...]:
    jobs = sorted(catalogue.latest(store, Job), key=lambda job: job.name)
    return tuple(Choice(job.name, f"{job.name} · {job.part}") for job in jobs)


def _measures(sheet: Sheet) -> str:
    return label_words.preset(written(sheet), single=sheet.places == 1)
