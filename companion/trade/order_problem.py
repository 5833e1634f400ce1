"""What is wrong with one field of an order of cups."""

from dataclasses import dataclass

from .numbers import Entry, is_wire_number


@dataclass(frozen=True, slots=True)
class OrderProblem:
    """What is wrong with one field: the figure or name given, and the limit it breaks."""

    field: str
    problem: str
    value: str
    limit: str = ""
    #: the system, cup type, scale or paste the limit belongs to.
    owner: str = ""
    #: masses of paste and part A the problem is about, grams, text; empty where none are.
    paste: str = ""
    part_a: str = ""


def figure_problems(field: str, entry: Entry, typed: str) -> list[OrderProblem]:
    """Problems of any amount: not a figure, zero, or more digits than the log takes."""
    if entry.problem:
        return [OrderProblem(field, entry.problem, typed.strip())]
    if not is_wire_number(entry.value):
        return [OrderProblem(field, "long", typed.strip())]
    return [] if entry.number > 0 else [OrderProblem(field, "zero", typed.strip())]
