"""The forms of cloths, release agents, additives and empty cups."""

from ..cards import Additive, Cloth, CupType, ReleaseAgent
from .typed import LONGEST_CODE, Reader, Span, plain, write_sources

#: What no sheet goes beyond; common practice, no source.
CLOTH_SPANS = {
    "areal_weight_g_m2": Span(10, 3000),
    "fibre_density": Span(0.5, 8),
    "usable_width_m": Span(0.02, 5),
}
CLOTH_SOURCES = ("areal_weight_g_m2", "fibre_density_g_cm3", "usable_width_m")
AGENT_SPANS = {
    "coats": Span(1, 20),
    "between_min": Span(0, 2880),
    "last_min": Span(0, 2880),
    "too_old_h": Span(0.1, 1000),
}
AGENT_SOURCES = ("coats", "between_min", "last_min", "too_old_min")
ADDITIVE_SPANS = {"cap_pct": Span(0.01, 100)}
ADDITIVE_SOURCES = ("cap_pct",)
CUP_SPANS = {"mass_g": Span(0.1, 5000), "volume_ml": Span(1, 50_000)}

CLOTH_FIELDS = ("code", "fibre", *CLOTH_SPANS, *(f"source_{name}" for name in CLOTH_SOURCES))
AGENT_FIELDS = ("code", *AGENT_SPANS, *(f"source_{name}" for name in AGENT_SOURCES))
ADDITIVE_FIELDS = ("code", "description", "cap_pct", "source_cap_pct")
CUP_FIELDS = ("code", "mass_g", "volume_ml", "material")
_MINUTES_PER_HOUR = 60
# Hours are typed with at most six decimals; a thousandth of a minute undoes their rounding.
_MINUTE_DECIMALS = 3


def read_cloth(reader: Reader, before: Cloth | None) -> Cloth | None:
    """A cloth as typed; None where something is wrong with it."""
    code = before.code if before else reader.code()
    fibre = reader.text("fibre", needed=True, most=LONGEST_CODE)
    weight_g_m2 = reader.figure("areal_weight_g_m2", needed=True)
    density_g_cm3 = reader.figure("fibre_density", needed=True)
    width_m = reader.figure("usable_width_m", needed=True)
    sources = reader.sources(CLOTH_SOURCES, before.sources if before else {})
    if reader.found or weight_g_m2 is None or density_g_cm3 is None or width_m is None:
        return None
    revision = before.revision if before else 0
    return Cloth(code, revision, fibre, weight_g_m2, density_g_cm3, width_m, sources)


def write_cloth(card: Cloth) -> dict[str, str]:
    """A cloth as the text of its form."""
    return {
        "code": card.code,
        "fibre": card.fibre,
        "areal_weight_g_m2": plain(card.areal_weight_g_m2),
        "fibre_density": plain(card.fibre_density_g_cm3),
        "usable_width_m": plain(card.usable_width_m),
        **write_sources(CLOTH_SOURCES, card.sources),
    }


def read_release_agent(reader: Reader, before: ReleaseAgent | None) -> ReleaseAgent | None:
    """A release agent as typed; None where something is wrong with it."""
    code = before.code if before else reader.code()
    coats = reader.whole("coats")
    too_old_h = reader.figure("too_old_h")
    between_min, last_min = reader.figure("between_min"), reader.figure("last_min")
    too_old_min = (
        None if too_old_h is None else round(too_old_h * _MINUTES_PER_HOUR, _MINUTE_DECIMALS)
    )
    if too_old_min is not None and last_min is not None and too_old_min <= last_min:
        reader.refuse("too_old_h", "not_after", plain(last_min / _MINUTES_PER_HOUR))
    sources = reader.sources(AGENT_SOURCES, before.sources if before else {})
    if reader.found or coats is None:
        return None
    revision = before.revision if before else 0
    return ReleaseAgent(code, revision, coats, between_min, last_min, too_old_min, sources)


def write_release_agent(card: ReleaseAgent) -> dict[str, str]:
    """A release agent as the text of its form."""
    old_min = card.too_old_min
    return {
        "code": card.code,
        "coats": str(card.coats),
        "between_min": plain(card.between_min),
        "last_min": plain(card.last_min),
        "too_old_h": "" if old_min is None else plain(old_min / _MINUTES_PER_HOUR),
        **write_sources(AGENT_SOURCES, card.sources),
    }


def read_additive(reader: Reader, before: Additive | None) -> Additive | None:
    """A paste or filler as typed; None where something is wrong with it."""
    code = before.code if before else reader.code()
    # Rows of the log tell additives from parts A and B and from the empty cup by this code.
    if code.lower() in ("a", "b", "cup"):
        reader.refuse("code", "reserved")
    description = reader.text("description", needed=True)
    cap_pct = reader.figure("cap_pct", needed=True)
    sources = reader.sources(ADDITIVE_SOURCES, before.sources if before else {})
    if reader.found or cap_pct is None:
        return None
    return Additive(code, before.revision if before else 0, description, cap_pct, sources)


def write_additive(card: Additive) -> dict[str, str]:
    """A paste or filler as the text of its form."""
    return {
        "code": card.code,
        "description": card.description,
        "cap_pct": plain(card.cap_pct),
        **write_sources(ADDITIVE_SOURCES, card.sources),
    }


def read_cup_type(reader: Reader, before: CupType | None) -> CupType | None:
    """An empty cup as typed; None where something is wrong with it."""
    code = before.code if before else reader.code()
    mass_g = reader.figure("mass_g", needed=True)
    volume_ml = reader.figure("volume_ml", needed=True)
    material = reader.text("material", needed=True, most=LONGEST_CODE)
    if reader.found or mass_g is None or volume_ml is None:
        return None
    return CupType(code, before.revision if before else 0, mass_g, volume_ml, material)


def write_cup_type(card: CupType) -> dict[str, str]:
    """An empty cup as the text of its form."""
    return {
        "code": card.code,
        "mass_g": plain(card.mass_g),
        "volume_ml": plain(card.volume_ml),
        "material": card.material,
    }
