"""``companion trace``: from a cup to its lots and cans, from a lot, a can or a part to its cups."""

import argparse
import json
from collections.abc import Sequence
from typing import Any

from ..records.lineage import Trace, lots_used, trace
from ..records.trace import CupStory
from ..trade.numbers import fixed
from .records import command, open_records

_MASS_DECIMALS = 3
_SHARE_DECIMALS = 6


def add_commands(commands: Any) -> None:
    """Hang the command on the parser."""
    entry = command(commands, "trace", "what a cup, a can, a part or a lot leads to", run)
    entry.add_argument("code", help="code of a cup, can or part; a lot; a serial")
    entry.add_argument("--json", action="store_true", help="print one JSON object")


def run(options: argparse.Namespace) -> int:
    """Trace one code."""
    _, store = open_records(options)
    found = trace(store, options.code)
    if options.json:
        print(json.dumps(as_json(found), ensure_ascii=False))
    else:
        print("\n".join(_lines(found)))
    return 0


def as_json(found: Trace) -> dict[str, Any]:
    """The answer for scripts. Masses in grams, ratio error as a plain number, times in UTC."""
    lot, can, part = found.lot, found.container, found.part
    return {
        "code": found.code,
        "planned": found.planned,
        "cups": [_cup(story) for story in found.cups],
        "container": {
            "code": can.code,
            "material": can.card.material if can.card else "",
            "lot": can.card.lot if can.card else "",
            "opened_on": can.card.opened_on if can.card else "",
            "cups": [_cup(story) for story in can.cups],
        }
        if can
        else None,
        "lot": {
            "code": lot.code,
            "material": lot.card.material if lot.card else "",
            "expires_on": lot.card.expires_on if lot.card else "",
            "quarantined": bool(lot.card and lot.card.quarantined),
            "containers": list(lot.containers),
            "cups": [_cup(story) for story in lot.cups],
        }
        if lot
        else None,
        "part": {
            "code": part.card.code,
            "job": part.card.job,
            "serial": part.card.serial,
            "cups": [_cup(story) for story in part.cups],
        }
        if part
        else None,
    }


def _cup(story: CupStory) -> dict[str, Any]:
    first = story.rows[0]
    return {
        "code": story.code,
        "id": story.id,
        "labels": _each_once([row.cup for row in story.rows]),
        "started_at": first.recorded_at,
        "job": first.job,
        "step": first.step,
        "system": first.system,
        "scale": first.scale,
        "persons": _each_once([row.person for row in story.rows]),
        "lots": [
            {"component": use.component, "lot": use.lot, "container": use.container}
            for use in lots_used(story)
        ],
        "rows": len(story.rows),
        **_folded(story),
    }


def _folded(story: CupStory) -> dict[str, Any]:
    """What only a cup whose cards are known here can say; null where they are not."""
    cup = story.cup
    if cup is None:
        names = "state verdict part_a_g part_b_g ratio_error poured flags".split()
        return dict.fromkeys(names)
    error = cup.ratio_error
    return {
        "state": cup.state,
        "verdict": "unknown" if cup.unknown else cup.verdict,
        "part_a_g": round(cup.part_a_g, _MASS_DECIMALS),
        "part_b_g": round(cup.part_b_g, _MASS_DECIMALS),
        "ratio_error": None if error is None else round(error, _SHARE_DECIMALS),
        "poured": [{"job": use.job, "step": use.step, "at": use.at} for use in cup.uses],
        "flags": list(cup.flags),
    }


def _each_once(texts: Sequence[str]) -> list[str]:
    return [text for text in dict.fromkeys(texts) if text]


def _lines(found: Trace) -> list[str]:
    lines = []
    if found.planned and not found.cups:
        lines.append(f"cup {found.code}: planned, not weighed")
    if len(found.cups) > 1:
        lines.append(f"label {found.code} was used for {len(found.cups)} cups")
    for story in found.cups:
        lines.append(f"cup {_cup_line(story)}")
        lines += [
            f"  {use.component}: lot {use.lot or 'not recorded'}, "
            f"container {use.container or 'not recorded'}"
            for use in lots_used(story)
        ]
    lot, can, part = found.lot, found.container, found.part
    lines += _holder(f"container {can.code}", can.cups) if can else []
    lines += _holder(f"lot {lot.code}", lot.cups) if lot else []
    lines += _holder(f"part {part.card.serial} of job {part.card.job}", part.cups) if part else []
    return lines


def _holder(name: str, cups: Sequence[CupStory]) -> list[str]:
    count = f"{len(cups)} {'cup' if len(cups) == 1 else 'cups'}"
    return [f"{name}: {count}", *(f"  {_cup_line(story)}" for story in cups)]


def _cup_line(story: CupStory) -> str:
    first, cup = story.rows[0], story.cup
    texts = [story.code, first.recorded_at, first.job, first.step, first.system]
    if cup:
        masses = f"A {fixed(cup.part_a_g, 1)} g, B {fixed(cup.part_b_g, 1)} g"
        verdict = "ratio unknown" if cup.unknown else cup.verdict or "no verdict"
        texts += [masses, str(verdict).replace("_", " "), *cup.flags]
    return ", ".join(text for text in texts if text)
