"""A share of a divided mix: a cup of its own, with the verdict and the clocks of the mix.

A mix over the largest cup is divided after it was mixed. What was poured was poured in the cup
that was divided; counted again in each share it would be mass that nobody poured.
"""

from collections.abc import Iterable
from dataclasses import replace

from ..rows import Row
from .progress import Fact, reached
from .state import Cup

MIX_MISSING = "mix_missing"
#: divided before it was mixed: nobody can say which share holds how much hardener.
DIVIDED_UNMIXED = "divided_unmixed"


def is_share(start: Row) -> bool:
    """Whether a cup was started as a share: its first row refers to the division of another."""
    return start.kind == "cup_started" and start.refers_to != ""


def share(cup: Cup, facts: Iterable[Fact], mix: Cup | None) -> Cup:
    """Give a share what it has of its mix.

    :param cup: folded from its own rows.
    :param facts: what these rows say of it.
    :param mix: the cup that was divided; without it, or if it was not, nothing is known of the mix.
    """
    # Whatever was read beside it is no pour of this mix.
    own = replace(
        cup,
        pours=(),
        part_a_g=0.0,
        part_b_g=0.0,
        total_g=0.0,
        ratio_error=None,
        uncertainty=None,
        verdict=None,
        corrections=0,
        unknown=MIX_MISSING,
    )
    later = {Fact.POURED, Fact.ENDED, Fact.LEFT_TO_SET, Fact.COLD_AND_HARD} & set(facts)
    if mix is None or mix.ending != "divided":
        return replace(own, state=reached(later))
    if not mix.mixed_at:
        return replace(own, state=reached(later), unknown=DIVIDED_UNMIXED)
    return replace(
        own,
        state=reached(later | {Fact.MIXED}),
        ratio_error=mix.ratio_error,
        uncertainty=mix.uncertainty,
        verdict=mix.verdict,
        unknown=mix.unknown,
        corrections=mix.corrections,
        first_contact_at=mix.first_contact_at,
        mix_started_at=mix.mix_started_at,
        scraped_at=mix.scraped_at,
        mixed_at=mix.mixed_at,
        mix_reason=mix.mix_reason,
        felt_warm=cup.felt_warm or mix.felt_warm,
        deviation=mix.deviation,
        pot_life_reason=cup.pot_life_reason or mix.pot_life_reason,
        flags=(*cup.flags, *(["verdict_changed"] if "verdict_changed" in mix.flags else [])),
    )
