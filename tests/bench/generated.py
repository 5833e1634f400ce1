"""Calls made up at random, the same ones every time, to compare the phone with the server."""

from collections.abc import Callable, Iterator
from random import Random
from typing import Any

from companion.trade.cup.progress import Fact
from tests.bench.made_up_rows import (
    rows_of_a_cup,
    rows_of_a_share,
    rows_of_cups,
    scale_card,
    system_card,
)
from tests.bench.made_up_steps import sheet_args

Call = dict[str, Any]

_KEYS = "0123456789" * 3 + ".,,..  -'\u2212\u00a0\u202f\u066b\u066c\u0661\u0669\u06f0\u06f5ag\t"
_CODE_KEYS = (
    "23456789ABCDEFGHJKLMNPQRSTUVWXYZ" * 2 + "abxyzil10IOo -\t\u00a0\u00df\ufeff\x1f/\u00e4"
)
_ISO = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_CUPS_A_ROUND = 6
_SHEETS_A_ROUND = 6
_SCALES = ("0.1", "1", "0.01", "0.05", "0.5", "2")


def calls(seed: int, rounds: int) -> Iterator[Call]:
    """Every maker so many times over, each with chances of its own."""
    for maker in MAKERS:
        rnd = Random(f"{seed} {maker.__name__}")
        for _ in range(rounds):
            yield from maker(rnd)


def _call(module: str, call: str, *args: Any, **options: Any) -> Call:
    made = {"module": module, "call": call, "args": list(args)}
    return {**made, "options": options} if options else made


def _mass(rnd: Random) -> float:
    """Grams: mostly plausible, at times none, negative or odd in the last bits."""
    kind = rnd.random()
    if kind < 0.06:
        return rnd.choice([0.0, -1.5, 1e-9, 1e7])
    if kind < 0.5:
        return round(rnd.uniform(0.1, 500), rnd.randint(0, 2))
    return rnd.uniform(0.01, 2000)


def _ratio(rnd: Random) -> float:
    return rnd.choice([0.3, 0.36, 0.4, 1.0, 0.0, -0.3, *(rnd.uniform(0.05, 1.5) for _ in range(6))])


def _share(rnd: Random) -> float:
    return rnd.choice([0.0, 1.0, 0.02, *(rnd.uniform(0.001, 0.99) for _ in range(6))])


def _ratios(rnd: Random) -> Iterator[Call]:
    yield _call("ratio", "mass_ratio", rnd.uniform(-5, 120))
    yield _call("ratio", "effective_ratio", _ratio(rnd), _share(rnd))
    yield _call("ratio", "targets", _mass(rnd), _ratio(rnd))
    yield _call("ratio", "hardener_target_g", _mass(rnd), _ratio(rnd))
    yield _call("ratio", "hardener_window_g", _mass(rnd), _ratio(rnd), _share(rnd))
    yield _call("ratio", "ratio_error", _mass(rnd), _mass(rnd), _ratio(rnd))
    yield _call("ratio", "top_up", _mass(rnd), _mass(rnd), _ratio(rnd))
    yield _call("ratio", "largest_part_a_g", _mass(rnd), _ratio(rnd))


def _pours(rnd: Random) -> list[dict[str, Any]]:
    return [
        {
            "component": rnd.choice("aabbx"),
            "net_g": _mass(rnd),
            "opens": i == 0 or rnd.random() < 0.2,
            "unfinished": rnd.random() < 0.1,
        }
        for i in range(rnd.randint(1, 6))
    ]


def _weighings(rnd: Random) -> Iterator[Call]:
    step_g = rnd.choice([0.1, 1.0, 0.01, rnd.uniform(0.001, 2)])
    repeatability_g = rnd.choice([None, 0.0, -0.1, rnd.uniform(0, 0.5)])
    variance_g2 = rnd.uniform(1e-6, 0.3)
    yield _call("weighing", "reading_variance_g2", step_g, repeatability_g)
    yield _call("weighing", "net_of", _pours(rnd), "a")
    yield _call("weighing", "ratio_u_rel", _pours(rnd), variance_g2)
    yield _call("weighing", "expanded_uncertainty", _pours(rnd), _ratio(rnd), variance_g2)
    shape = (_ratio(rnd), _share(rnd), variance_g2, rnd.choice([1, 1 / 3]), rnd.random() < 0.5)
    yield _call("weighing", "smallest_cup_g", *shape)
    tolerance, expanded = rnd.choice([0.02, 0.01, 0.015]), rnd.choice([0.005, 0.008, 0.03])
    for error in (tolerance, tolerance - expanded, tolerance + expanded, rnd.uniform(0, 0.06)):
        nudge = rnd.choice([0.0, 1e-13, -1e-13, 1e-11, -1e-11])
        signed = rnd.choice([-1, 1]) * (error + nudge)
        yield _call("weighing", "verdict", signed, tolerance, expanded)


