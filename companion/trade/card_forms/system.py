"""The form of a system: ratio by mass or by volume, limits, times, chemistry, and every source."""

from ..cards import SystemCard, VolumeRatio
from ..stoichiometry import mass_ratio_of_volumes
from .system_times import TIME_FIELDS, TIME_SPANS, SystemTimes, read_times, write_times
from .typed import LONGEST_CODE, Reader, Span, plain, write_sources

#: What no sheet goes beyond; common practice, no source.
SPANS = {
    "part_b_pbw": Span(0.1, 1000),
    "part_b_pbv": Span(0.1, 1000),
    "density_a": Span(0.5, 3),
    "density_b": Span(0.5, 3),
    "tolerance_pct": Span(0.1, 50),
    "filler_pct": Span(0, 95),
    "largest_cup_g": Span(1, 100_000),
    "mix_min": Span(0.1, 60),
    "mixed_density": Span(0.5, 3),
    "minimum_c": Span(0, 60),
    "eew": Span(50, 5000),
    "ahew": Span(10, 2000),
    **TIME_SPANS,
}
SOURCES = (
    *("part_b_pbw", "tolerance_pct", "filler_fraction_a", "largest_cup_g", "mix_min"),
    *("mixed_density_g_cm3", "pot_life", "tack", "cure", "minimum_c", "eew_g_eq", "ahew_g_eq"),
)
FIELDS = (
    *("code", "resin", "hardener", "hardener_word"),
    *("part_b_pbw", "part_b_pbv", "density_a", "density_b", "tolerance_pct", "filler_pct"),
    *("largest_cup_g", "mix_min", "mixed_density", "minimum_c", "eew", "ahew"),
    *TIME_FIELDS,
    *(f"source_{name}" for name in SOURCES),
)
LONGEST_WORD = 20
_PARTS_A = 100


def read_system(reader: Reader, before: SystemCard | None) -> SystemCard | None:
    """A system as typed; None where something is wrong with it.

    :param before: the revision it is changed from; None for a new system.
    :source: a ratio by volume needs both densities, ``mass_ratio_of_volumes``.
    """
    resin = reader.text("resin", needed=True, most=LONGEST_CODE)
    hardener = reader.text("hardener", needed=True, most=LONGEST_CODE)
    word = reader.text("hardener_word", needed=True, most=LONGEST_WORD)
    code = before.code if before else _code(reader, resin, hardener)
    by_volume = _by_volume(reader)
    part_b_pbw = _part_b_pbw(reader, by_volume)
    tolerance_pct = reader.figure("tolerance_pct", needed=True)
    largest_g = reader.figure("largest_cup_g", needed=True)
    filler_pct = reader.figure("filler_pct") or 0.0
    times = read_times(reader)
    sources = reader.sources(SOURCES, before.sources if before else {})
    if not reader.raw("source_part_b_pbw"):
        reader.refuse("source_part_b_pbw", "empty")
    figures = {name: reader.figure(name) for name in ("mix_min", "mixed_density", "minimum_c")}
    eew_g_eq, ahew_g_eq = reader.figure("eew"), reader.figure("ahew")
    if reader.found or part_b_pbw is None or tolerance_pct is None or largest_g is None:
        return None
    return SystemCard(
        code=code,
        revision=before.revision if before else 0,
        resin=resin,
        hardener=hardener,
        hardener_word=word,
        part_b_pbw=part_b_pbw,
        tolerance_pct=tolerance_pct,
        largest_cup_g=largest_g,
        filler_fraction_a=_fraction(filler_pct, before),
        pot_life=times.pot_life,
        mix_min=figures["mix_min"],
        mixed_density_g_cm3=figures["mixed_density"],
        sources=sources,
        more_pot_life=times.more_pot_life,
        tack=times.tack,
        cure=times.cure,
        minimum_c=figures["minimum_c"],
        by_volume=by_volume,
        eew_g_eq=eew_g_eq,
        ahew_g_eq=ahew_g_eq,
    )


def write_system(card: SystemCard) -> dict[str, str]:
    """A system as the text of its form; reading it again gives the same card."""
    by_volume = card.by_volume
    follows = by_volume is not None and card.part_b_pbw == pbw_of_volumes(by_volume)
    return {
        "code": card.code,
        "resin": card.resin,
        "hardener": card.hardener,
        "hardener_word": card.hardener_word,
        "part_b_pbw": "" if follows else plain(card.part_b_pbw),
        "part_b_pbv": plain(by_volume.part_b_pbv) if by_volume else "",
        "density_a": plain(by_volume.density_a_g_cm3) if by_volume else "",
        "density_b": plain(by_volume.density_b_g_cm3) if by_volume else "",
        "tolerance_pct": plain(card.tolerance_pct),
        "filler_pct": plain(card.filler_fraction_a * 100) if card.filler_fraction_a else "",
        "largest_cup_g": plain(card.largest_cup_g),
        "mix_min": plain(card.mix_min),
        "mixed_density": plain(card.mixed_density_g_cm3),
        "minimum_c": plain(card.minimum_c),
        "eew": plain(card.eew_g_eq),
        "ahew": plain(card.ahew_g_eq),
        **write_times(SystemTimes(card.pot_life, card.more_pot_life, card.tack, card.cure)),
        **write_sources(SOURCES, card.sources),
    }


def pbw_of_volumes(by_volume: VolumeRatio) -> float:
    """Parts B per 100 parts A by mass that follow from a ratio by volume, unrounded."""
    return _PARTS_A * mass_ratio_of_volumes(
        by_volume.part_b_pbv / _PARTS_A, by_volume.density_a_g_cm3, by_volume.density_b_g_cm3
    )


def _code(reader: Reader, resin: str, hardener: str) -> str:
    """A system that was given no name is called by its two materials."""
    if reader.raw("code"):
        return reader.code()
    code = f"{resin}+{hardener}".replace("@", "-")
    if len(code) > LONGEST_CODE:
        reader.refuse("code", "too_long", high=str(LONGEST_CODE))
    return code


def _by_volume(reader: Reader) -> VolumeRatio | None:
    part_b_pbv = reader.figure("part_b_pbv")
    densities = [reader.figure(name) for name in ("density_a", "density_b")]
    if not reader.raw("part_b_pbv"):
        for name in ("density_a", "density_b"):
            if reader.raw(name):
                reader.refuse("part_b_pbv", "belongs_together")
        return None
    for name in ("density_a", "density_b"):
        if not reader.raw(name):
            reader.refuse(name, "density_needed")
    density_a_g_cm3, density_b_g_cm3 = densities
    if part_b_pbv is None or density_a_g_cm3 is None or density_b_g_cm3 is None:
        return None
    return VolumeRatio(part_b_pbv, density_a_g_cm3, density_b_g_cm3)


def _part_b_pbw(reader: Reader, by_volume: VolumeRatio | None) -> float | None:
    """The ratio by mass: as typed, else as it follows from the volumes."""
    if reader.raw("part_b_pbw"):
        return reader.figure("part_b_pbw")
    if by_volume:
        return pbw_of_volumes(by_volume)
    if not reader.raw("part_b_pbv"):
        reader.refuse("part_b_pbw", "ratio_needed")
    return None


def _fraction(filler_pct: float, before: SystemCard | None) -> float:
    """Filler as a fraction; a share that was only shown in per cent keeps its figure."""
    if before and plain(before.filler_fraction_a * 100) == plain(filler_pct):
        return before.filler_fraction_a
    return filler_pct / 100
