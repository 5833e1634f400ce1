"""What stands on a label, as finished text.

A cup label says nothing a pour could make wrong: no planned hardener and no planned stop. The
hardener follows the A really poured, so the label carries the ratio and room to write.
"""

from collections.abc import Callable
from dataclasses import dataclass

from ..errors import OutOfRange
from ..trade.cards import Container, SystemCard
from ..trade.order import planned_targets
from ..trade.paste_order import planned_paste_g, written_g
from ..trade.ratio import written_ratio
from .qr import Kind


@dataclass(frozen=True, slots=True)
class CupLabel:
    """Label of a planned cup."""

    code: str
    hardener: str
    target: str
    ratio: str
    part: str
    step: str
    #: words of the lines to be written on.
    blanks: tuple[str, ...]
    #: paste that goes into part A before the hardener; empty if none.
    paste: str = ""

    @property
    def kind(self) -> Kind:
        """What the code stands on."""
        return Kind.CUP


@dataclass(frozen=True, slots=True)
class BlankLabel:
    """A code and nothing else, to be bound by scanning; without a code, a sample of one."""

    code: str

    @property
    def kind(self) -> Kind:
        """What the code stands on."""
        return Kind.CUP


@dataclass(frozen=True, slots=True)
class ContainerLabel:
    """Label of an opened can; ``opened`` ends in a line to write on where no day is known."""

    code: str
    material: str
    lot: str
    expires: str
    opened: str
    opened_known: bool

    @property
    def kind(self) -> Kind:
        """What the code stands on."""
        return Kind.CONTAINER


@dataclass(frozen=True, slots=True)
class PartLabel:
    """Label of a part: what it is, its serial and its job."""

    code: str
    serial: str
    part: str
    job: str
    #: words of the lines to be written on.
    blanks: tuple[str, ...]

    @property
    def kind(self) -> Kind:
        """What the code stands on."""
        return Kind.PART


Label = CupLabel | BlankLabel | ContainerLabel | PartLabel


def _as_it_is(text: str) -> str:
    return text


@dataclass(frozen=True, slots=True)
class Words:
    """Texts of a label in the language of the shop; ``figure`` and ``day`` write values in it."""

    target: str = "A %(mass)s g"
    paste: str = "+ %(mass)s g paste %(code)s"
    ratio: str = "B = %(ratio)s × A poured"
    cup: str = "cup"
    part_a: str = "A"
    part_b: str = "B"
    stop: str = "stop"
    initials: str = "initials"
    use_by: str = "use by"
    lot: str = "Lot %(lot)s"
    expires: str = "Expires %(day)s"
    opened: str = "Opened"
    job: str = "Job %(job)s"
    made_on: str = "made on"
    figure: Callable[[str], str] = _as_it_is
    day: Callable[[str], str] = _as_it_is


def cup_label(
    code: str,
    system: SystemCard | None,
    total: str,
    job: tuple[str, str],
    words: Words,
    paste: tuple[str, str] = ("", ""),
) -> CupLabel:
    """Label of a planned cup.

    :param system: its system; without one the label has code, job and lines only.
    :param total: planned total, grams, text.
    :param job: part and step, either may be empty.
    :param paste: code of a paste and its share of part A, %, text; both empty if none.
    """
    target = ratio = added = ""
    if system:
        ratio = words.ratio % {"ratio": words.figure(written_ratio(system.ratio))}
        target, added = _target(total, system, words), _paste(total, system, paste, words)
    return CupLabel(
        code=code,
        hardener=system.hardener_word if system else "",
        target=target,
        ratio=ratio,
        part=job[0],
        step=job[1],
        blanks=(
            words.cup,
            words.part_a,
            words.part_b,
            words.stop,
            words.initials,
            words.use_by,
        ),
        paste=added,
    )


def _target(total: str, system: SystemCard, words: Words) -> str:
    try:
        part_a_g = planned_targets(total, system).part_a_g
    except OutOfRange:
        return ""
    return words.target % {"mass": words.figure(written_g(part_a_g))}


def _paste(total: str, system: SystemCard, paste: tuple[str, str], words: Words) -> str:
    code, share_pct = paste
    try:
        paste_g = planned_paste_g(planned_targets(total, system), share_pct)
    except OutOfRange:
        return ""
    if not code or paste_g is None:
        return ""
    return words.paste % {"mass": words.figure(written_g(paste_g)), "code": code}


def container_label(can: Container, expires_on: str, words: Words) -> ContainerLabel:
    """Label of a can; days are ISO 8601, empty where not known."""
    opened = [words.opened, *([words.day(can.opened_on)] if can.opened_on else [])]
    return ContainerLabel(
        code=can.code,
        material=can.material,
        lot=words.lot % {"lot": can.lot} if can.lot else "",
        expires=words.expires % {"day": words.day(expires_on)} if expires_on else "",
        opened=" ".join(opened),
        opened_known=bool(can.opened_on),
    )


def part_label(code: str, serial: str, job: str, part: str, words: Words) -> PartLabel:
    """Label of a part.

    :param job: the job with its revision.
    :param part: what the job makes; empty where its card is not here.
    """
    return PartLabel(
        code=code,
        serial=serial,
        part=part,
        job=words.job % {"job": job},
        blanks=(words.made_on, words.initials),
    )