def _typed(rnd: Random) -> str:
    if rnd.random() < 0.5:
        text = f"{rnd.uniform(0, 10 ** rnd.randint(0, 9)):.{rnd.randint(0, 8)}f}"
        return text.replace(".", rnd.choice(".,\u066b"))
    return "".join(rnd.choice(_KEYS) for _ in range(rnd.randint(0, 12)))


def _figure(rnd: Random) -> float:
    """Exact halves, halves that binary misses, and any figure up to ten million."""
    whole = rnd.randint(-(10**7), 10**7)
    return rnd.choice(
        [whole / 2, whole / 16, whole / 1024, whole / 1000, whole / 2000, rnd.uniform(-100, 1e7)]
    )


def _numbers(rnd: Random) -> Iterator[Call]:
    yield _call("numbers", "parse_entry", _typed(rnd))
    yield _call("numbers", "parse_entry", _typed(rnd))
    yield _call("numbers", "is_wire_number", _typed(rnd))
    for decimals in range(5):
        yield _call("numbers", "fixed", _figure(rnd), decimals)
    step_g = float(rnd.choice(_SCALES))
    value_g, width_g = rnd.uniform(-5, 5000), rnd.uniform(-0.2, 4)
    yield _call("numbers", "to_step", value_g, step_g)
    yield _call("numbers", "step_inside", value_g, value_g + width_g, step_g)


def _readings(rnd: Random) -> Iterator[Call]:
    scale = scale_card(rnd, rnd.choice(_SCALES))
    expected_g = rnd.uniform(0.5, 3000)
    slip = rnd.choice([1, 1, 1, 10, 0.1, 1 / 28.349523125, 0.86, 1.149, rnd.uniform(0, 3)])
    decimals = rnd.choice([len(scale["readability"].partition(".")[2]), rnd.randint(0, 3)])
    typed = f"{expected_g * slip * rnd.uniform(0.9, 1.1):.{decimals}f}"
    options = {
        "before_g": rnd.choice([None, expected_g * rnd.uniform(0.5, 1.2)]),
        "expected_g": rnd.choice([None, 0.0, expected_g, expected_g]),
        "net_g": rnd.choice([None, expected_g * rnd.uniform(0.1, 1)]),
        "accept_low_g": rnd.choice([None, expected_g * 0.98]),
        "accept_high_g": rnd.choice([None, expected_g * 1.02]),
        "again": rnd.random() < 0.3,
        "confirmed": rnd.random() < 0.3,
    }
    gross = {
        "least_g": expected_g * rnd.uniform(0.3, 1),
        "expected_g": rnd.choice([None, expected_g]),
        "confirmed": rnd.random() < 0.3,
    }
    shown = rnd.choice([expected_g, expected_g + 4, 0.0, expected_g * rnd.uniform(0, 1.5)])
    yield _call("reading", "check_gross", f"{shown:.{decimals}f}", scale, **gross)
    yield _call("auto_off", "nag_after_s", scale)
    yield _call("reading", "check_reading", typed.replace(".", rnd.choice(".,")), scale, **options)
    yield _call("reading", "check_reading", _typed(rnd), scale, **options)


