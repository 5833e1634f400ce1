"""Office pages: made for reading and printing, on any computer, with no script at all."""

from typing import Any

from flask import Blueprint, g

from ..state import state
from . import (
    access,
    aside,
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
    phones,
    planning,
    problem_words,
    tracing,
    words,
)

blueprint = Blueprint("office", __name__)

for room in (
    *(cups, jobs, job_editor, job_files, job_plan, job_parts, job_cutting, job_sheet),
    *(planning, labels, tracing, exchange, aside, phones, access, language),
):
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
