"""Office pages: made for reading and printing, on any computer, with no script at all."""

from typing import Any

from flask import Blueprint, g

from ..state import state
from . import (
    access,
    aside,
    can_weighing,
    card_editing,
    cards,
    cups,
    exchange,
    figures,
    job_cutting,
    job_editor,
    job_files,
    job_parts,
    job_plan,
    job_sheet,
    jobs,
    labels,
    language,
    materials,
    people,
    phones,
    planning,
    problem_words,
    scales,
    tracing,
    words,
)

blueprint = Blueprint("office", __name__)

_SHOP = (cups, planning, labels, tracing, exchange, aside, phones, access, language)
_CARDS = (materials, cards, card_editing, can_weighing, scales, people)
_JOBS = (jobs, job_editor, job_files, job_plan, job_parts, job_cutting, job_sheet)

for room in (*_SHOP, *_CARDS, *_JOBS):
    blueprint.register_blueprint(room.blueprint)

for template_filter in (
    figures.figure,
    figures.grams,
    figures.signed_percent,
    figures.day_and_time,
    figures.moment,
    words.verdict,
    words.component,
    problem_words.heading,
    problem_words.explanation,
    figures.day,
    materials.cell_text,
    materials.is_figure,
):
    blueprint.add_app_template_filter(template_filter)


@blueprint.app_context_processor
def every_page() -> dict[str, Any]:
    """What the frame around every page needs; no records, so that an error page has it too."""
    return {
        "demo": state().identity.demo,
        "return_to": language.return_to(),
        # The door is shown without the pages behind it.
        "is_in": g.get("is_in", False),
    }
