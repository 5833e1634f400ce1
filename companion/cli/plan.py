"""``companion plan``: from a job file to its cups."""

import argparse
import json
from pathlib import Path
from typing import Any

from ..errors import OutOfRange
from ..records import catalogue
from ..records.store import Store
from ..trade.cards import CupType, ScaleCard, SystemCard
from ..trade.cup_sizes import NoSuchPlan
from ..trade.job_order import layer_by_layer
from ..trade.judgement import heaviest_cup_g
from ..trade.plan import Plan, plan
from ..wire.job_file import read_job
from .figures import figure
from .records import command, open_records

_CAUTIONS = {
    "exotherm": "a cup is larger than the test mass of its pot life: expect less time, and heat",
    "cold_shop": "the shop is colder than the data sheet: expect a slower cure",
    "no_pot_life": "no pot life on a card: see the data sheet",
    "below_minimum": "the shop is colder than the data sheet lets one work",
    "left_over": "more is mixed than the part takes: spread the rest thin, it gets hot in a cup",
    "warm_unknown": "a hot shop, and a card without a pot life: its largest cup could not be made "
    "smaller; expect heat, mix less",
    "proven_in_part": "the scale proves a cup of this size only in part",
}


def add_commands(commands: Any) -> None:
    """Hang the command on the parser."""
    made = command(commands, "plan", "from a job file to its cups", run)
    made.epilog = (
        "Plies are layers, counted from the mould up, as on the lay-up sheet: a ply of the file "
        "with 2 layers is two of them. With --json they count from 0."
    )
    made.add_argument("job", type=Path, metavar="JOB", help="the job, JSON or TOML")
    made.add_argument("--scale", metavar="CODE", help="scale to weigh on (the finest on record)")
    made.add_argument(
        "--temperature", type=figure(least=0, below=50), metavar="C", help="of the shop, degrees C"
    )
    made.add_argument("--json", action="store_true", help="print one JSON object")


def run(options: argparse.Namespace) -> int:
    """Plan a job.

    :raises OutOfRange: the file or a figure in it cannot be.
    :raises NoSuchPlan: cups no scale here can judge, or too large ones, with the nearest that work.
    """
    job = read_job(options.job.read_bytes(), is_toml=options.job.suffix.lower() == ".toml")
    _, store = open_records(options)
    systems = {card.code: card for card in catalogue.latest(store, SystemCard)}
    scale = _scale(store, options.scale)
    empty_cup_g = heaviest_cup_g(catalogue.latest(store, CupType))
    store.close()
    try:
        made = plan(layer_by_layer(job), systems, scale, options.temperature, empty_cup_g)
    except NoSuchPlan as error:
        if options.json:
            print(json.dumps({"refused": refused_as_json(error)}))
        raise
    if options.json:
        print(json.dumps(as_json(made, scale)))
    else:
        print("\n".join(_lines(made, scale)))
    return 0


def _scale(store: Store, code: str | None) -> ScaleCard:
    scales = {card.code: card for card in catalogue.latest(store, ScaleCard)}
    if code is not None and code not in scales:
        raise OutOfRange("--scale", code, ", ".join(sorted(scales)) or "a scale on record; none is")
    if not scales:
        raise OutOfRange("--scale", "none", "a scale on record; none is")
    return scales[code] if code else min(scales.values(), key=lambda card: card.readability_g)


def as_json(made: Plan, scale: ScaleCard) -> dict[str, Any]:
    """The answer for scripts; masses in grams, unrounded."""
    return {
        "cups": [
            {
                "step": cup.step,
                "system": cup.system,
                "part_a_g": cup.part_a_g,
                "part_b_g": cup.part_b_g,
                "total_g": cup.total_g,
                "plies": list(cup.plies),
            }
            for cup in made.cups
        ],
        "scale": scale.name,
        "reinforcement_g": made.reinforcement_g,
        "laminate_resin_g": made.laminate_resin_g,
        "peel_ply_g": made.peel_ply_g,
        "subtotal_g": made.needed_g,
        "surplus_g": made.surplus_g,
        "total_g": sum(cup.total_g for cup in made.cups),
        "fibre_volume_fraction": made.fibre_volume_fraction,
        "fibre_mass_fraction": made.fibre_mass_fraction,
        "resin_mass_fraction": made.resin_mass_fraction,
        "thickness_mm": made.laminate_mm,
        "cautions": list(made.cautions),
    }


def refused_as_json(error: NoSuchPlan) -> dict[str, Any]:
    """Why there is no plan, for scripts; masses in grams, unrounded."""
    nearest = error.nearest
    return {
        "step": error.step,
        "cups": error.split.cups,
        "each_g": error.split.each_g,
        "smallest_g": error.limits.smallest_g,
        "largest_g": error.limits.largest_g,
        "nearest": nearest
        and {
            "cups": nearest.cups,
            "each_g": nearest.each_g,
            "surplus_g": nearest.surplus_g,
            "least_cup_g": error.least_cup_g,
        },
    }


def _lines(made: Plan, scale: ScaleCard) -> list[str]:
    words = {"surface_coat": "surface coat", "laminate": "laminate"}
    cups = [
        f"{number}. {words[cup.step]}, {cup.system}: part A {cup.part_a_g:.1f} g, "
        f"part B {cup.part_b_g:.1f} g, total {cup.total_g:.1f} g"
        + (f", plies {', '.join(str(place + 1) for place in cup.plies)}" if cup.plies else "")
        for number, cup in enumerate(made.cups, 1)
    ]
    return [
        *cups,
        f"cloth {made.reinforcement_g:.1f} g, laminate resin {made.laminate_resin_g:.1f} g, "
        f"with peel ply and tools {made.needed_g:.1f} g",
        *([f"left over {made.surplus_g:.1f} g"] if made.surplus_g else []),
        f"fibre by volume {made.fibre_volume_fraction:.1%}, by mass "
        f"{made.fibre_mass_fraction:.1%}, {made.laminate_mm:.2f} mm without voids; "
        f"weighed on {scale.name}",
        *(f"caution: {_CAUTIONS[name]}" for name in made.cautions),
        "The data sheet of the system decides; this is arithmetic.",
    ]
