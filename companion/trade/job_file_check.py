"""A job out of a file checked as the form checks one, and the figures of its plies besides.

A form takes the figures of a cloth from its card; a file brings them along, ply by ply.
"""

from collections.abc import Iterator, Mapping

from .cards import Cloth, Job
from .constants import STEP_GUARD
from .form_reading import Bounds, FieldProblem
from .job_check import AREAL_WEIGHT, FIBRE, CheckedJob, JobChoices, check_job
from .job_form import ply_field, typed_of
from .job_order import MOST_LAYERS, JobOrder, PlyOrder


def check_file(order: JobOrder, choices: JobChoices, cards: Mapping[str, Cloth]) -> CheckedJob:
    """Check a job of a file; what is kept is the order that comes out.

    :param choices: the cloths of the file among them.
    :param cards: cloths of the shop by code.
    """
    problems = ply_problems(order, cards)
    if problems:
        return CheckedJob(problems)
    # A customer whose name was erased since is no fault of the file.
    typed = typed_of(Job(order.job, 0, order.part, order))
    return check_job(typed, choices, serial=order.serial, exact=True)


def ply_problems(order: JobOrder, cards: Mapping[str, Cloth]) -> tuple[FieldProblem, ...]:
    """Figures of plies out of bounds, or other than by the card or by another ply of the file."""
    return tuple(_figures(order)) or tuple(_contradictions(order, cards))


def _figures(order: JobOrder) -> Iterator[FieldProblem]:
    for number, ply in enumerate(order.plies[:MOST_LAYERS], 1):
        for problem, value, bounds in _figures_of(ply):
            if value is not None and not float(bounds.low) <= value <= float(bounds.high):
                name = ply_field(number, "cloth")
                yield FieldProblem(name, problem, f"{value:g}", bounds.low, bounds.high)


def _figures_of(ply: PlyOrder) -> tuple[tuple[str, float | None, Bounds], ...]:
    return (
        ("areal_weight", ply.areal_weight_g_m2, AREAL_WEIGHT),
        ("fibre_density", ply.fibre_density_g_cm3, FIBRE),
    )


def _contradictions(order: JobOrder, cards: Mapping[str, Cloth]) -> Iterator[FieldProblem]:
    weights = {code: card.areal_weight_g_m2 for code, card in cards.items()}
    densities = {code: card.fibre_density_g_cm3 for code, card in cards.items()}
    for number, ply in enumerate(order.plies[:MOST_LAYERS], 1):
        for problem, value, known in (
            ("other_weight", ply.areal_weight_g_m2, weights),
            ("other_density", ply.fibre_density_g_cm3, densities),
        ):
            if value is None:
                continue
            first = known.setdefault(ply.cloth, value)
            if abs(first - value) > STEP_GUARD:
                name = ply_field(number, "cloth")
                yield FieldProblem(name, problem, f"{value:.9g}", f"{first:.9g}", f"{first:.9g}")
