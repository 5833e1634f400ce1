"""How large a cup may become, and how long it may be corrected."""

from ..cards import SystemCard
from ..clocks import largest_mix_g, pot_life_min
from ..constants import CORRECTION_AFTER_MIXING_S, CORRECTION_POT_LIFE_SHARE, MAX_CORRECTIONS
from ..times import seconds_between
from .progress import CupState
from .readings import unfinished_part
from .state import Cup


def largest_g(
    system: SystemCard, cup_volume_ml: float | None, temperature_c: float | None = None
) -> float:
    """Largest mix this cup may hold, grams: the system's largest in this shop or the cup's volume.

    Without a density on the card a gram is taken to fill a millilitre, which is on the safe side
    for every epoxy (1.0 g/cm3 and more; common practice, no source).
    """
    largest_mix = largest_mix_g(system, temperature_c)
    if cup_volume_ml is None:
        return largest_mix
    return min(largest_mix, cup_volume_ml * (system.mixed_density_g_cm3 or 1.0))


def correcting_ended(
    cup: Cup, system: SystemCard, now_utc: str, temperature_c: float | None
) -> str:
    """Why no correction may be offered any more; empty while one may."""
    # A correction that is still going on was offered before, and is not one more.
    made = cup.corrections - (1 if unfinished_part(cup.pours) else 0)
    if cup.felt_warm:
        return "felt_warm"
    if made >= MAX_CORRECTIONS:
        return "two_corrections"
    if cup.state in (CupState.MIXED, CupState.IN_USE):
        return "mixed"
    if (
        cup.mix_started_at
        and seconds_between(cup.mix_started_at, now_utc) > CORRECTION_AFTER_MIXING_S
    ):
        return "mixing_too_long"
    pot_min = pot_life_min(system, temperature_c)
    if pot_min is not None and cup.first_contact_at:
        limit_s = pot_min * 60 * CORRECTION_POT_LIFE_SHARE
        if seconds_between(cup.first_contact_at, now_utc) > limit_s:
            return "pot_life_third"
    return ""
