"""Four weeks of the demo workshop: lay-ups, and the small cups of every working day."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from ..trade.cards import Job, SystemCard
from .drafts import Draft, days_before, ending_at
from .lay_up import Shop, lay_up
from .weighing import CupOrder, leave, pour_out, weigh

#: Days on which small cups were weighed, counted back from today.
WORKDAYS = (27, 25, 24, 23, 20, 19, 18, 17, 16, 12, 11, 10, 9, 6, 5, 4, 3, 2)
_SLOW_WORK = ("test panel", "mould repair", "tool handle")
_FAST_WORK = ("fitting bond", "gap filling", "edge repair")
#: What was unusual about the first cup of a day.
_FATES = {
    24: ("corrected", ""),
    19: ("scrapped", "warm or thick"),
    17: ("corrected", ""),
    16: ("let pass", "drilling jig only, no load"),
    12: ("read again", ""),
    10: ("sampled", "hardness sample of lot HL-2291"),
    6: ("expired", "gel test of today was good; tool handle only"),
    4: ("corrected", ""),
}


@dataclass(frozen=True, slots=True)
class Records:
    """What the drafts are made from.

    :ivar systems: every revision, with how many days ago it came into force.
    """

    shop: Shop
    systems: Sequence[tuple[int, SystemCard]]
    jobs: Mapping[str, Job]
    now: datetime

    def shop_of(self, days_ago: int) -> Shop:
        """The shop with the cards of that day."""
        cards = {card.code: card for since, card in self.systems if since >= days_ago}
        return replace(self.shop, systems=cards)


def drafts_of(records: Records, typed_cups: Sequence[Mapping[str, Any]]) -> list[Draft]:
    """Everything that was weighed and laid up until now.

    :param typed_cups: cups whose figures were written by hand.
    """
    return [
        *_lay_ups(records),
        *(draft for days_ago in WORKDAYS for draft in _small_cups(records, days_ago)),
        *(draft for cup in typed_cups for draft in _typed(records, cup)),
    ]


def _lay_ups(records: Records) -> Iterator[Draft]:
    now, jobs = records.now, records.jobs
    yield from lay_up(records.shop_of(26), jobs["12"], days_before(now, 26, 6), "demould")
    yield from lay_up(
        records.shop_of(13), jobs["13"], days_before(now, 13, 6), "demould", person="H"
    )
    curing = lay_up(records.shop_of(0), jobs["16"], now, "trim", person="H")
    yield from ending_at(curing, now - timedelta(hours=20))
    coated = lay_up(records.shop_of(0), jobs["14"], now, "surface coat")
    yield from ending_at(coated, now - timedelta(hours=5))
    yield from _paddles(records)


def _paddles(records: Records) -> Iterator[Draft]:
    """One ply lies; the next one was not laid in time."""
    job, begun = records.jobs["15"], records.now - timedelta(days=3, hours=2)
    released = lay_up(records.shop_of(3), job, begun, "release 1", person="H")
    yield from ending_at(released, begun - timedelta(minutes=40))
    step = {"job": job.name, "step": "ply 1", "person": "H"}
    yield Draft(begun, {"kind": "step_started", **step})
    yield Draft(begun + timedelta(minutes=25), {"kind": "step_done", **step})


def _small_cups(records: Records, days_ago: int) -> Iterator[Draft]:
    """A slow one in the morning, a fast one after noon."""
    shop, place = records.shop_of(days_ago), WORKDAYS.index(days_ago)
    people = ("O", "H") if place % 2 else ("H", "O")
    for slot, (code, work, fate) in enumerate(
        (
            ("RES-L+HRD-S", _SLOW_WORK, _FATES.get(days_ago, ("", ""))),
            ("RES-L+HRD-F", _FAST_WORK, ("", "")),
        )
    ):
        total_g = float(shop.bench.random.randrange(35, 105, 5))
        step = work[place % len(work)]
        order = CupOrder(shop.systems[code], total_g, step, people[slot], "", *fate)
        yield from _used(shop, order, days_before(records.now, days_ago, 8.2 + 5 * slot))


def _used(shop: Shop, order: CupOrder, at: datetime) -> list[Draft]:
    """Weigh a cup and use it up, if it comes that far."""
    drafts = weigh(shop.bench, order, at)
    end = drafts[-1].at + timedelta(minutes=2)
    if drafts[-1].fields["kind"] != "mixed":
        return drafts
    left_g = max(1.5, shop.bench.random.gauss(5, 1))
    return leave(pour_out(drafts, end, [order.step]), end + timedelta(minutes=4), left_g)


def _typed(records: Records, cup: Mapping[str, Any]) -> Iterator[Draft]:
    """A cup as it stands in the workshop's file."""
    records.shop.bench.cups += 1
    moment = records.now - timedelta(days=cup["days_ago"], hours=2)
    for fields in cup["rows"]:
        moment += timedelta(seconds=75)
        yield Draft(moment, {**cup["shared"], **_figures(fields)}, records.shop.bench.cups)


def _figures(fields: Mapping[str, str]) -> Mapping[str, str]:
    """Figures are in grams; a reading was typed as it stands."""
    unit = {"unit": "g"} if "value" in fields else {}
    typed = {"typed": fields["value"]} if fields["kind"] == "weighed" else {}
    return {**fields, **unit, **typed}
