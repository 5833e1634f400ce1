"""The mix clock: when wall, base and stick are scraped half way through, and when it is over."""

from dataclasses import dataclass
from datetime import timedelta

from ..cards import SystemCard
from ..times import format_utc, parse_utc, seconds_between
from .progress import CupState
from .state import Cup

#: stands in the row with the reason under which a cup is called mixed before its time.
MIXED_EARLY = "mixed_early"
SCRAPE = "scrape_now"
LONGER = "mix_longer"
# Share of the mixing time after which the cup is scraped; common practice, no source.
_SCRAPE_SHARE = 0.5


@dataclass(frozen=True, slots=True)
class MixTimes:
    """When to scrape and when mixing is over, RFC 3339; empty where the card names no time."""

    scrape_at: str = ""
    ends_at: str = ""


def mix_times(cup: Cup, system: SystemCard) -> MixTimes:
    """Times of the mix clock of a cup.

    :param system: its card; the mixing time is the data sheet's.
    :return: empty where mixing has not begun, or the card names no time.
    :source: scraping half way is common practice, no source; tests/cases/mixing.json.
    """
    if not cup.mix_started_at or system.mix_min is None:
        return MixTimes()
    began = parse_utc(cup.mix_started_at)
    half, whole = (
        format_utc(began + timedelta(minutes=system.mix_min * share))
        for share in (_SCRAPE_SHARE, 1.0)
    )
    return MixTimes(half, whole)


def mix_cautions(cup: Cup, system: SystemCard, now_utc: str) -> tuple[str, ...]:
    """What the mix clock says: scrape now, mix longer, both, or nothing.

    :return: ``scrape_now`` from half way until it was scraped, ``mix_longer`` until the time is
        over; with no time on the card ``scrape_now`` until it was scraped.
    """
    if cup.state is not CupState.MIXING:
        return ()
    times = mix_times(cup, system)
    half_way = not times.scrape_at or seconds_between(times.scrape_at, now_utc) >= 0
    cautions = {
        SCRAPE: half_way and not cup.scraped_at,
        LONGER: bool(times.ends_at) and seconds_between(times.ends_at, now_utc) < 0,
    }
    return tuple(name for name, raised in cautions.items() if raised)