def _codes(rnd: Random) -> Iterator[Call]:
    payload = "".join(rnd.choice(_CODE_KEYS[:32]) for _ in range(5))
    look_alikes = "".join(rnd.choice("5S2Z8B7K") for _ in range(6))
    noise = "".join(rnd.choice(_CODE_KEYS) for _ in range(rnd.randint(0, 9)))
    any_iso = "".join(rnd.choice(_ISO) for _ in range(rnd.randint(0, 20)))
    yield _call("codes", "check_character", any_iso)
    yield _call("codes", "is_valid", rnd.choice([any_iso, noise, look_alikes]))
    yield _call("codes", "is_label", payload + rnd.choice(_ISO))
    spaced = "".join(rnd.choice([c, c.lower(), c + " "]) for c in payload + rnd.choice(_ISO))
    for typed in (spaced, look_alikes, noise):
        yield _call("codes", "forgive", typed)
    host = rnd.choice(
        ["COMPANION.LOCAL:8035", "a", "", "ä.example", "x y", "[::1]", "\x85", "\ufeff"]
    )
    place = rnd.choice("CLPclpX")
    yield _call(
        "codes", "scanned", f"{rnd.choice(['HTTPS', 'http', 'ftp'])}://{host}/{place}/{noise}"
    )
    yield _call("codes", "scanned", rnd.choice([noise, payload + rnd.choice(_ISO)]))


def _time(rnd: Random) -> str:
    date = f"{rnd.choice([1, 1969, 2024, 2026, 9999]):04d}-{rnd.randint(0, 13):02d}"
    hour, minute = rnd.choice([*range(25), 29, 99]), rnd.choice([*range(60), 60, 99])
    clock = f"{hour:02d}:{minute:02d}:{rnd.choice([0, 0, 59, 59, 60, 61, 99]):02d}"
    fraction = rnd.choice(["", ".000", f".{rnd.randint(0, 9)}", f".{rnd.randint(0, 999999):06d}"])
    east = rnd.choice([*range(25), 29, 99])
    offset = f"{rnd.choice('+-')}{east:02d}:{rnd.choice([*range(60), 60, 99]):02d}"
    zone = rnd.choice(["Z", "Z", "", offset])
    return f"{date}-{rnd.randint(0, 31):02d}{rnd.choice('TTTTt ')}{clock}{fraction}{zone}"


def _sure_time(rnd: Random) -> str:
    return (
        f"2026-{rnd.randint(1, 12):02d}-{rnd.randint(1, 28):02d}T{rnd.randint(0, 23):02d}:"
        f"{rnd.randint(0, 59):02d}:{rnd.randint(0, 59):02d}.{rnd.randint(0, 999999):06d}"
        f"{rnd.choice(['Z', '+05:45', '-08:00'])}"
    )


def _times(rnd: Random) -> Iterator[Call]:
    for text in (_time(rnd), _time(rnd), _sure_time(rnd)):
        yield _call("times", "format_utc", {"$call": {"call": "parse_utc", "args": [text]}})
    yield _call("times", "seconds_between", _sure_time(rnd), _sure_time(rnd))
    yield _call("times", "seconds_between", _sure_time(rnd), _time(rnd))


def _cards(rnd: Random) -> Iterator[Call]:
    system = system_card(rnd)
    warmth_c = rnd.choice([None, rnd.uniform(-5, 45), float(rnd.randint(10, 40)), 35.0])
    further = {"minutes": rnd.uniform(5, 60), "test_mass_g": 100, "temperature_c": 35}
    yield _call("clocks", "pot_life_min", system, warmth_c)
    yield _call("clocks", "pot_life_min", {**system, "more_pot_life": [further]}, warmth_c)
    yield _call("clocks", "largest_mix_g", system, warmth_c)
    yield _call("cards", "system_ratio", system)
    yield _call("cards", "system_tolerance", system)
    yield _call("cards", "system_name", system)
    step = rnd.choice(["0.1", "1e-1", "0x1", " 0.1", "0.1\n", ".5", "0,1", "", "0", "-0.1", "1_0"])
    yield _call("cards", "require_scale_card", scale_card(rnd, step))
    yield _call("cards", "require_scale_card", scale_card(rnd, _typed(rnd)))
    materials = [system["resin"], system["hardener"], "HRD-X"]
    lot = {
        "code": "L1",
        "revision": 1,
        "material": rnd.choice(materials),
        "expires_on": rnd.choice(["", "2026-03-06", "2026-03-07", "2026-03-08"]),
        "quarantined": rnd.random() < 0.3,
    }
    can = {"code": "C1", "revision": 1, "material": rnd.choice(materials), "lot": "L1"}
    component = rnd.choice(["a", "b", "PIG-W"])
    yield _call("identity", "material_wanted", component, system)
    case = (component, system, can, rnd.choice([lot, lot, None]), "2026-03-07")
    yield _call("identity", "can_problem", *case)


