"""Lay-up sheets made up at random: steps, cards with and without figures, rows of all sorts."""

from random import Random
from typing import Any

from tests.bench.made_up_rows import RowDict, system_card


def sheet_args(rnd: Random) -> list[Any]:
    """Arguments of ``fold_sheet``."""
    steps = _steps(rnd)
    worked = _in_order(rnd, steps)
    rows = worked + [_any_row(rnd, steps, n) for n in range(rnd.randint(0, 3))]
    rows += [_reading(rnd, n) for n in range(rnd.randint(0, 4))]
    rnd.shuffle(rows)
    # Often while the work goes on.
    now_utc = worked[-1]["recorded_at"] if worked else _at(rnd, 60)
    cards = {"systems": [_system(rnd), _system(rnd)], "release_agents": [_agent(rnd)]}
    return [steps, {"$rows": rows}, cards, rnd.choice([now_utc, _at(rnd, 60)])]


def _steps(rnd: Random) -> list[dict[str, Any]]:
    names = ["mould"]
    names += [f"release {number}" for number in range(1, rnd.randint(1, 4))]
    names += rnd.choice([[], ["surface coat", "tack"]])
    names += [f"ply {number}" for number in range(1, rnd.randint(2, 4))]
    names += rnd.choice([[], ["peel ply"]])
    return [_step(name) for name in [*names, "trim", "cure", "demould"]]


def _step(name: str) -> dict[str, Any]:
    word, _, number = name.partition(" ")
    counted = number.isdigit()
    kind = word if counted else name.replace(" ", "_")
    return {
        "name": name,
        "kind": kind,
        "number": int(number) if counted else 0,
        "system": "" if kind in ("mould", "release", "trim") else "RES-L+HRD-S",
        "cloth": "C200" if kind == "ply" else "",
        "angle_deg": 0.0,
        "release_agent": "WAX-1" if kind == "release" else "",
    }


def _system(rnd: Random) -> dict[str, Any]:
    opens_min = rnd.choice([0, 60, 120, rnd.uniform(1, 300)])
    tack = {
        "opens_min": opens_min,
        "closes_min": opens_min + rnd.choice([-1, 120, rnd.uniform(1, 600)]),
        "temperature_c": rnd.choice([20, 23]),
    }
    demould_min = rnd.choice([0, 720, 1440])
    full_min = rnd.choice([None, 10080, 4000.5])
    cure = {"demould_min": demould_min, "full_min": full_min, "temperature_c": 20}
    figures = {"tack": rnd.choice([tack, tack, tack, None]), "cure": rnd.choice([cure, cure, None])}
    return {**system_card(rnd), **figures}


def _agent(rnd: Random) -> dict[str, Any]:
    return {
        "code": "WAX-1",
        "revision": 1,
        "coats": 3,
        "between_min": rnd.choice([30, 12.5, None]),
        "last_min": rnd.choice([60, None]),
        "too_old_min": rnd.choice([480, 90, None]),
    }


def _in_order(rnd: Random, steps: list[dict[str, Any]]) -> list[RowDict]:
    """The first steps as a shop carries them out, some minutes or hours apart."""
    rows: list[RowDict] = []
    minute = 0.0
    for step in steps[: rnd.randint(0, len(steps))]:
        for kind in ("step_started", "step_done"):
            minute += rnd.choice([1, 1, 20, 20, 61.5, 200])
            name = step["name"]
            row = {"kind": kind, "note": "sample hard" if name == "demould" else ""}
            if name == "tack" and kind == "step_done":
                row = {
                    "kind": "tack_tested",
                    "note": rnd.choice(["ready", "ready", "not_yet", "too_late"]),
                }
            shown = rnd.choice(["", "primary", "primary", "secondary"]) if "ply" in name else ""
            refers_to = rnd.choice(["", f"e{len(rows) - 1}"]) if kind == "step_done" else ""
            # A second phone, whose clock may be wrong.
            written = minute + rnd.choice([0, 0, 0, 0, -90, 15])
            row = {"shown": shown, "refers_to": refers_to, **row}
            rows.append(_row(len(rows), name, max(0.0, written), **row))
    return rows


def _any_row(rnd: Random, steps: list[dict[str, Any]], number: int) -> RowDict:
    names = [step["name"] for step in steps] + ["prepare ply 1", "prepare ply 2", ""]
    kind = rnd.choice(
        "step_started step_done tack_tested voided note deviation poured climate".split()
    )
    return _row(
        100 + number,
        rnd.choice(names),
        rnd.uniform(0, 3000),
        kind=kind,
        cup=rnd.choice(["", "", "7K2QMS"]),
        note=rnd.choice(["", "not_yet", "ready", "too_late", "sample hard", "left out"]),
        refers_to=rnd.choice([f"e{rnd.randint(0, 12)}", "" if kind != "voided" else "e3"]),
    )


def _reading(rnd: Random, number: int) -> RowDict:
    return _row(
        200 + number,
        "",
        rnd.uniform(0, rnd.choice([300, 3000])),
        kind="climate",
        component=rnd.choice(["mould", "mould", "air", "humidity"]),
        value=rnd.choice(["15", "18", "20", "26.5", "33", "99"]),
    )


def _row(number: int, step: str, minute: float, **columns: str) -> RowDict:
    return {
        "event_id": f"e{number}",
        "log_id": "p1" if number % 3 else "p2",
        "seq": number,
        "job": "14@2",
        "step": step,
        "person": "OH"[number % 2],
        "recorded_at": _moment(minute),
        **columns,
    }


def _at(rnd: Random, hours: float) -> str:
    return _moment(rnd.uniform(0, hours * 60))


def _moment(minute: float) -> str:
    second = round(minute * 60)
    day, second = divmod(second, 86400)
    hour, second = divmod(second, 3600)
    minute_, second = divmod(second, 60)
    return f"2026-03-{7 + day:02d}T{hour:02d}:{minute_:02d}:{second:02d}.000Z"
