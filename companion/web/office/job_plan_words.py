"""Words of a plan: its cautions, why there is none, its times, its steps."""

from ...records.job_stock import ENOUGH, NO_LOT, NOT_USABLE, SHORT, UNTOLD, StockCheck
from ...trade.cards import ReleaseAgent
from ...trade.job_figures import SystemTimes, hours_and_minutes
from ...trade.job_outlook import OfSystem, Outlook
from ...trade.numbers import at_least_g
from ...trade.steps import Step
from .figures import figure, grams
from .phrases import _
from .step_words import step_words


def cautions(found: Outlook) -> tuple[str, ...]:
    """What must be said beside a plan; every one defers to the data sheet."""
    names = found.cautions
    said = [caution(name) for name in names if name != "proven_in_part"]
    if "proven_in_part" in names:
        said += [_in_part(one, found) for one in found.systems if _concerns(one, found)]
    return tuple(said)


def caution(name: str) -> str:
    """One caution of cups whatever they are weighed on."""
    return {
        "exotherm": _(
            "A cup is larger than the test mass of its pot life: expect less time than the sheet "
            "says, and heat. Feel the cup; spread or pour it at once. The data sheet decides."
        ),
        "cold_shop": _(
            "The shop is colder than the data sheet's temperature: expect a slower cure. No time "
            "is made longer here; the data sheet decides."
        ),
        "no_pot_life": _(
            "No pot life on a card: no clock runs for its cups. See the data sheet before mixing."
        ),
        "left_over": _(
            "More is mixed than the part takes. What is left in a cup gets hot: spread it thin at "
            "once, let it cure, and dispose of it as the safety data sheet says."
        ),
        "below_minimum": _(
            "The shop is colder than the data sheet lets one work. Warm shop, mould and material "
            "first, as the data sheet says."
        ),
        "warm_unknown": _(
            "A hot shop, and a card without a pot life: its largest cup could not be made smaller. "
            "Expect heat and little time; mix less. The data sheet decides."
        ),
    }.get(name, name)


def _concerns(one: OfSystem, found: Outlook) -> bool:
    return any(
        cup.cup.system == one.card.name and cup.cup.total_g < one.judgement.warn_below_g
        for cup in found.cups
    )


def _in_part(one: OfSystem, found: Outlook) -> str:
    return _(
        "Scale %(scale)s proves a cup of %(system)s of this size only in part: below %(size)s g "
        "its uncertainty uses up more than a third of the tolerance.",
        scale=found.scale.code,
        system=one.card.name,
        size=figure(at_least_g(one.judgement.warn_below_g)),
    )


def duration(minutes: float | None) -> str:
    """Minutes as people say them; what a card does not tell is told so."""
    if minutes is None:
        return _("not on the card, see the data sheet")
    hours, rest_min = hours_and_minutes(minutes)
    if not hours:
        return _("%(minutes)s min", minutes=rest_min)
    if not rest_min:
        return _("%(hours)s h", hours=hours)
    return _("%(hours)s h %(minutes)s min", hours=hours, minutes=rest_min)


def tack_window(times: SystemTimes) -> str:
    """From when until when the next layer bonds by itself."""
    opens_min, closes_min = times.tack_opens_min, times.tack_closes_min
    if opens_min is None or closes_min is None:
        return duration(None)
    if opens_min >= closes_min:
        return _("none at this temperature; see the data sheet")
    return _("%(opens)s to %(closes)s", opens=duration(opens_min), closes=duration(closes_min))


def step_material(step: Step) -> str:
    """What a step lays on, and how it lies."""
    if step.cloth:
        return _("%(cloth)s at %(angle)s°", cloth=step.cloth, angle=figure(f"{step.angle_deg:g}"))
    return step.release_agent or step.system


def step_times(
    step: Step, agent: ReleaseAgent | None, times: SystemTimes | None, after: str = ""
) -> str:
    """How long a step waits, and for what.

    :param after: kind of the step that follows; empty for the last.
    """
    if step.kind == "release" and agent:
        last = step.number == agent.coats
        wait_min = agent.last_min if last else agent.between_min
        if wait_min is None:
            return duration(None)
        said = _("then wait %(time)s", time=duration(wait_min))
        return said if not (last and agent.too_old_min is not None) else f"{said}; {_old(agent)}"
    if times is None or (step.kind == "ply" and after != "ply"):
        return ""
    return {
        "tack": _tack(times),
        "ply": _next_ply(times),
        "cure": _cured(times.full_min),
        "demould": _demoulded(times.demould_min),
    }.get(step.kind, "")


def _tack(times: SystemTimes) -> str:
    opens_min, closes_min = times.tack_opens_min, times.tack_closes_min
    if opens_min is None or closes_min is None or opens_min >= closes_min:
        return tack_window(times)
    return _("after the coat: %(time)s, the finger decides", time=tack_window(times))


def _next_ply(times: SystemTimes) -> str:
    """Wet on wet there is nothing to wait for; only the end of the window counts."""
    if times.tack_closes_min is None:
        return duration(None)
    return _(
        "next ply at once, within %(time)s; later abrade first",
        time=duration(times.tack_closes_min),
    )


def _cured(full_min: float | None) -> str:
    if full_min is None:
        return duration(None)
    return _("fully cured after %(time)s", time=duration(full_min))


def _demoulded(demould_min: float | None) -> str:
    if demould_min is None:
        return duration(None)
    return _("from the last pour: %(time)s", time=duration(demould_min))


def _old(agent: ReleaseAgent) -> str:
    return _("too old after %(time)s", time=duration(agent.too_old_min))


def plies(first: int, last: int) -> str:
    """Plies a cup goes into."""
    if not first:
        return ""
    if first == last:
        return step_words(f"ply {first}")
    return _("plies %(first)s to %(last)s", first=first, last=last)


def stock_state(found: StockCheck) -> str:
    """Whether a material is there."""
    short = grams(found.short_g)
    lots = ", ".join(found.not_usable)
    return {
        ENOUGH: _("enough"),
        SHORT: _("short by %(mass)s g", mass=short),
        NO_LOT: _("no can on record"),
        NOT_USABLE: _(
            "short by %(mass)s g: lots %(lots)s are expired or in quarantine", mass=short, lots=lots
        ),
        UNTOLD: _(
            "short by %(mass)s g as far as is told; the rest of %(cans)s is not on record",
            mass=short,
            cans=", ".join(found.untold),
        ),
    }[found.state]


def heading(temperature_c: float | None) -> str:
    """At which temperature a plan holds."""
    if temperature_c is None:
        return _("At the temperatures of the data sheets")
    return _("At %(temperature)s °C", temperature=figure(f"{temperature_c:g}"))
