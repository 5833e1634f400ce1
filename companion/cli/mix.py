"""``companion mix``: targets, verdict and correction of one cup."""

import argparse
import json
from math import ceil
from typing import Any

from ..errors import OutOfRange
from ..trade.numbers import fixed, step_inside, to_step
from ..trade.ratio import TopUp, hardener_window_g, ratio_error, targets, top_up
from ..trade.weighing import (
    Pour,
    Verdict,
    expanded_uncertainty,
    reading_variance_g2,
    smallest_cup_g,
    verdict,
)
from .figures import figure, ratio

DEFAULT_TOLERANCE_PCT = 2.0
_DEFAULT_STEP_G = 0.1
_OUTSIDE = (Verdict.OUT, Verdict.OUT_UNPROVEN)


def add_commands(commands: Any) -> None:
    """Hang the command on the parser."""
    command = commands.add_parser(
        "mix", help="targets, verdict and correction of one cup", description=__doc__
    )
    positive, mass = figure(above=0), figure(least=0)
    command.add_argument("--ratio", type=ratio, required=True, help="parts A:B by mass, 100:30")
    command.add_argument("--total", type=positive, required=True, help="planned total, g")
    command.add_argument("--readability", type=positive, help="display step of the scale, g")
    command.add_argument(
        "--tolerance",
        type=figure(above=0, below=100),
        default=DEFAULT_TOLERANCE_PCT,
        help="allowed ratio error either way, %% (2, common practice; the data sheet wins)",
    )
    command.add_argument("--cup", type=mass, default=0.0, help="display with the empty cup, g")
    command.add_argument("--a", type=positive, help="part A poured so far, net g")
    command.add_argument("--b", type=positive, help="part B poured so far, net g")
    command.add_argument("--json", action="store_true", help="print one JSON object, unrounded")
    command.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Print what the cup needs.

    :raises OutOfRange: --b without --a.
    """
    if options.b is not None and options.a is None:
        raise OutOfRange("--b", f"{options.b:g} without --a", "--a with it: A is poured first")
    answer = mix(options)
    if options.json:
        print(json.dumps(answer))
    else:
        print("\n".join(lines(answer, options.readability or _DEFAULT_STEP_G)))
    return 0


def mix(options: argparse.Namespace) -> dict[str, Any]:
    """Everything that follows from the options; masses in g, errors in %, unrounded."""
    planned = targets(options.total, options.ratio)
    tolerance = options.tolerance / 100
    part_a_g = planned.part_a_g if options.a is None else options.a
    step_g = options.readability
    variance_g2 = None if step_g is None else reading_variance_g2(step_g)
    error, expanded, word = _judge(options, tolerance, variance_g2)
    addition = None
    if word in _OUTSIDE:
        addition = top_up(options.a, options.b, options.ratio)
    return {
        "part_a_g": planned.part_a_g,
        "part_b_g": options.ratio * part_a_g,
        "display_stop_g": _display_stop_g(options, planned.part_a_g, addition),
        "accept_g": _accept_g(options, tolerance, addition),
        "ratio_error_pct": None if error is None else error * 100,
        "uncertainty_pct": None if expanded is None else expanded * 100,
        "verdict": word,
        "top_up": None if addition is None else _addition(addition, options.cup),
        "smallest_cup_g": (
            None
            if variance_g2 is None
            else smallest_cup_g(options.ratio, tolerance, variance_g2, 1)
        ),
    }


def _judge(
    options: argparse.Namespace, tolerance: float, variance_g2: float | None
) -> tuple[float | None, float | None, Verdict | None]:
    if options.a is None or options.b is None:
        return None, None, None
    error = ratio_error(options.a, options.b, options.ratio)
    if variance_g2 is None:
        # No scale was named, so nothing is proven either way.
        inside = verdict(error, tolerance, 0) is Verdict.IN
        return error, None, Verdict.IN_UNPROVEN if inside else Verdict.OUT_UNPROVEN
    pours = [Pour("a", options.a, True), Pour("b", options.b)]
    expanded = expanded_uncertainty(pours, options.ratio, variance_g2)
    return error, expanded, verdict(error, tolerance, expanded)


def _display_stop_g(
    options: argparse.Namespace, planned_a_g: float, addition: TopUp | None
) -> float | None:
    cup_g: float = options.cup
    if options.a is None:
        return cup_g + planned_a_g
    if options.b is None:
        return float(cup_g + options.a + options.ratio * options.a)
    return None if addition is None else cup_g + addition.total_g


def _accept_g(
    options: argparse.Namespace, tolerance: float, addition: TopUp | None
) -> list[float] | None:
    pours_b = options.b is None or (addition is not None and addition.component == "b")
    if options.a is None or not pours_b:
        return None
    window_g = hardener_window_g(options.a, options.ratio, tolerance)
    return [options.cup + options.a + limit_g for limit_g in window_g]


def _addition(addition: TopUp, cup_g: float) -> dict[str, Any]:
    return {
        "component": addition.component,
        "add_g": addition.add_g,
        "display_stop_g": cup_g + addition.total_g,
        "total_g": addition.total_g,
    }


def lines(answer: dict[str, Any], step_g: float) -> list[str]:
    """The answer for people, masses rounded to the display step."""
    decimals = len(f"{step_g:.6f}".rstrip("0").partition(".")[2])

    def grams(value_g: float) -> str:
        return f"{fixed(to_step(value_g, step_g), decimals)} g"

    told = [f"part A {grams(answer['part_a_g'])}, part B {grams(answer['part_b_g'])}"]
    if answer["display_stop_g"] is not None:
        told.append(f"pour until the display shows {grams(answer['display_stop_g'])}")
    if answer["accept_g"] is not None:
        low_g, high_g = answer["accept_g"]
        inside = step_inside(low_g, high_g, step_g)
        told.append(
            "no step of this scale is in tolerance"
            if inside is None
            else f"in tolerance from {grams(inside[0])} to {grams(inside[1])}"
        )
    if answer["verdict"] is not None:
        told.append(_verdict_line(answer))
    if answer["top_up"] is not None:
        more = answer["top_up"]
        part = more["component"].upper()
        told.append(f"add {grams(more['add_g'])} of part {part}: total {grams(more['total_g'])}")
    if answer["smallest_cup_g"] is not None:
        told.append(
            f"smallest cup this scale can judge {ceil(answer['smallest_cup_g'] * 10) / 10:.1f} g,"
            " from the display step only"
        )
    told.append("The data sheet of the system decides; this is arithmetic.")
    return told


def _verdict_line(answer: dict[str, Any]) -> str:
    words = str(answer["verdict"]).replace("_", ", ")
    direction = "hardener-rich" if answer["ratio_error_pct"] > 0 else "hardener-lean"
    doubt = (
        "" if answer["uncertainty_pct"] is None else f" ± {answer['uncertainty_pct']:.2f} % (k = 2)"
    )
    return f"{words}: ratio error {answer['ratio_error_pct']:+.2f} %{doubt}, {direction}"
