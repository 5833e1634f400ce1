"""What a job takes and what comes out of it, figure by figure."""

from collections.abc import Sequence

from ...trade.job_order import JobOrder
from ...trade.job_outlook import Outlook
from ...trade.numbers import fixed
from .figures import figure, grams, percent
from .job_context import Fact
from .job_plan_words import heading
from .phrases import _


def facts(order: JobOrder, views: Sequence[Outlook]) -> tuple[Fact, ...]:
    """What the job takes, and what comes out of it; what hangs on the view is told for each."""
    planned = [view for view in views if view.made]
    made = planned[0].made if planned else None
    if made is None:
        return ()
    taken = [
        _mass(_("Cloth"), made.reinforcement_g),
        _mass(_("Resin in the laminate"), made.laminate_resin_g),
        _mass(_("Resin in the peel ply"), made.peel_ply_g),
        _mass(_("Left in brush and roller"), order.tools_g),
        _mass(_("Subtotal, without what stays in the cups"), made.needed_g),
    ]
    told = (
        Fact(_("Fibre by volume"), _("%(share)s %%", share=percent(made.fibre_volume_fraction))),
        Fact(_("Fibre by mass"), _("%(share)s %%", share=percent(made.fibre_mass_fraction))),
        Fact(
            _("Thickness without voids"),
            _("%(mm)s mm", mm=figure(fixed(made.laminate_mm, 2))),
        ),
    )
    cups = [one for view in planned for one in _of_view(view, several=len(views) > 1)]
    return (*taken, *cups, *told)


def _of_view(view: Outlook, *, several: bool) -> list[Fact]:
    """Masses that hang on the number of cups, and so on scale and temperature."""
    masses = [(_("Part A and B of all cups"), view.total_g)]
    if view.made and view.made.surplus_g:
        masses.append((_("Left over, because no smaller cup is mixed"), view.made.surplus_g))
    masses += [(need.material, need.mass_g) for need in view.needs]
    if not several:
        return [_mass(term, mass_g) for term, mass_g in masses]
    at = heading(view.temperature_c)
    return [_mass(_("%(what)s · %(at)s", what=term, at=at), mass_g) for term, mass_g in masses]


def _mass(term: str, mass_g: float) -> Fact:
    return Fact(term, _("%(mass)s g", mass=grams(mass_g)))
