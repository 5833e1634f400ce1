"""Labels to print in the tests."""

import random

from companion.paper.labels import (
    BlankLabel,
    CupLabel,
    PartLabel,
    Words,
    container_label,
    cup_label,
    part_label,
)
from companion.trade.cards import Container, SystemCard
from companion.trade.codes import ALPHABET, mint

SYSTEM = SystemCard("RES-L+HRD-S", 3, "RES-L", "HRD-S", "SLOW", 30, 2, 150)
CAN = Container("HRD2SM", 1, "HRD-S", "HL-2291", "2026-03-01")


def codes(count: int) -> list[str]:
    """So many codes, the same ones each time."""
    draw = random.Random(8035)
    found: list[str] = []
    while len(found) < count:
        code = mint([draw.randrange(len(ALPHABET)) for _ in range(5)])
        found += [code] if code else []
    return found


def cups(count: int, part: str = "Hatch cover 14", step: str = "ply 1") -> list[CupLabel]:
    """Labels of planned cups: 146.4 g at 100:30, so A 112.6 g and B 33.8 g."""
    return [cup_label(code, SYSTEM, "146.4", (part, step), Words()) for code in codes(count)]


def blanks(count: int) -> list[BlankLabel]:
    """Blank labels."""
    return [BlankLabel(code) for code in codes(count)]


def can(opened_on: str = "2026-03-01"):
    """Label of a can."""
    card = Container("HRD2SM", 1, "HRD-S", "HL-2291", opened_on)
    return container_label(card, "2027-01-31", Words())


def parts(count: int, serial: str = "HC-014", part: str = "Hatch cover 14") -> list[PartLabel]:
    """Labels of parts."""
    return [part_label(code, serial, "14@2", part, Words()) for code in codes(count)]
