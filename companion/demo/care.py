"""What was looked after beside the cups: air and mould, the scales, the cans."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from random import Random

from ..trade.cards import Container
from ..trade.numbers import fixed
from .drafts import Draft, days_before
from .history import WORKDAYS

_CHECK_DAYS = (27, 20, 13, 6)
#: Scale, check mass, spread of what it shows (both grams) and its decimals.
_CHECKS = (("S1@1", 500, 0.07, 1), ("S2@1", 2000, 0.4, 0))
#: Cans put on the scale, and how many days ago.
_CANS_WEIGHED = {"RES8L8": 20, "HRD9LA": 9, "RES3LS": 5, "HRD2SM": 5}
#: Of what was drawn, what was spilt or stayed on spoons, 1.
_SPILT = 0.012


def air_and_mould(now: datetime) -> Iterator[Draft]:
    """Each morning of work, and twice today."""
    random = Random(15)
    mornings = [days_before(now, days_ago, 7.6) for days_ago in WORKDAYS]
    for at in (*mornings, now - timedelta(hours=5.8), now - timedelta(minutes=40)):
        air_c = random.uniform(19.4, 21.6)
        figures = (
            ("air", fixed(air_c, 1), "Cel"),
            ("humidity", fixed(random.uniform(44, 59), 0), "%"),
            ("mould", fixed(air_c - random.uniform(0.2, 0.8), 1), "Cel"),
        )
        for place, (component, value, unit) in enumerate(figures):
            yield _loose(
                at + timedelta(seconds=20 * place),
                "climate",
                component=component,
                value=value,
                unit=unit,
                typed=value,
            )


def scale_checks(now: datetime) -> Iterator[Draft]:
    """A known mass on each scale, once a week."""
    random = Random(16)
    for days_ago in _CHECK_DAYS:
        for place, (scale, mass_g, spread_g, decimals) in enumerate(_CHECKS):
            value = fixed(mass_g + random.gauss(0, spread_g), decimals)
            at = days_before(now, days_ago, 7.7 + place / 20)
            figures = {"value": value, "unit": "g", "typed": value, "target": str(mass_g)}
            yield _loose(at, "scale_checked", scale=scale, **figures)


def cans(now: datetime, known: Sequence[Container], drafts: Iterable[Draft]) -> Iterator[Draft]:
    """Cans that were opened since the log began, and those that were weighed.

    :param drafts: of every cup, to know what was drawn.
    """
    begun = days_before(now, WORKDAYS[0], 0).date().isoformat()
    drawn = list(_draws(drafts))
    for can in known:
        used = {"container": can.code, "lot": can.lot}
        if can.opened_on > begun:
            opened = datetime.fromisoformat(f"{can.opened_on}T07:00:00+00:00")
            yield _loose(opened, "container_opened", **used)
        if can.code in _CANS_WEIGHED:
            at = days_before(now, _CANS_WEIGHED[can.code], 17)
            gone_g = sum(net_g for when, code, net_g in drawn if code == can.code and when < at)
            left_g = (can.content_g or 0) - gone_g * (1 + _SPILT)
            value = fixed((can.empty_g or 0) + left_g, 0)
            figures = {"value": value, "unit": "g", "typed": value, "scale": "S2@1"}
            yield _loose(at, "container_weighed", **used, **figures)


def _draws(drafts: Iterable[Draft]) -> Iterator[tuple[datetime, str, float]]:
    """What each reading of a cup took out of which can: when, can, grams."""
    displays_g: dict[int, float] = {}
    can_of: dict[tuple[int, str], str] = {}
    for draft in sorted(drafts, key=lambda draft: draft.at):
        component = draft.fields.get("component", "")
        if draft.fields["kind"] == "lot_used":
            can_of[draft.cup, component] = draft.fields["container"]
        elif draft.fields["kind"] == "weighed":
            display_g = float(draft.fields["value"])
            net_g = display_g - displays_g.get(draft.cup, 0)
            displays_g[draft.cup] = display_g
            yield draft.at, can_of.get((draft.cup, component), ""), net_g


def _loose(at: datetime, kind: str, **fields: str) -> Draft:
    shared: Mapping[str, str] = {"kind": kind, "person": "O"}
    return Draft(at, {**shared, **fields})
