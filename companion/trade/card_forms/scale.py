"""The form of a scale, with its repeatability as a figure or worked out of five readings."""

from ..cards import ScaleCard
from ..numbers import is_wire_number, parse_entry
from ..repeatability import FEWEST_READINGS, repeatability_g
from .typed import Reader, Span, plain

READINGS = tuple(f"reading_{number}_g" for number in range(1, FEWEST_READINGS + 1))
#: What no bench scale goes beyond; common practice, no source.
SCALE_SPANS = {
    "readability": Span(0.000_01, 100),
    "capacity_g": Span(1, 500_000),
    "auto_off_s": Span(1, 86_400),
    "repeatability_g": Span(0, 1000),
    **{name: Span(0, 500_000) for name in READINGS},
}
SCALE_FIELDS = ("code", *SCALE_SPANS)


def read_scale(reader: Reader, before: ScaleCard | None) -> ScaleCard | None:
    """A scale as typed; None where something is wrong with it.

    Five readings stand before a figure for the repeatability, which they replace.
    """
    code = before.code if before else reader.code()
    step_g = reader.figure("readability", needed=True)
    step = parse_entry(reader.raw("readability")).value
    if step_g is not None and not is_wire_number(step):
        reader.refuse("readability", "long")
    capacity_g = reader.figure("capacity_g", needed=True)
    if step_g is not None and capacity_g is not None and capacity_g <= step_g:
        reader.refuse("capacity_g", "not_after", plain(step_g))
    auto_off_s = reader.figure("auto_off_s")
    typed_g = reader.figure("repeatability_g")
    readings_g = reader.group(*READINGS)
    if reader.found or step_g is None or capacity_g is None:
        return None
    found_g = typed_g if readings_g is None else round(repeatability_g(readings_g), 6)
    revision = before.revision if before else 0
    return ScaleCard(code, revision, step, capacity_g, auto_off_s, found_g)


def write_scale(card: ScaleCard) -> dict[str, str]:
    """A scale as the text of its form; readings are not kept, only what they said."""
    return {
        "code": card.code,
        "readability": card.readability,
        "capacity_g": plain(card.capacity_g),
        "auto_off_s": plain(card.auto_off_s),
        "repeatability_g": plain(card.repeatability_g),
        **dict.fromkeys(READINGS, ""),
    }
