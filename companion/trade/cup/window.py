"""The window on the display while a part is poured.

Inside the tolerance lies the window this scale can prove: the displays at which the ratio error
and its expanded uncertainty together stay within the tolerance.
"""

from dataclasses import dataclass

from ..cards import ScaleCard, SystemCard
from ..ratio import ratio_error
from ..weighing import Pour, expanded_uncertainty, net_of, reading_variance_g2
from .state import Cup

# Enough halvings to pin a limit of a few hundred grams to the last bit of a double.
_HALVINGS = 60


@dataclass(frozen=True, slots=True)
class Window:
    """Displays in grams, unrounded; the provable limits are None where the scale proves none."""

    accept_low_g: float
    accept_high_g: float
    proven_low_g: float | None = None
    proven_high_g: float | None = None


def window(cup: Cup, component: str, system: SystemCard, scale: ScaleCard) -> Window:
    """Window for pouring one part into what is already in the cup.

    :param cup: the folded cup; it holds at least the other part.
    :param component: the part to be poured, "a" or "b".
    :param system: card of the cup: ratio and tolerance.
    :param scale: card of the scale: readability and repeatability.
    :return: displays between which the cup ends in tolerance, and provably so.
    :source: trade.weighing.verdict solved for the display, by bisection.
    """
    display_g = cup.display_g or 0.0
    part_a_g, part_b_g = cup.part_a_g, cup.part_b_g
    ratio, tolerance = system.ratio, system.tolerance
    if component == "b":
        target_g = ratio * part_a_g
        low_g, high_g = target_g * (1 - tolerance), target_g * (1 + tolerance)
        there_g = part_b_g
    else:
        target_g = part_b_g / ratio
        low_g, high_g = target_g / (1 + tolerance), target_g / (1 - tolerance)
        there_g = part_a_g
    stop_g = display_g + target_g - there_g
    accept_low_g, accept_high_g = display_g + low_g - there_g, display_g + high_g - there_g
    variance_g2 = reading_variance_g2(scale.readability_g, scale.repeatability_g)

    def proves(at_g: float) -> bool:
        after = [*cup.pours, Pour(component, at_g - display_g, cup.opens)]
        if not (net_of(after, "a") > 0 and net_of(after, "b") > 0):
            return False
        error = ratio_error(net_of(after, "a"), net_of(after, "b"), ratio)
        return abs(error) + expanded_uncertainty(after, ratio, variance_g2) <= tolerance

    if not proves(stop_g):
        return Window(accept_low_g, accept_high_g)

    def edge(limit_g: float) -> float:
        inside_g, outside_g = stop_g, limit_g
        for _ in range(_HALVINGS):
            middle_g = (inside_g + outside_g) / 2
            if proves(middle_g):
                inside_g = middle_g
            else:
                outside_g = middle_g
        return inside_g

    return Window(accept_low_g, accept_high_g, edge(accept_low_g), edge(accept_high_g))
