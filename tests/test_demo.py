"""The demo workshop: complete, at one with itself and with the trade, and never in the future."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import fields
from datetime import UTC, datetime
from pathlib import Path
from statistics import mean, stdev

import pytest

from companion.app import open_store
from companion.config import Config
from companion.records import bundle, catalogue, lay_up_sheets, lineage, log, parts, plans, trace
from companion.records.store import Store
from companion.records.trace import CupStory
from companion.trade.cards import (
    Additive,
    Cloth,
    Container,
    Job,
    Lot,
    ReleaseAgent,
    ScaleCard,
    SystemCard,
)
from companion.trade.cup import advise, fold
from companion.trade.identity import CanProblem, can_problem
from companion.trade.job_order import layer_by_layer
from companion.trade.numbers import fixed, to_step
from companion.trade.plan import plan
from companion.trade.rows import Row
from companion.trade.steps import steps
from companion.trade.stoichiometry import DEPARTURE_TO_ASK, departure, stoichiometric_pbw
from companion.trade.times import format_utc, parse_utc, seconds_between
from companion.wire.row_check import row_problem

#: Parts of the opened mass; common practice, no source.
NEARLY_EMPTY, UNACCOUNTED = 0.10, 0.05
PEEL_PLY = "PP85"


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    opened = open_store(Config(tmp_path_factory.mktemp("demo") / "data", demo=True))
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def cups(store: Store) -> list[CupStory]:
    return trace.all_stories(store)


@pytest.fixture(scope="module")
def rows(store: Store) -> list[Row]:
    return log.all_rows(store)


def jobs_of(store: Store) -> dict[str, Job]:
    return {job.code: job for job in catalogue.latest(store, Job)}


def systems_of(store: Store) -> dict[str, SystemCard]:
    return {card.code: card for card in catalogue.latest(store, SystemCard)}


def scale_of(store: Store) -> ScaleCard:
    return catalogue.named(store, ScaleCard, "S1")


def test_it_has_the_cards_of_a_small_shop(store: Store) -> None:
    systems = systems_of(store)
    assert {card.resin for card in systems.values()} == {"RES-L", "SRF-A"}
    assert {card.hardener for card in systems.values()} == {"HRD-S", "HRD-F", "SRF-B"}
    found = [(card.code, card.readability, card.auto_off_s) for card in _latest_scales(store)]
    assert found == [("S1", "0.1", 120), ("S2", "1", 45)]
    cloths = {card.code for card in catalogue.latest(store, Cloth)}
    assert cloths == {"C200", "C245", "C400", "G300", PEEL_PLY}
    assert {card.code for card in catalogue.latest(store, ReleaseAgent)} == {"WAX", "FILM"}
    caps = {card.code: card.cap_pct for card in catalogue.latest(store, Additive)}
    assert caps["PIG-W"] == 5
    today = datetime.now(UTC).date().isoformat()
    lots = catalogue.latest(store, Lot)
    assert len(lots) == 12
    assert [lot.code for lot in lots if lot.expires_on < today] == ["HL-2104"]


def _latest_scales(store: Store) -> list[ScaleCard]:
    return catalogue.latest(store, ScaleCard)


def test_every_figure_of_a_system_says_where_it_comes_from(store: Store) -> None:
    plain = {"code", "revision", "resin", "hardener", "hardener_word", "sources"}
    for card in catalogue.every(store, SystemCard):
        given = {
            field.name
            for field in fields(card)
            if getattr(card, field.name) not in (None, (), 0.0) and field.name not in plain
        }
        assert given == set(card.sources), card.name
    kinds = (SystemCard, Cloth, ReleaseAgent, Additive)
    for card in [one for kind in kinds for one in catalogue.every(store, kind)]:
        for source in card.sources.values():
            # Nothing of it claims to be the sheet of a product there is.
            assert source.endswith(("(demo)", "no source")), source


def test_the_ratios_are_near_what_the_chemistry_says(store: Store) -> None:
    for card in systems_of(store).values():
        assert card.eew_g_eq and card.ahew_g_eq
        computed = stoichiometric_pbw(card.ahew_g_eq, card.eew_g_eq)
        assert abs(departure(card.part_b_pbw, computed)) < DEPARTURE_TO_ASK


def test_the_hatch_cover_is_planned_as_worked_by_hand(store: Store) -> None:
    """T1; the figures are those of tests/trade/test_plan.py."""
    order = jobs_of(store)["14"].order
    assert order is not None and order.release_agent == "WAX"
    found = plan(layer_by_layer(order), systems_of(store), scale_of(store))
    masses = [(round(c.part_a_g, 1), round(c.part_b_g, 1), round(c.total_g, 1)) for c in found.cups]
    assert masses == [(97.9, 39.1, 137.0), *[(112.6, 33.8, 146.4)] * 3]
    assert round(found.reinforcement_g, 1) == 408.0
    assert round(found.laminate_resin_g, 1) == 376.6
    assert round(found.needed_g, 1) == 415.2
    assert round(found.fibre_volume_fraction, 3) == 0.409
    assert round(found.laminate_mm, 2) == 1.63
    # The cups that wait on the list are those of this plan, and come first.
    waiting = plans.waiting(store)
    assert [(cup.job, cup.step, cup.total) for cup in waiting[:3]] == [
        ("14@2", f"ply {number}", "146.4") for number in (1, 2, 3)
    ]
    assert [(cup.job, cup.step, cup.total) for cup in waiting[3:]] == [
        ("15@1", "blade", "80.0"),
        ("15@1", "tip repair", "20.0"),
    ]


def test_every_job_can_be_planned(store: Store) -> None:
    for job in jobs_of(store).values():
        assert job.order is not None and job.order.job == job.code
        found = plan(layer_by_layer(job.order), systems_of(store), scale_of(store))
        assert all(cup.total_g <= 150 for cup in found.cups), job.code


def test_the_jobs_stand_in_six_places(store: Store, rows: list[Row]) -> None:
    done = {(row.job, row.step) for row in rows if row.kind == "step_done"}
    shipped = Counter(row.value for row in rows if row.kind == "shipped")
    assert shipped == {"BOAT": 2, "CAMP": 1, "SAIL": 1}
    codes = {part.code: part.job for part in parts.every(store)}
    assert {codes[row.component] for row in rows if row.kind == "shipped"} == {"12@1"}
    assert {job for job, step in done if step == "demould"} == {"12@1", "13@1"}
    assert {job for job, step in done if step == "trim"} == {"12@1", "13@1", "16@1"}
    assert {job for job, step in done if step.startswith("ply")} == {"12@1", "13@1", "15@1", "16@1"}
    assert max(step for job, step in done if job == "14@2") == "surface coat"
    assert not [row for row in rows if row.job.startswith("17")]
    sheets = [sheet.job for sheet in lay_up_sheets.open_sheets(store)]
    assert sheets == ["14@2", "15@1", "16@1", "17@1"]


def age_min(rows: list[Row], job: str, step: str) -> float:
    done = next(r for r in rows if (r.kind, r.job, r.step) == ("step_done", job, step))
    return seconds_between(done.recorded_at, format_utc(datetime.now(UTC))) / 60


def test_clocks_run_when_it_is_opened(store: Store, rows: list[Row]) -> None:
    systems = systems_of(store)
    coat, slow, fast = (systems[c] for c in ("SRF-A+SRF-B", "RES-L+HRD-S", "RES-L+HRD-F"))
    assert coat.tack and slow.cure and fast.tack
    assert coat.tack.opens_min < age_min(rows, "14@2", "surface coat") < coat.tack.closes_min - 60
    assert age_min(rows, "16@1", "trim") < slow.cure.demould_min - 60
    assert age_min(rows, "15@1", "ply 1") > fast.tack.closes_min


def test_the_steps_are_those_of_the_sheets_in_their_order(store: Store, rows: list[Row]) -> None:
    agents = {card.code: card for card in catalogue.latest(store, ReleaseAgent)}
    for job in jobs_of(store).values():
        assert job.order is not None
        names = [step.name for step in steps(job.order, agents)]
        told = [row for row in rows if not row.cup and row.job == job.name and row.step]
        places = [names.index(row.step) for row in told]
        assert places == sorted(places)
        poured = {r.step for r in rows if r.kind == "poured" and r.job == job.name}
        assert poured <= set(names)


def test_plies_were_laid_inside_the_windows(store: Store, rows: list[Row]) -> None:
    coat, ply = (systems_of(store)[code].tack for code in ("SRF-A+SRF-B", "RES-L+HRD-S"))
    assert coat and ply
    for job in ("12@1", "13@1", "16@1"):
        told = [row for row in rows if not row.cup and row.job == job]
        done = {row.step: row.recorded_at for row in told if row.kind == "step_done"}
        begun = {row.step: row for row in told if row.kind == "step_started"}
        waited_min = seconds_between(done["surface coat"], begun["ply 1"].recorded_at) / 60
        assert coat.opens_min <= waited_min < coat.closes_min
        for number in range(2, 5):
            if (row := begun.get(f"ply {number}")) is not None:
                gap_min = seconds_between(done[f"ply {number - 1}"], row.recorded_at) / 60
                assert gap_min < ply.closes_min and row.shown == "primary"


def test_every_cup_folds_and_all_but_one_are_closed(cups: list[CupStory]) -> None:
    assert 60 <= len(cups) <= 90
    assert all(story.cup is not None and not story.cup.flags for story in cups)
    assert [(c.cup.job, c.cup.step, c.cup.state) for c in cups if c.cup and not c.cup.ending] == [
        ("15@1", "shaft", "a_waiting")
    ]
    endings = Counter(story.cup.ending for story in cups if story.cup)
    assert (endings["scrapped"], endings["sampled"]) == (1, 1)
    verdicts = Counter(story.cup.verdict for story in cups if story.cup)
    assert verdicts["out"] + verdicts["out_unproven"] == 2
    assert sum(story.cup.corrections for story in cups if story.cup) == 4
    let_pass = [story.cup for story in cups if story.cup and story.cup.deviation]
    assert [(cup.verdict, bool(cup.uses)) for cup in let_pass] == [("out", True)]
    assert sum(bool(r.refers_to) and r.kind == "weighed" for c in cups for r in c.rows) == 1


def test_what_was_unusual_went_into_no_part(cups: list[CupStory]) -> None:
    for story in cups:
        reasons = [use.reason for use in story.cup.lots if use.reason] if story.cup else []
        if story.cup and (story.cup.deviation or story.cup.ending == "scrapped" or reasons):
            assert story.cup.job == ""


def test_the_ratio_errors_spread_as_those_of_a_steady_hand(cups: list[CupStory]) -> None:
    unusual = ("scrapped",)
    errors = [
        100 * story.cup.ratio_error
        for story in cups
        if story.cup
        and story.cup.ratio_error is not None
        and story.cup.ending not in unusual
        and not (story.cup.corrections or story.cup.deviation)
    ]
    assert 0.5 < stdev(errors) < 0.85
    assert abs(mean(errors)) < 0.25


def test_targets_and_verdicts_are_those_the_phone_would_have_shown(cups: list[CupStory]) -> None:
    for story in cups:
        assert story.system and story.scale
        step_g, decimals = story.scale.readability_g, story.scale.decimals
        for place, row in enumerate(story.rows):
            if row.kind != "weighed":
                continue
            assert row.value == row.typed == fixed(float(row.value), decimals)
            after = fold(story.rows[: place + 1], story.system, story.scale)
            assert row.shown == (after.verdict or "")
            if row.component == "cup" or row.refers_to:
                continue
            before = fold(story.rows[:place], story.system, story.scale)
            asked = advise(before, story.system, story.scale, row.recorded_at)
            assert asked.component == row.component and asked.display_stop_g is not None
            assert row.target == fixed(to_step(asked.display_stop_g, step_g), decimals)


def test_cups_keep_the_revision_of_their_day(cups: list[CupStory]) -> None:
    slow = [s.cup.system for s in cups if s.cup and s.cup.system.startswith("RES-L+HRD-S")]
    assert slow == sorted(slow) and set(slow) == {f"RES-L+HRD-S@{n}" for n in (1, 2, 3)}


def test_the_cans_fit_the_cups_and_were_in_date(store: Store, cups: list[CupStory]) -> None:
    cans = {can.code: can for can in catalogue.latest(store, Container)}
    lots = {lot.code: lot for lot in catalogue.latest(store, Lot)}
    passed = []
    for story in cups:
        assert story.system and story.cup
        day = story.cup.started_at[:10]
        for use in story.cup.lots:
            can = cans[use.container]
            assert can.lot == use.lot and can.opened_on <= day
            problem = can_problem(use.component, story.system, can, lots[use.lot], day)
            assert (problem is None) == (use.reason == "")
            passed += [problem] if problem else []
    assert passed == [CanProblem.EXPIRED]


def drawn_g(cups: list[CupStory], can: str, until: str) -> float:
    """What cups drew from a can until a moment."""
    return sum(
        pour.net_g
        for story in cups
        if story.cup and story.cup.started_at < until
        for use in story.cup.lots
        if use.container == can
        for pour in story.cup.pours
        if pour.component == use.component
    )


def test_stock_falls_and_one_can_is_nearly_empty(
    store: Store, cups: list[CupStory], rows: list[Row]
) -> None:
    rest = {}
    for can in catalogue.latest(store, Container):
        assert can.content_g and can.empty_g
        rest[can.code] = 1 - drawn_g(cups, can.code, "9999") / can.content_g
    assert all(share > 0 for share in rest.values())
    assert [code for code, share in rest.items() if share < NEARLY_EMPTY] == ["RES8L8"]
    weighed = [row for row in rows if row.kind == "container_weighed"]
    assert len(weighed) == 4
    for row in weighed:
        can = catalogue.named(store, Container, row.container)
        assert can.content_g and can.empty_g
        left_g = can.content_g - drawn_g(cups, can.code, row.recorded_at)
        unaccounted_g = left_g - (float(row.value) - can.empty_g)
        assert 0 <= unaccounted_g < UNACCOUNTED * can.content_g


def test_nothing_happened_in_the_future(store: Store, rows: list[Row]) -> None:
    now = datetime.now(UTC)
    moments = [row.recorded_at for row in rows]
    moments += [part.made_at for part in parts.every(store)]
    moments += [cup.made_at for cup in plans.every(store)]
    assert all(parse_utc(moment) <= now for moment in moments)
    assert all(can.opened_on <= now.isoformat() for can in catalogue.latest(store, Container))


def test_every_row_is_what_the_log_holds(store: Store, rows: list[Row]) -> None:
    phone = [row for row in rows if row.log_id != catalogue.identity(store).log_id]
    assert [row.seq for row in phone] == list(range(1, len(phone) + 1))
    assert [row.recorded_at for row in phone] == sorted(row.recorded_at for row in phone)
    for row in rows:
        named = {f.name: str(getattr(row, f.name)) for f in fields(row) if f.name != "extra"}
        assert row_problem(named) == "", row


def test_the_phone_carries_no_closed_cup(store: Store) -> None:
    now_utc = format_utc(datetime.now(UTC))
    found = bundle.gather(store, catalogue.identity(store), now_utc)
    assert [cup["rows"][0]["step"] for cup in found.open_cups] == ["shaft"]
    assert {row["job"] for row in found.shop_rows} == {"14@2", "15@1", "16@1", ""}
    assert {row["kind"] for row in found.shop_rows if not row["job"]} == {"climate"}


def test_a_lot_leads_to_parts_of_three_customers(store: Store, rows: list[Row]) -> None:
    lot = lineage.trace(store, "HL-2104").lot
    assert lot is not None
    assert {story.cup.job for story in lot.cups if story.cup} == {"12@1", ""}
    part = lineage.trace(store, "HC-012-3").part
    assert part is not None and len(part.cups) == 14
    customers = {row.value for row in rows if row.kind == "shipped"}
    assert len(customers) == 3


def test_it_is_loaded_once_and_its_figures_are_the_same_each_time(
    rows: list[Row], tmp_path: Path
) -> None:
    figures = [(row.kind, row.step, row.value, row.target) for row in rows]
    for _ in range(2):
        opened = open_store(Config(tmp_path, demo=True))
        found = [(row.kind, row.step, row.value, row.target) for row in log.all_rows(opened)]
        opened.close()
        assert found == figures and len(found) > 900
