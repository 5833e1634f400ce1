"""Cards in words: kinds, and the fields of every form but that of a system."""

from collections.abc import Callable, Mapping

from . import system_words
from .card_context import Section, Spec
from .phrases import _


def kind_words(kind: str) -> str:
    """One card of a kind."""
    return {
        "system": _("System"),
        "cloth": _("Cloth"),
        "release_agent": _("Release agent"),
        "additive": _("Additive"),
        "cup_type": _("Cup type"),
        "lot": _("Lot"),
        "container": _("Container"),
        "scale": _("Scale"),
    }[kind]


def new_words(kind: str) -> str:
    """Entering a new one."""
    return {
        "system": _("New system"),
        "cloth": _("New cloth"),
        "release_agent": _("New release agent"),
        "additive": _("New additive"),
        "cup_type": _("New cup type"),
        "lot": _("New lot"),
        "container": _("New container"),
        "scale": _("New scale"),
    }[kind]


def sections(kind: str) -> tuple[Section, ...]:
    """Fields of a form; a name that stays is among them, for a new card asks for it."""
    return _SECTIONS[kind]()


def _code(label: str, help: str = "") -> Spec:
    return Spec("code", label, help or _("It stands in the log and stays."), "text")


def _cloth() -> tuple[Section, ...]:
    return (
        Section(
            "",
            (
                _code(_("Name of the cloth")),
                Spec("fibre", _("Fibre"), kind="text"),
                Spec("areal_weight_g_m2", _("Areal weight, g/m²"), source="areal_weight_g_m2"),
                Spec(
                    "fibre_density", _("Density of the fibre, g/cm³"), source="fibre_density_g_cm3"
                ),
                Spec(
                    "usable_width_m",
                    _("Usable width of the roll, m"),
                    _("Without its selvedges."),
                    source="usable_width_m",
                ),
            ),
        ),
    )


def _release_agent() -> tuple[Section, ...]:
    return (
        Section(
            "",
            (
                _code(_("Name of the release agent")),
                Spec("coats", _("Coats"), kind="numeric", source="coats"),
                Spec("between_min", _("From one coat to the next, min"), source="between_min"),
                Spec("last_min", _("From the last coat to the lay-up, min"), source="last_min"),
                Spec(
                    "too_old_h",
                    _("Too old after, h"),
                    _("From then on the film is renewed before the lay-up."),
                    source="too_old_min",
                ),
            ),
            _("A time that is not on the sheet stays empty and starts no clock."),
        ),
    )


def _additive() -> tuple[Section, ...]:
    return (
        Section(
            "",
            (
                _code(_("Name of the additive")),
                Spec("description", _("What it is"), kind="text"),
                Spec(
                    "cap_pct",
                    _("Most that is allowed, per cent of part A"),
                    _("In per cent of the mass of part A alone, never of the mix."),
                    source="cap_pct",
                ),
            ),
        ),
    )


def _cup_type() -> tuple[Section, ...]:
    return (
        Section(
            "",
            (
                _code(_("Name of the cup type")),
                Spec("mass_g", _("Mass of an empty cup, g")),
                Spec("volume_ml", _("Volume, ml"), _("To the brim, as it says on the cup.")),
                Spec(
                    "material",
                    _("Made of"),
                    _("No wax, foam or glass: wax spoils the mix, foam melts, glass breaks."),
                    "text",
                ),
            ),
        ),
    )


def _lot() -> tuple[Section, ...]:
    return (
        Section(
            "",
            (
                _code(
                    _("Lot"), _("Letter by letter as on the can. It stands in the log and stays.")
                ),
                Spec(
                    "material",
                    _("Material"),
                    _("One of the list, or a name of its own."),
                    "suggested",
                ),
                Spec(
                    "expires_on", _("Expires on"), _("Its last day; empty if none is given."), "day"
                ),
                Spec(
                    "quarantined",
                    _("In quarantine"),
                    _("The bench stops at a can of this lot."),
                    "tick",
                ),
                Spec("quarantine_reason", _("Why it is in quarantine"), kind="text"),
            ),
        ),
    )


def _container() -> tuple[Section, ...]:
    return (
        Section(
            "",
            (
                Spec("lot", _("Lot"), kind="choice"),
                Spec(
                    "reason",
                    _("Why its lot was changed"),
                    _("Needed once cups have drawn from it. It stays with the revision."),
                    "text",
                ),
                Spec(
                    "material",
                    _("Material"),
                    _("Empty where a lot is chosen: it is the material of the lot."),
                    "suggested",
                ),
                Spec("opened_on", _("Opened on"), kind="day"),
                Spec(
                    "content_g",
                    _("Content when it was opened, g"),
                    _("Weighed, or as printed on the can. Without it no balance can be drawn."),
                ),
                Spec(
                    "empty_g",
                    _("Mass of the empty can with its lid, g"),
                    _("Without it a weighed can does not tell its rest."),
                ),
            ),
            _("The code is given when it is saved, and stands on the label."),
        ),
    )


def _scale() -> tuple[Section, ...]:
    return (
        Section(
            "",
            (
                _code(_("Name of the scale")),
                Spec(
                    "readability",
                    _("Step of the display, g"),
                    _("As the display counts, with all its decimals: 0.1 or 1."),
                ),
                Spec("capacity_g", _("Largest load, g")),
                Spec(
                    "auto_off_s",
                    _("Switches itself off after, s"),
                    _("With an unchanged display. Empty if it never does."),
                ),
            ),
        ),
        Section(
            _("Repeatability"),
            (
                Spec(
                    "repeatability_g",
                    _("Standard deviation of repeated readings, g"),
                    _("Empty if it was never found: then the display step alone counts."),
                ),
                *(
                    Spec(f"reading_{number}_g", _("Reading %(number)s, g", number=number))
                    for number in range(1, 6)
                ),
            ),
            _(
                "Put one load of about the mass of a cup on the scale five times, and take it off "
                "each time. Five readings typed here replace the figure above."
            ),
        ),
    )


_SECTIONS: Mapping[str, Callable[[], tuple[Section, ...]]] = {
    "system": system_words.sections,
    "cloth": _cloth,
    "release_agent": _release_agent,
    "additive": _additive,
    "cup_type": _cup_type,
    "lot": _lot,
    "container": _container,
    "scale": _scale,
}