def _warmth(rnd: Random) -> Iterator[Call]:
    at_c = [rnd.uniform(5, 40) for _ in range(3)]
    points = [{"minutes": rnd.uniform(5, 300), "temperature_c": c} for c in at_c]
    shop_c = rnd.choice([rnd.uniform(0, 50), at_c[0]])
    yield _call("warmth", "time_min", points[: rnd.randint(0, 3)], shop_c)
    yield _call("warmth", "window_min", rnd.uniform(-5, 300), rnd.uniform(10, 600), 20, shop_c)
    yield _call("climate", "dew_point_c", rnd.uniform(-2, 52), rnd.uniform(0, 104))
    yield _call("climate", "largest_humidity_pct", rnd.uniform(0, 52), rnd.uniform(0, 52))
    folded = {"call": "fold_air", "args": [{"$rows": _measured(rnd)}, "2026-03-07T10:00:00.000Z"]}
    yield _call("air", "fold_air", *folded["args"])
    measured = rnd.choice(["air", "humidity", "mould"])
    yield _call("climate_reading", "check_climate", measured, _typed(rnd), rnd.random() < 0.5)
    near_c = round(rnd.choice([rnd.uniform(0, 1.1), rnd.uniform(0, 130)]), rnd.randint(0, 3))
    yield _call("climate_reading", "check_climate", measured, str(near_c), rnd.random() < 0.5)
    yield _call("air", "shown_margin_k", rnd.choice([rnd.uniform(-9, 9), rnd.uniform(2.9, 3.1)]))
    for call in ("work_temperature_c", "coldest_c"):
        yield _call("air", call, {"$call": folded})
    contact_at = rnd.choice(["", "2026-03-07T08:30:00.000Z", "2026-03-07T10:00:00.5Z"])
    yield _call("air", "cup_temperature_c", *folded["args"], contact_at)


def _measured(rnd: Random) -> list[dict[str, Any]]:
    """Readings of air and mould: mostly plausible, at times none, old, ahead, struck or odd."""
    rows: list[dict[str, Any]] = []
    for n in range(rnd.randint(0, 6)):
        component = rnd.choice(["air", "humidity", "mould"])
        value = rnd.uniform(30, 104) if component == "humidity" else rnd.uniform(-1, 55)
        rows.append(
            {
                "event_id": f"e{n}",
                "log_id": rnd.choice("pq"),
                "seq": n,
                "kind": rnd.choice(["climate"] * 6 + ["voided", "note"]),
                "component": component,
                "value": rnd.choice([f"{value:.1f}", f"{value:.0f}", rnd.choice(["", "1e1", "x"])]),
                "recorded_at": f"2026-03-07T{rnd.choice(['07', '08', '09', '10'])}:"
                f"{rnd.choice(['00', '15', '59'])}:00{rnd.choice(['', '.5', '.000'])}Z",
                "refers_to": f"e{rnd.randint(0, 6)}",
            }
        )
    return rows


def _chains(rnd: Random) -> Iterator[Call]:
    rows = {"$rows": rows_of_cups(rnd)}
    for call in ("in_order", "cups", "double_filled", "label"):
        yield _call("chain", call, rows)


def _cups(rnd: Random) -> Iterator[Call]:
    for _ in range(_CUPS_A_ROUND):
        yield from _cup(rnd)


def _cup(rnd: Random) -> Iterator[Call]:
    system, scale = system_card(rnd), scale_card(rnd, rnd.choice(["0.1", "0.1", "1", "0.01"]))
    rows = {"$rows": rows_of_a_cup(rnd, system, scale)}
    folded = {"$call": {"call": "fold", "args": [rows, system, scale]}}
    now = f"2026-03-07T{rnd.randint(10, 11)}:{rnd.randint(0, 59):02d}:00.000Z"
    around = (rnd.choice([None, 18.5, 30.0]), rnd.choice([None, 100.0, 250.0]))
    yield _call("cup", "fold", rows, system, scale)
    yield _call("cup", "advise", folded, system, scale, now, *around, _paste(rnd))
    yield _call("cup", "added", folded)
    yield _call("running", "cup_clocks", folded, system, now, around[0])
    for call in ("mix_cautions", "mix_times"):
        yield _call("cup", call, folded, system, *([now] if call == "mix_cautions" else []))
    for call in ("waiting", "waiting_cautions"):
        yield _call("cup", call, folded, now)
    own = {"$rows": rows_of_a_share(rnd)}
    mix = rnd.choice([folded, folded, folded, None])
    part = {"$call": {"call": "fold", "args": [own, system, scale, mix]}}
    yield _call("cup", "fold", own, system, scale, mix)
    yield _call("cup", "advise", part, system, scale, now, *around)
    yield _call("cup", "reached", rnd.sample([fact.value for fact in Fact], k=rnd.randint(0, 6)))
    yield _call("cup", "window", folded, rnd.choice("ab"), system, scale)
    yield _call("cup", "cup_usable", folded)
    yield _call("cup", "largest_g", system, around[1], around[0])


