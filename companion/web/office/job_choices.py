"""What a job may name: newest cards of the shop, as the check and as the lists of the form."""

from collections.abc import Sequence

from ...records import catalogue, jobs
from ...records.store import Store
from ...trade.cards import (
    Additive,
    Cloth,
    CupType,
    Job,
    ReleaseAgent,
    ScaleCard,
    SystemCard,
)
from ...trade.job_check import ClothFigures, JobChoices
from ...trade.job_order import JobOrder, PlyOrder
from ...trade.judgement import heaviest_cup_g
from .context import Choice
from .figures import figure
from .phrases import _, ngettext


def finest_first(store: Store) -> list[ScaleCard]:
    """Scales of the shop, the finest first."""
    return sorted(catalogue.latest(store, ScaleCard), key=lambda card: card.readability_g)


def job_choices(store: Store, code: str, base: JobOrder | None, customer: str = "") -> JobChoices:
    """What the form of a job may name.

    :param code: of the job that is changed; empty for a new one.
    :param base: cloths it names that have no card keep its figures.
    :param customer: of the job as it is; it stays one that may be named when its name was erased.
    """
    own = _own_cloths(base.plies if base else ())
    cards = {
        card.code: ClothFigures(card.areal_weight_g_m2, card.fibre_density_g_cm3)
        for card in catalogue.latest(store, Cloth)
    }
    return JobChoices(
        systems={card.code: card for card in catalogue.latest(store, SystemCard)},
        cloths={**own, **cards},
        release_agents={card.code: card for card in catalogue.latest(store, ReleaseAgent)},
        additives={card.code: card for card in catalogue.latest(store, Additive)},
        customers=frozenset(jobs.customer_names(store)) | ({customer} - {""}),
        taken=frozenset(job.code for job in catalogue.latest(store, Job)) - {code},
        scale=next(iter(finest_first(store)), None),
        empty_cup_g=heaviest_cup_g(catalogue.latest(store, CupType)),
    )


def _own_cloths(plies: Sequence[PlyOrder]) -> dict[str, ClothFigures]:
    """Cloths of a job by code; a density that one ply says holds for all plies of the cloth."""
    found: dict[str, ClothFigures] = {}
    for ply in plies:
        known = found.get(ply.cloth)
        density = ply.fibre_density_g_cm3 or (known.fibre_density_g_cm3 if known else None)
        found[ply.cloth] = ClothFigures(ply.areal_weight_g_m2, density)
    return found


def system_list(choices: JobChoices) -> tuple[Choice, ...]:
    """Systems as a list to choose from."""
    return tuple(
        Choice(
            code,
            _("%(system)s · hardener %(word)s", system=card.name, word=card.hardener_word),
        )
        for code, card in sorted(choices.systems.items())
    )


def cloth_list(choices: JobChoices) -> tuple[Choice, ...]:
    """Cloths as a list to choose from."""
    return tuple(
        Choice(
            code,
            _(
                "%(cloth)s · %(weight)s g/m²",
                cloth=code,
                weight=figure(f"{known.areal_weight_g_m2:g}"),
            ),
        )
        for code, known in sorted(choices.cloths.items())
    )


def release_agent_list(choices: JobChoices) -> tuple[Choice, ...]:
    """Release agents as a list to choose from."""
    return tuple(
        Choice(
            code,
            ngettext(
                "%(agent)s · %(num)s coat", "%(agent)s · %(num)s coats", card.coats, agent=code
            ),
        )
        for code, card in sorted(choices.release_agents.items())
    )


def additive_list(choices: JobChoices) -> tuple[Choice, ...]:
    """Pastes as a list to choose from."""
    return tuple(
        Choice(
            code,
            _(
                "%(paste)s · %(said)s, at most %(cap)s per cent of part A",
                paste=code,
                said=card.description,
                cap=figure(f"{card.cap_pct:g}"),
            ),
        )
        for code, card in sorted(choices.additives.items())
    )


def customer_list(store: Store, held: str = "") -> tuple[Choice, ...]:
    """Customers as a list to choose from.

    :param held: code of the customer a job has; it stays on the list when its name was erased.
    """
    names = jobs.customer_names(store)
    found = [Choice(code, f"{code} · {name}") for code, name in names.items()]
    if held and held not in names:
        found.append(Choice(held, _("%(code)s · name erased", code=held)))
    return tuple(found)
