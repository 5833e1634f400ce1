"""A cup as somebody weighs it: what the screen asked for, and where the pour ended.

The figures are made up from a fixed seed and read as the scale's step lets them be read; targets
and verdicts come from the trade, as on the phone.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from random import Random

from ..trade.cards import Container, ScaleCard, SystemCard
from ..trade.numbers import fixed, to_step
from ..trade.ratio import hardener_target_g, ratio_error, targets, top_up
from ..trade.weighing import (
    Pour,
    Verdict,
    expanded_uncertainty,
    net_of,
    reading_variance_g2,
    verdict,
)
from .drafts import Draft

#: An empty cup of the usual type, grams.
_CUP_G = 8.4
#: Spread of the ratio error of a steady hand, 1; and the most of it, safely in.
_SPREAD, _MOST = 0.0065, 0.0165
#: Ratio errors of the cups that went wrong, by what became of them.
_WRONG = {"corrected": 0.07, "scrapped": 0.13, "let pass": 0.034}
#: What stands between two rows, seconds; common practice, no source.
_PAUSE_S = 35


@dataclass(frozen=True, slots=True)
class CupOrder:
    """What is weighed, for what, by whom.

    :ivar fate: what is unusual about it: ``corrected``, ``scrapped``, ``let pass``, ``sampled``,
        ``expired`` (hardener), ``read again``; empty for a cup like any other.
    :ivar note: reason or remark that belongs to that.
    """

    system: SystemCard
    total_g: float
    step: str
    person: str
    job: str = ""
    fate: str = ""
    note: str = ""


@dataclass(slots=True)
class Bench:
    """The scale, the cans on the shelf, and the chances of the day."""

    scale: ScaleCard
    #: of each material the one opened last stands first.
    cans: list[Container]
    random: Random = field(default_factory=lambda: Random(14))
    cups: int = 0

    def can(self, material: str, at: datetime, *, oldest: bool = False) -> Container:
        """The can in use that day: the one opened last, or the oldest there is."""
        opened = [
            can
            for can in self.cans
            if can.material == material and can.opened_on <= at.date().isoformat()
        ]
        return opened[-1] if oldest else opened[0]


@dataclass(slots=True)
class _Cup:
    """A cup on its scale."""

    bench: Bench
    order: CupOrder
    number: int
    at: datetime
    display_g: float = 0.0
    pours: list[Pour] = field(default_factory=list)
    drafts: list[Draft] = field(default_factory=list)

    def write(self, kind: str, back: int = 0, **fields: str) -> None:
        self.at += timedelta(seconds=_PAUSE_S)
        self.drafts.append(
            Draft(self.at, {**self._shared(), "kind": kind, **fields}, self.number, back)
        )

    def _shared(self) -> dict[str, str]:
        order = self.order
        return {
            "job": order.job,
            "step": order.step,
            "system": order.system.name,
            "scale": self.bench.scale.name,
            "person": order.person,
        }

    def written(self, display_g: float) -> str:
        return fixed(display_g, self.bench.scale.decimals)

    def snapped(self, mass_g: float) -> float:
        step_g = self.bench.scale.readability_g
        return round(to_step(mass_g, step_g), self.bench.scale.decimals)

    def read(self, component: str, display_g: float, back: int = 0, **fields: str) -> None:
        text = self.written(display_g)
        self.write("weighed", back, component=component, value=text, unit="g", typed=text, **fields)
        self.display_g = display_g

    def use_can(self, component: str, material: str) -> None:
        is_old = component == "b" and self.order.fate == "expired"
        can = self.bench.can(material, self.at, oldest=is_old)
        self.write("lot_used", component=component, lot=can.lot, container=can.code)
        if is_old:
            self.write("deviation", back=1, note=self.order.note)

    def pour(self, component: str, display_g: float, stop_g: float, back: int = 0) -> None:
        """Pour up to a display; once the cup holds both parts the screen says how it is."""
        if back:
            self.pours[-1] = replace(self.pours[-1], net_g=display_g - self._before_g())
        else:
            net_g = display_g - self.display_g
            self.pours.append(Pour(component, net_g, opens=not self.pours))
        shown = {"shown": str(self.verdict())} if len(self.pours) > 1 else {}
        target = self.written(self.snapped(stop_g))
        self.read(component, display_g, back, target=target, **shown)

    def _before_g(self) -> float:
        return self.display_g - self.pours[-1].net_g

    def verdict(self) -> Verdict:
        system, scale = self.order.system, self.bench.scale
        variance_g2 = reading_variance_g2(scale.readability_g, scale.repeatability_g)
        error = ratio_error(net_of(self.pours, "a"), net_of(self.pours, "b"), system.ratio)
        expanded = expanded_uncertainty(self.pours, system.ratio, variance_g2)
        return verdict(error, system.tolerance, expanded)


def weigh(bench: Bench, order: CupOrder, at: datetime) -> list[Draft]:
    """Weigh one cup and mix it; a cup that comes to its end at the scale ends here."""
    bench.cups += 1
    cup = _Cup(bench, order, bench.cups, at)
    cup.write("cup_started", value=fixed(order.total_g, 1), unit="g")
    cup.read("cup", cup.snapped(_CUP_G + bench.random.gauss(0, 0.12)))
    _pour_a(cup)
    _pour_b(cup)
    if order.fate == "scrapped":
        cup.write("felt_warm")
        cup.write("scrapped", note=order.note)
        return cup.drafts
    if order.fate == "corrected":
        stop_g = cup.display_g + top_up(*_held(cup), order.system.ratio).add_g
        cup.pour("a", cup.snapped(stop_g), stop_g)
    if order.fate == "let pass":
        cup.write("deviation", back=1, note=order.note)
    cup.write("mix_started")
    cup.at += timedelta(minutes=order.system.mix_min or 0)
    cup.write("mixed")
    if order.fate == "sampled":
        cup.write("sampled", note=order.note)
    return cup.drafts


def _pour_a(cup: _Cup) -> None:
    cup.use_can("a", cup.order.system.resin)
    stop_g = cup.display_g + targets(cup.order.total_g, cup.order.system.ratio).part_a_g
    cup.pour("a", cup.snapped(stop_g + cup.bench.random.gauss(0.2, 0.3)), stop_g)


def _pour_b(cup: _Cup) -> None:
    order, before_g = cup.order, cup.display_g
    cup.use_can("b", order.system.hardener)
    cup.write("pour_opened", component="b")
    target_g = hardener_target_g(net_of(cup.pours, "a"), order.system.ratio)
    stop_g = before_g + target_g
    spread = max(-_MOST, min(_MOST, cup.bench.random.gauss(0, _SPREAD)))
    display_g = cup.snapped(stop_g + _WRONG.get(order.fate, spread) * target_g)
    if order.fate not in _WRONG and abs(display_g - stop_g) > order.system.tolerance * target_g:
        # A small cup on this step: the nearest figure the display has.
        display_g = cup.snapped(stop_g)
    cup.pour("b", display_g, stop_g)
    if order.fate == "read again":
        again_g = display_g - cup.bench.scale.readability_g
        cup.pour("b", cup.snapped(again_g), stop_g, back=1)


def _held(cup: _Cup) -> tuple[float, float]:
    return net_of(cup.pours, "a"), net_of(cup.pours, "b")


def pour_out(drafts: list[Draft], at: datetime, steps: Iterable[str]) -> list[Draft]:
    """The rows of a cup, and that it was poured into some steps, one after the other."""
    shared = {name: drafts[0].fields[name] for name in ("job", "system", "scale", "person")}
    uses = [
        Draft(
            at + timedelta(seconds=_PAUSE_S * place),
            {**shared, "kind": "poured", "step": step},
            drafts[0].cup,
        )
        for place, step in enumerate(steps)
    ]
    return [*drafts, *uses]


def leave(drafts: list[Draft], at: datetime, left_g: float) -> list[Draft]:
    """The rows of a cup, and what stayed in it."""
    last = dict(drafts[-1].fields)
    left = {"kind": "leftover", "value": fixed(left_g, 1), "unit": "g"}
    return [*drafts, Draft(at, {**last, **left, "step": drafts[0].fields["step"]}, drafts[0].cup)]
