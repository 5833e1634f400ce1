"""Rows of cups made up at random: poured as people pour, with what goes wrong at a bench."""

from random import Random
from typing import Any

Card = dict[str, Any]
RowDict = dict[str, Any]


def system_card(rnd: Random) -> Card:
    pot = {"minutes": rnd.choice([18, 45, 22.5]), "test_mass_g": 100, "temperature_c": 25}
    return {
        "code": "RES-L+HRD-S",
        "revision": rnd.randint(1, 4),
        "resin": "RES-L",
        "hardener": "HRD-S",
        "hardener_word": "SLOW",
        "part_b_pbw": rnd.choice([30, 36, 40, 100, rnd.uniform(10, 110)]),
        "tolerance_pct": rnd.choice([1, 2, 3]),
        "largest_cup_g": rnd.choice([100, 150, 500]),
        "filler_fraction_a": rnd.choice([0.0, 0.0, 0.1]),
        "pot_life": rnd.choice([pot, pot, None]),
        "mix_min": None,
        "mixed_density_g_cm3": rnd.choice([None, 1.1]),
        "sources": {},
    }


def scale_card(rnd: Random, readability: str) -> Card:
    return {
        "code": "S1",
        "revision": 1,
        "readability": readability,
        "capacity_g": rnd.choice([150, 500, 3000]),
        "auto_off_s": None,
        "repeatability_g": rnd.choice([None, None, 0.0, 0.05]),
    }


class _Bench:
    """A cup on a scale, and the rows a phone writes about it."""

    def __init__(self, rnd: Random, system: Card, scale: Card) -> None:
        self.rnd, self.scale = rnd, scale
        self.ratio = system["part_b_pbw"] / 100 * (1 - system["filler_fraction_a"])
        self.decimals = len(scale["readability"].partition(".")[2])
        self.rows: list[RowDict] = []
        self.cup_g = round(rnd.uniform(3, 20), 1)
        self.content_g = {"a": 0.0, "b": 0.0, "paste": 0.0}
        self.zero_g = 0.0
        self.minute = 0.0

    def write(self, kind: str, **columns: Any) -> None:
        number = len(self.rows) + 1
        skew = self.rnd.choice([0, 0, 0, 5])
        self.minute += self.rnd.choice([0.0, 0.3, 1.0, 6.0])
        minute, second = divmod(round((self.minute + skew) * 60), 60)
        hour, minute = divmod(minute, 60)
        after = self.rows[-1]["event_id"] if self.rows else ""
        if len(self.rows) > 2 and self.rnd.random() < 0.06:
            after = self.rnd.choice(self.rows)["event_id"]
        self.rows.append(
            {
                "log_id": self.rnd.choice(["p1", "p1", "p2"]),
                "seq": number,
                "event_id": f"e{number}",
                "after": after,
                "recorded_at": f"2026-03-07T{10 + hour}:{minute:02d}:{second:02d}.000Z",
                "kind": kind,
                "cup": "7K2QMS",
                **columns,
            }
        )

    def show(self) -> str:
        load_g = self.cup_g + sum(self.content_g.values())
        return f"{load_g - self.zero_g:.{self.decimals}f}"

    def weigh(self, component: str) -> None:
        value = self.show() if self.rnd.random() > 0.02 else self.rnd.choice(["", "12,5", "999999"])
        again = self.some_row("weighed") if self.rnd.random() < 0.1 else ""
        scale = self.rnd.choice(["", "S1@1", "S1@1", "S2@1"])
        self.write("weighed", component=component, value=value, refers_to=again, scale=scale)

    def pour(self, component: str, grams: float) -> None:
        if self.rnd.random() < 0.05:
            self.weigh(component)
        if self.rnd.random() < 0.15:
            grams = self.pour_until_the_scale_dies(component, grams)
        self.content_g[component] += grams
        if self.rnd.random() > 0.04:
            self.weigh(component)

    def pour_until_the_scale_dies(self, component: str, grams: float) -> float:
        """Pour some of it, restart the scale, and say what is still to pour."""
        for _ in range(self.rnd.choice([1, 1, 2])):
            poured_g = grams * self.rnd.choice([0.0, 0.4, 0.8, 1.0, 1.2])
            self.content_g[component] += poured_g
            grams = max(0.0, grams - poured_g)
            self.restart(component)
        return grams

    def restart(self, component: str) -> None:
        self.zero_g = 0.0
        self.write("scale_restarted", value=self.show(), component=component)

    def some_row(self, kind: str = "") -> str:
        fitting = [row["event_id"] for row in self.rows if not kind or row["kind"] == kind]
        return self.rnd.choice(fitting) if fitting else ""

    def mishap(self) -> None:
        kind = self.rnd.choice(
            "rezeroed rezeroed scale_restarted scale_restarted voided voided voided felt_warm "
            "mix_started pour_opened pour_opened lot_used deviation note poured mixed stirred "
            "weighed scraped covered uncovered covered unidentified".split()
        )
        if kind == "rezeroed":
            self.zero_g = self.cup_g + sum(self.content_g.values())
            self.write(kind, value=self.show())
        elif kind == "scale_restarted":
            component = self.rnd.choice(["a", "b", "b", "", "", "paste", "cup"])
            if component in self.content_g:
                self.content_g[component] += self.rnd.uniform(0, 10)
            self.restart(component)
        elif kind == "weighed":
            self.weigh(self.rnd.choice(["a", "b", "paste", "cup", ""]))
        elif kind == "voided":
            self.write(kind, refers_to=self.some_row(self.rnd.choice(["", "weighed", "poured"])))
        elif kind == "deviation":
            self.write(kind, refers_to=self.some_row(), note=self.rnd.choice(["", "trial"]))
        elif kind == "lot_used":
            self.write(kind, component=self.rnd.choice("ab"), lot="L1", container="C1")
        else:
            self.write(kind, component="b" if kind == "pour_opened" else "", job="14@2")


