"""The paste of an order of cups: in per cent of part A, and never above the cap of its card.

The planned total stays part A and part B; the paste comes on top of it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from .cards import Additive
from .constants import STEP_GUARD
from .numbers import fixed, is_wire_number, parse_entry, to_step
from .order_problem import OrderProblem, figure_problems
from .ratio import Targets, additive_g

#: Step planned masses are written to, grams.
_STEP_G = 0.1


@dataclass(frozen=True, slots=True)
class CheckedPaste:
    """A paste ready to be planned, or its problems; ``pct`` is text, empty where there is none."""

    problems: tuple[OrderProblem, ...] = ()
    pct: str = ""

    def paste_g(self, part_a_g: float) -> float:
        """Mass of the paste for a mass of part A, grams, unrounded."""
        return part_a_g * float(self.pct) / 100 if self.pct else 0.0


def check_paste(
    code: str, typed_pct: str, additives: Mapping[str, Additive], part_a_g: float | None
) -> CheckedPaste:
    """Check the paste of an order.

    :param code: code of the paste as chosen; empty for none.
    :param typed_pct: its share of part A, %, as typed.
    :param additives: newest cards by code.
    :param part_a_g: planned part A, grams; None where it is not known.
    :return: the share as text with a point, or every problem.
    :source: definition; T13 in tests/trade/test_order.py.
    """
    if not code and not typed_pct.strip():
        return CheckedPaste()
    card = additives.get(code)
    if card is None:
        problem = "unknown" if code else "no_paste"
        return CheckedPaste((OrderProblem("additive", problem, code or typed_pct.strip()),))
    entry = parse_entry(typed_pct)
    wrong = figure_problems("additive_pct", entry, typed_pct)
    if not wrong and entry.number > card.cap_pct + STEP_GUARD:
        wrong = [_over_cap(entry.value, card, part_a_g)]
    return CheckedPaste(tuple(wrong)) if wrong else CheckedPaste((), entry.value)


def _over_cap(asked_pct: str, card: Additive, part_a_g: float | None) -> OrderProblem:
    """What was asked, what the card allows, and how much that is in this cup."""
    paste = part_a = ""
    if part_a_g is not None:
        paste = written_g(additive_g(part_a_g, card.cap_pct, card.cap_pct))
        part_a = written_g(part_a_g)
    return OrderProblem(
        "additive_pct", "over_cap", asked_pct, f"{card.cap_pct:g}", card.code, paste, part_a
    )


def planned_paste_g(planned: Targets, additive_pct: str) -> float | None:
    """Mass of the paste of a planned cup, grams, unrounded; None where none is planned.

    :param planned: masses of both parts.
    :param additive_pct: share of part A as it stands in the plan, %, text.
    """
    if not is_wire_number(additive_pct) or float(additive_pct) <= 0:
        return None
    return planned.part_a_g * float(additive_pct) / 100


def written_g(mass_g: float) -> str:
    """A planned mass as text, rounded to 0.1 g."""
    return fixed(to_step(mass_g, _STEP_G), 1)
