"""Fields of a system in words: what each is, what is allowed, what it is good for."""

from ...trade.card_forms.system_times import MOST_POINTS
from .card_context import Section, Spec
from .phrases import _


def sections() -> tuple[Section, ...]:
    """The form of a system."""
    return (_names(), _ratio(), _limits(), _pot_life(), _times(), _chemistry())


def _names() -> Section:
    return Section(
        "",
        (
            Spec("resin", _("Resin (part A)"), kind="suggested"),
            Spec("hardener", _("Hardener (part B)"), kind="suggested"),
            Spec(
                "hardener_word",
                _("Word for this hardener"),
                _("Said and printed large, so that nobody takes another can: SLOW, FAST."),
                "text",
            ),
            Spec(
                "code",
                _("Name of the system"),
                _(
                    "Left empty, it is the two materials with a plus between them. It stands in "
                    "the log and stays."
                ),
                "text",
            ),
        ),
    )


def _ratio() -> Section:
    return Section(
        _("Mix ratio"),
        (
            Spec(
                "part_b_pbw",
                _("Parts B per 100 parts A by mass"),
                _("Leave it empty where the sheet gives volumes only."),
                source="part_b_pbw",
                source_of=_("mix ratio"),
            ),
            Spec("part_b_pbv", _("Parts B per 100 parts A by volume")),
            Spec("density_a", _("Density of part A, g/cm³")),
            Spec("density_b", _("Density of part B, g/cm³")),
            Spec("tolerance_pct", _("Tolerance of the ratio, ± %"), source="tolerance_pct"),
            Spec(
                "filler_pct",
                _("Filler already in part A, per cent of its mass"),
                _("Only what is mixed in before the hardener. Empty for clean resin."),
                source="filler_fraction_a",
            ),
        ),
        _(
            "A scale weighs masses. A ratio by volume is taken only with both densities; its "
            "figure on a scale would be wrong by a fifth and more."
        ),
    )


def _limits() -> Section:
    return Section(
        _("Limits"),
        (
            Spec(
                "largest_cup_g",
                _("Largest cup, g"),
                _("A and B together. A larger mix can heat itself, smoke or burn."),
                source="largest_cup_g",
            ),
            Spec("mix_min", _("Mixing time, min"), source="mix_min"),
            Spec(
                "mixed_density",
                _("Density of the mix, g/cm³"),
                _("Without it, one gram is taken to fill one millilitre."),
                source="mixed_density_g_cm3",
            ),
            Spec("minimum_c", _("Lowest working temperature, °C"), source="minimum_c"),
        ),
    )


def _pot_life() -> Section:
    return Section(
        _("Pot life"),
        (
            Spec("pot_1_min", _("Pot life, min")),
            Spec("pot_1_mass_g", _("Mass of mix it was measured with, g")),
            Spec(
                "pot_1_c",
                _("Temperature it was measured at, °C"),
                source="pot_life",
                source_of=_("pot life"),
            ),
            *(spec for number in range(2, MOST_POINTS + 1) for spec in _point(number)),
        ),
        _(
            "Further temperatures are for the same mass of mix. A larger or warmer cup sets "
            "sooner; what the sheet does not say stays empty and starts no clock."
        ),
    )


def _point(number: int) -> tuple[Spec, Spec]:
    return (
        Spec(f"pot_{number}_min", _("Temperature %(number)s: pot life, min", number=number)),
        Spec(f"pot_{number}_c", _("Temperature %(number)s, °C", number=number)),
    )


def _times() -> Section:
    return Section(
        _("Tack window and cure"),
        (
            Spec("tack_opens_h", _("Next layer bonds from, h")),
            Spec("tack_closes_h", _("Next layer bonds until, h")),
            Spec(
                "tack_c",
                _("Temperature of the tack window, °C"),
                source="tack",
                source_of=_("tack window"),
            ),
            Spec("demould_h", _("Demould after, h")),
            Spec("full_h", _("Fully cured after, h")),
            Spec("cure_c", _("Temperature of the cure, °C"), source="cure", source_of=_("cure")),
        ),
        _("Counted from the end of a coat, and from the last pour. Hours, as sheets print them."),
    )


def _chemistry() -> Section:
    return Section(
        _("Check by chemistry"),
        (
            Spec("eew", _("Epoxide equivalent weight of part A, g/eq"), source="eew_g_eq"),
            Spec("ahew", _("Amine hydrogen equivalent weight of part B, g/eq"), source="ahew_g_eq"),
        ),
        _(
            "With both, the ratio is compared with the computed one. The ratio of the data sheet "
            "always wins."
        ),
    )