def _lost(rnd: Random) -> Iterator[Call]:
    """Open cups and a smeared label, and cups nobody can name."""
    codes = ["".join(rnd.choice("7K25SZQM8B") for _ in range(6)) for _ in range(rnd.randint(0, 5))]
    cups = [{"code": c, "gross_g": rnd.choice([None, rnd.uniform(150, 157)])} for c in codes]
    read = list(rnd.choice([*codes, "7K2QMS"]))
    letters = "".join(rnd.choice([c, c, "?", "S", c.lower()]) for c in read)[: rnd.randint(0, 7)]
    gross_g = rnd.choice([None, rnd.uniform(150, 157)])
    yield _call("finding", "candidates", cups, letters, gross_g, rnd.choice([0.1, 1.0]))
    kinds = "unidentified scrapped setting disposed voided labelled note".split()
    rows = [
        {"event_id": f"u{n}", "after": f"u{n - 1}", "kind": rnd.choice(kinds), "refers_to": "u2"}
        for n in range(2, rnd.randint(2, 8))
    ]
    rows = [{"event_id": "u1", "kind": "cup_started"}, *rows][: rnd.randint(0, 8)]
    stamped = [{"cup": "4H8NPC", "value": rnd.choice(["", "155.3"]), **row} for row in rows]
    yield _call("unidentified", "fold_unidentified", {"$rows": stamped})
    yield _call("identity", "swapped", _mass(rnd), _ratio(rnd), _ratio(rnd))


def _running(rnd: Random) -> Iterator[Call]:
    now = "2026-03-07T10:00:00.000Z"
    for call, about in (("climate_clock", []), ("check_clock", ["S1"]), ("copy_clock", [])):
        day, hour = rnd.choice(["2026-02-27", "2026-03-06", "2026-03-07"]), rnd.choice("0789")
        at = rnd.choice(["", f"{day}T0{hour}:00:00.000Z", f"{day}T0{hour}:59:59.999Z"])
        yield _call("running", call, *about, at, now)
    second = rnd.choice(["00.000", "36.000", "12.500"])
    scale = scale_card(rnd, "0.1")
    yield _call("running", "auto_off_clock", scale, f"2026-03-07T09:58:{second}Z", now)
    days = ["", *(f"2026-03-{day:02d}" for day in (6, 7, 13, 14, 15))]
    lots = [
        {"code": f"L{n}", "revision": 1, "material": "R", "expires_on": d, "quarantined": False}
        for n, d in enumerate(days)
    ]
    yield _call("running", "expiry_clocks", rnd.sample(lots, k=3), now)
    steps = {"$call": {"module": "lay_up", "call": "fold_sheet", "args": sheet_args(rnd)}}
    told = {**steps["$call"], "$get": "steps"}
    clocks = {"call": "step_clocks", "args": [{"$call": told}, "14@2", now]}
    yield _call("running", "step_clocks", *clocks["args"])
    yield _call("running", "by_next_limit", {"$call": clocks})


def _paste(rnd: Random) -> dict[str, Any] | None:
    share_pct = rnd.choice([2.0, 5.0, 8.0])
    paste = {"code": "paste", "share_pct": share_pct, "cap_pct": rnd.choice([None, 5.0, 6.5])}
    return rnd.choice([None, None, paste])


def _sheets(rnd: Random) -> Iterator[Call]:
    for _ in range(_SHEETS_A_ROUND):
        yield _call("lay_up", "fold_sheet", *sheet_args(rnd))


MAKERS: tuple[Callable[[Random], Iterator[Call]], ...] = (
    _ratios,
    _weighings,
    _numbers,
    _readings,
    _codes,
    _times,
    _cards,
    _warmth,
    _chains,
    _cups,
    _lost,
    _running,
    _sheets,
)