def rows_of_a_cup(rnd: Random, system: Card, scale: Card) -> list[RowDict]:
    """Rows of one cup, at times in a wrong order."""
    rows = _one_cup(rnd, system, scale)
    if rnd.random() < 0.5:
        rnd.shuffle(rows)
    return rows


def _one_cup(rnd: Random, system: Card, scale: Card) -> list[RowDict]:
    bench = _Bench(rnd, system, scale)
    total_g = rnd.choice([20.0, 60.0, 146.4, 180.0, rnd.uniform(10, 300)])
    part_a_g = total_g / (1 + bench.ratio)
    slip = rnd.choice([1.0, 1.005, 0.99, 1.02, 1.1, 0.9, 0.5])
    steps = [("a", part_a_g), ("b", part_a_g * bench.ratio * slip)]
    if rnd.random() < 0.15:
        steps.reverse()
    if rnd.random() < 0.15:
        steps.insert(rnd.randint(0, 2), ("paste", rnd.uniform(1, 6)))
    if rnd.random() < 0.4:
        steps.append((rnd.choice("ab"), rnd.uniform(0, 20)))
    _start(bench, total_g)
    for component, grams in steps[: rnd.randint(0, len(steps) + 2)]:
        if rnd.random() < 0.2:
            bench.mishap()
        bench.pour(component, grams)
    for _ in range(rnd.choice([0, 0, 1, 3])):
        bench.mishap()
    if rnd.random() < 0.3:
        bench.write("mixed")
    if rnd.random() < 0.25:
        _end(bench)
    return bench.rows or [{"event_id": "e1", "kind": "note", "cup": "7K2QMS"}]


def _end(bench: _Bench) -> None:
    """The end of a cup, and what became of its rest, at times without an end."""
    bench.write(
        bench.rnd.choice(["scrapped", "sampled", "leftover", "divided", "divided"]), value="12.5"
    )
    for kind in ("setting", "disposed"):
        if bench.rnd.random() < 0.4:
            bench.write(kind, note="tray by the door")


def rows_of_a_share(rnd: Random) -> list[RowDict]:
    """Rows of a cup that is a share of another: its start, and some of what may follow."""
    kinds = "note poured poured felt_warm leftover scrapped setting disposed weighed voided".split()
    rows: list[RowDict] = [
        {"event_id": "s1", "kind": "cup_started", "refers_to": "e9", "target": "7K2QMS", "seq": 1}
    ]
    for number in range(2, rnd.randint(2, 6)):
        row = {
            "event_id": f"s{number}",
            "after": f"s{number - 1}",
            "seq": number,
            "kind": rnd.choice(kinds),
            "component": rnd.choice(["", "a", "cup"]),
            "value": rnd.choice(["", "12.5"]),
            "refers_to": rnd.choice(["", "s2"]),
        }
        rows.append(row)
    stamped = {"log_id": "p1", "cup": "9B3XWT", "recorded_at": "2026-03-07T10:20:00.000Z"}
    return [{**stamped, **row} for row in rows]


def _start(bench: _Bench, total_g: float) -> None:
    """Rows up to the reading of the empty cup, at times with one of them missing."""
    rnd = bench.rnd
    if rnd.random() < 0.05:
        bench.mishap()
    if rnd.random() > 0.03:
        planned = rnd.choice([f"{total_g:.1f}"] * 6 + ["", "0", "-5.0"])
        bench.write("cup_started", value=planned, scale="S1@1", system="RES-L+HRD-S@3")
    if rnd.random() < 0.08:
        bench.write("pour_opened", component="b")
    if rnd.random() > 0.05:
        bench.weigh("cup")


def rows_of_cups(rnd: Random) -> list[RowDict]:
    """Rows of some cups in no order: forks, gaps, rings, equal times, rows sent twice."""
    ids = [f"{rnd.choice('EeFf')}{n}" for n in range(rnd.randint(1, 14))]
    rows = [
        {
            "log_id": rnd.choice(["p1", "P2", "p10"]),
            "seq": number,
            "event_id": event_id,
            "after": rnd.choice([*ids[:number], *ids[:number], event_id, "gone", "", *ids[-1:]]),
            "recorded_at": f"2026-03-07T10:{rnd.randint(0, 9):02d}:00.000Z",
            "kind": rnd.choice(
                "cup_started weighed pour_opened note weighed labelled voided".split()
            ),
            "cup": rnd.choice(["7K2QMS", "7K2QMS", "9B3XWT", ""]),
            "refers_to": rnd.choice(["", "", *ids[:1]]),
        }
        for number, event_id in enumerate(ids)
    ]
    rows += rnd.sample(rows, k=min(2, len(rows)))
    rnd.shuffle(rows)
    return rows
