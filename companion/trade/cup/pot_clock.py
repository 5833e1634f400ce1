"""The pot clock of a cup: how much of its time is gone."""

from datetime import timedelta

from ..cards import SystemCard
from ..clocks import pot_life_min
from ..constants import POT_LIFE_WARN_SHARE
from ..times import format_utc, parse_utc, seconds_between
from .progress import CupState
from .state import Cup

AMBER = "pot_life_amber"
#: stands in the row with the reason under which a cup goes on past its pot life, too.
OVER = "pot_life_over"
_RUNS = frozenset({CupState.JUDGED, CupState.MIXING, CupState.MIXED, CupState.IN_USE})


def pot_life_ends_at(cup: Cup, system: SystemCard, temperature_c: float | None) -> str:
    """When the pot life of a cup is over, RFC 3339.

    :param temperature_c: warmest that counts for the cup, degrees Celsius, None if not known.
    :return: empty where no hardener is in it, or the card names no pot life.
    :source: ``pot_life_min``.
    """
    pot_min = pot_life_min(system, temperature_c)
    if pot_min is None or not cup.first_contact_at:
        return ""
    return format_utc(parse_utc(cup.first_contact_at) + timedelta(minutes=pot_min))


def pot_cautions(
    cup: Cup, system: SystemCard, now_utc: str, temperature_c: float | None
) -> tuple[str, ...]:
    """What the pot clock says of a mix that is whole: nothing, nearly over, or over.

    :return: at most one of ``pot_life_amber`` (from 75 % of the pot life) and ``pot_life_over``.
    :source: common practice, no source; tests/cases/cup.json.
    """
    pot_min = pot_life_min(system, temperature_c)
    if pot_min is None or not cup.first_contact_at or cup.state not in _RUNS:
        return ()
    gone_s, whole_s = seconds_between(cup.first_contact_at, now_utc), pot_min * 60
    if gone_s >= whole_s:
        return (OVER,)
    return (AMBER,) if gone_s >= whole_s * POT_LIFE_WARN_SHARE else ()
