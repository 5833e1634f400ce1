"""The pages of jobs: from the form to the plan, its cups, the roll, the serial and the customer."""

import io
import json
import re
import tomllib
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any, get_type_hints

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from companion.app import create_app
from companion.config import Config
from companion.errors import NotKnown
from companion.records import (
    catalogue,
    jobs,
    lay_up_sheets,
    log,
    names,
    office_log,
    parts,
    plans,
    ship_concerns,
    shipping,
)
from companion.records.ship_concerns import Concern
from companion.records.store import Store
from companion.trade.cards import (
    Cloth,
    Container,
    Job,
    Lot,
    ScaleCard,
    SystemCard,
    TackWindow,
)
from companion.trade.job_form import FIELDS, PLY_FIELDS, TypedJob, TypedPly, ply_field
from companion.trade.job_order import JobOrder
from companion.trade.rows import Row
from companion.web.office import job_context
from companion.wire.job_file import WrongFile, read_job, write_json, write_toml
from tests.sample_rows import lines, row, three_rows
from tests.trade.hatch import CLOTHS, COARSE, COAT, FINE, HATCH, PASTE, SLOW, TYPED, WAX
from tests.web.hostile import HARMFUL, SHORTER

AT = "2026-03-07T12:00:00.000Z"
NEW = replace(TYPED, code="77", length_m="0.6", width_m="0.5", cut_margin_m="0.02")


@pytest.fixture
def app(tmp_path: Path) -> Iterator[Flask]:
    """A small shop: two systems, two scales, cloths, a customer, and jobs that are only names."""
    application = create_app(Config(tmp_path / "data"))
    found: Store = application.extensions["companion"].store
    names.add(found, names.CUSTOMERS, "LAKE", "Boathouse")
    with found.write() as connection:
        for card in (SLOW, replace(COAT, tack=None, cure=None), FINE, COARSE, WAX, PASTE):
            catalogue.put_card(connection, card, AT)
        for other in (*CLOTHS.values(), *CANS, *LOTS, Job("14", 2, "hatch"), Job("15", 1, "blade")):
            catalogue.put_card(connection, other, AT)
        parts.enter(connection, "14@2", "HC-014", AT)
    yield application
    found.close()


@pytest.fixture
def store(app: Flask) -> Store:
    found: Store = app.extensions["companion"].store
    return found


#: Resin enough in date, hardener only in a can that is over, coat too little or untold.
CANS = (
    Container("RES3LS", 1, "RES-L", "RL-1", content_g=1000, empty_g=80),
    Container("HRD4SG", 1, "HRD-S", "HL-0", content_g=500, empty_g=60),
    Container("SA7CA4", 1, "SRF-A", "SA-1", content_g=50, empty_g=60),
    Container("SB7CAN", 1, "SRF-B", "SB-1"),
)
LOTS = (Lot("RL-1", 1, "RES-L", "2999-01-01"), Lot("HL-0", 1, "HRD-S", "2020-01-01"))


def form(typed: TypedJob, **more: str) -> dict[str, str]:
    """What a browser sends."""
    sent = {name: getattr(typed, name) for name in FIELDS}
    for number, ply in enumerate(typed.plies, 1):
        sent |= {ply_field(number, name): getattr(ply, name) for name in PLY_FIELDS}
    return sent | more


def words(answer: TestResponse) -> str:
    """Words of a page, with single spaces."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.text))


def order_cups(client: FlaskClient, code: str, **asked: str) -> TestResponse:
    """Look at the plan of a job and press its button."""
    page = client.get(f"/jobs/{code}", query_string=asked).text
    forms = re.findall(r'<form [^>]*action="/jobs/[^"]*/order">.*?</form>', page, re.S)
    return client.post(f"/jobs/{code}/order", data=sent_by(forms[-1]) if forms else {})


def sent_by(form_text: str) -> dict[str, str]:
    """Hidden fields of a form."""
    return dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', form_text))


def put_hatch(store: Store, **change: Any) -> Job:
    """The hatch cover as the next revision of job 14."""
    newest = jobs.newest(store, "14")
    job = replace(newest, part="hatch cover", order=replace(HATCH, **change))
    return jobs.keep(store, job, AT)


def test_the_page_says_the_numbers_of_t1(client: FlaskClient, store: Store) -> None:
    put_hatch(store)
    said = words(client.get("/jobs/14"))
    for figure in ("408.0 g", "376.6 g", "13.6 g", "415.2 g", "40.9 %", "52.0 %", "1.63 mm"):
        assert figure in said, figure
    assert said.count("112.6 33.8 146.4") == 3
    assert "97.9 39.1 137.0" in said
    # 97.9 + 39.1 and three times 112.6 + 33.8, by material and in all.
    assert "576.2 g" in said and "337.9 g" in said
    assert "plies 1 to 2" in said and "plies 2 to 3" in said and "plies 3 to 4" in said
    assert "No pot life on a card" in said and "larger than the test mass" in said


def test_a_warm_shop_is_shown_beside_the_sheet(client: FlaskClient, store: Store) -> None:
    put_hatch(store)
    said = words(client.get("/jobs/14?temperature=30"))
    # 150 g at 25 degrees C become 106 g at 30, 45 min become 31 (T11).
    assert "At 30 °C" in said and "150 g 106 g" in said and "45 min 31 min" in said
    assert "its largest cup could not be made smaller" in said
    assert "cold lengthens waits, never working time" in said
    assert said.count("Order these cups") == 2
    assert "not on the card, see the data sheet" in said
    for wrong in ("temperature=60", "temperature=warm", "scale=S9"):
        answer = client.get(f"/jobs/14?{wrong}")
        assert answer.status_code == 422 and "error-summary" in answer.text
    assert words(client.get("/jobs/14?temperature=60")).count("0 to 50 is allowed") == 2


def test_two_cups_are_refused_and_the_three_that_work_are_a_button(
    client: FlaskClient, store: Store
) -> None:
    job = put_hatch(store, cups=2)
    said = words(client.get("/jobs/14"))
    assert "Laminate: 2 cups of 215.6 g each" in said and "to 150.0 g" in said
    assert "Nearest that works: 3 cups of 146.4 g each." in said
    assert "Take 3 cups" in said and "Order these cups" not in said
    refused = client.post("/jobs/14/order", data={"job": job.name})
    assert refused.status_code == 422
    client.post("/jobs/14/cups", data={"job": job.name, "cups": "3"})
    order = jobs.newest(store, "14").order
    assert order is not None and order.cups == 3
    # The same button of a page that is out of date changes nothing.
    stale = client.post("/jobs/14/cups", data={"job": job.name, "cups": "5"})
    assert stale.status_code == 409 and "Meanwhile revision 4" in stale.text


def test_a_scale_that_judges_no_cup_is_named(client: FlaskClient, store: Store) -> None:
    put_hatch(store, area_m2=0.015, surface_coat=None, tools_g=5.0)
    said = words(client.get("/jobs/14?scale=S2"))
    # T13: 208.6 g is the smallest cup of a 1 g display at 100:30.
    assert "208.6 to 150.0 g" in said and "No number of cups works here" in said
    fine = words(client.get("/jobs/14"))
    assert "only in part: below 62.6 g" in fine


def test_a_job_too_small_for_the_scale_takes_one_smallest_cup(
    client: FlaskClient, store: Store
) -> None:
    put_hatch(
        store,
        area_m2=0.01,
        resin_mass_fraction=0.5,
        plies=HATCH.plies[:1],
        surface_coat=None,
        tools_g=3.0,
        loss_per_cup_g=2.7,
    )
    page = client.get("/jobs/14")
    assert "Laminate: 1 cup of 8.1 g" in words(page)
    assert "1 cup of 20.9 g works, the smallest this scale judges; 12.8 g are left" in words(page)
    assert "Take 1 cup of 20.9 g" in words(page)
    assert client.post("/jobs/14/cups", data=sent_by(page.text)).status_code == 303
    order = jobs.newest(store, "14").order
    assert order is not None and (order.cups, order.least_cup_g) == (None, 20.9)
    said = words(client.get("/jobs/14"))
    assert "Left over, because no smaller cup is mixed 12.8 g" in said
    assert "More is mixed than the part takes." in said and "16.1 4.8 20.9" in said
    assert 'name="least_cup_g" type="text" value="20.9"' in client.get("/jobs/14/edit").text
    assert order_cups(client, "14").status_code == 303
    assert [cup.total for cup in plans.every(store)] == ["20.9"]
    wrong = client.post("/jobs/14/cups", data={"job": "14@4", "least_cup_g": "-1"})
    assert wrong.status_code == 422 and "Smallest cup to mix, g" in words(wrong)


def test_t13_on_the_page_of_single_cups(client: FlaskClient) -> None:
    # No scale here judges 20 g; 30 g are 23.1 + 6.9, proved in part; S2 judges from 208.6 g on.
    sent = {"system": "RES-L+HRD-S@3", "count": "1"}
    refused = client.post("/plan", data=sent | {"total": "20"})
    assert refused.status_code == 422
    assert "The smallest cup scale S1 can judge is 20.9 g" in words(refused)
    offered = client.post("/plan", data=sent | {"total": "30"}, follow_redirects=True)
    said = words(offered)
    assert "below 62.6 g" in said and "30 23.1 6.9" in said
    assert "208.6" in words(client.get("/plan"))


def test_its_cups_are_ordered_at_one_moment_and_once(client: FlaskClient, store: Store) -> None:
    coat = replace(HATCH.surface_coat, additive="PIG-W", additive_pct=5.0)  # type: ignore[type-var]
    job = put_hatch(store, surface_coat=coat)
    assert "+ 4.9 g PIG-W" in words(client.get("/jobs/14"))
    shown = sent_by(client.get("/jobs/14").text)
    answer = client.post("/jobs/14/order", data=shown)
    assert answer.status_code == 303
    made = [cup for cup in plans.every(store) if cup.job == job.name]
    assert [(cup.step, cup.total) for cup in made] == [
        ("surface coat", "137.0"),
        ("ply 1", "146.4"),
        ("ply 2", "146.4"),
        ("ply 3", "146.4"),
    ]
    assert (made[0].additive, made[0].additive_pct) == ("PIG-W", "5")
    assert len({cup.made_at for cup in made}) == 1
    page = client.get(answer.headers["Location"])
    assert "4 cups are planned" in page.text
    assert client.get("/labels", query_string={"plan": made[0].made_at}).text.count(
        'name="codes"'
    ) == len(made)
    again = client.post("/jobs/14/order", data=shown)
    assert again.status_code == 409 and "planned already" in again.text
    assert len(plans.every(store)) == 4
    for cup in made:
        plans.withdraw(store, cup.code, AT)
    assert order_cups(client, "14").status_code == 303


def test_it_orders_what_a_warm_shop_takes(client: FlaskClient, store: Store) -> None:
    job = put_hatch(store)
    order_cups(client, "14", temperature="30", scale="S1")
    laminate = [c for c in plans.every(store) if c.job == job.name and c.step != "surface coat"]
    assert len(laminate) == 5 and all(float(cup.total) <= 106 for cup in laminate)


@pytest.mark.parametrize(
    "change", [replace(SLOW, part_b_pbw=33), replace(FINE, readability="0.2", capacity_g=140)]
)
def test_it_orders_what_the_page_showed_or_nothing(
    client: FlaskClient, store: Store, change: SystemCard | ScaleCard
) -> None:
    put_hatch(store)
    shown = sent_by(client.get("/jobs/14").text)
    catalogue.revise(store, change, AT)
    late = client.post("/jobs/14/order", data=shown)
    assert late.status_code == 409 and not plans.every(store)
    assert "another one than the page showed" in words(late)
    # The button of the page that came back orders the new plan.
    assert client.post("/jobs/14/order", data=sent_by(late.text)).status_code == 303
    assert len(plans.every(store)) >= 4


def test_materials_are_held_against_the_stock(client: FlaskClient, store: Store) -> None:
    put_hatch(store)
    page = client.get("/jobs/14").text
    stock = words_of(page, "stock")
    for said in (
        "RES-L 337.9 0.0 1000.0 enough",
        "HRD-S 101.4 0.0 0.0 short by 101.4 g: lots HL-0 are expired or in quarantine",
        "SRF-A 97.9 0.0 50.0 short by 47.9 g",
        "SRF-B 39.1 0.0 0.0 short by 39.1 g as far as is told; the rest of SB7CAN is not on record",
    ):
        assert said in stock, said


def test_what_other_jobs_have_planned_is_spoken_for(client: FlaskClient, store: Store) -> None:
    put_hatch(store)
    client.post("/new-job", data=form(NEW))
    order_cups(client, "77")
    sent = {"system": "RES-L+HRD-S@3", "count": "2", "total": "130", "job": ""}
    client.post("/plan", data=sent)
    order_cups(client, "14")
    page = client.get("/jobs/14").text
    # Three cups of 112.6 g for job 77, and two of 100.0 g for none; its own are what is needed.
    assert "RES-L 337.9 537.8 1000.0 enough" in words_of(page, "stock")
    client.post("/plan", data=sent)
    said = words_of(client.get("/jobs/14").text, "stock")
    assert "RES-L 337.9 737.8 1000.0 short by 75.7 g" in said
    # A cup somebody started has left its can, or will: its readings tell.
    cup = plans.of_job(store, "77")[1]
    begun = row(1, kind="cup_started", component="", value="146.4", typed="", cup=cup.code)
    log.import_lines(store, lines([begun]), log.Contact(AT))
    assert "RES-L 337.9 625.2 1000.0 enough" in words_of(client.get("/jobs/14").text, "stock")


def test_the_stock_must_do_for_the_plan_of_a_warm_shop_too(
    client: FlaskClient, store: Store
) -> None:
    put_hatch(store)
    page = client.get("/jobs/14?temperature=30").text
    takes = words_of(page, "takes")
    # Five laminate cups instead of three: twice 8 g more stay in them.
    assert "Part A and B of all cups · At the temperatures of the data sheets 576.2 g" in takes
    assert "Part A and B of all cups · At 30 °C 592.2 g" in takes
    assert "RES-L 350.2 0.0 1000.0 enough" in words_of(page, "stock")


def words_of(page: str, section: str) -> str:
    found = re.search(rf'<section aria-labelledby="{section}">(.*?)</section>', page, re.S)
    assert found
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", found[1]))


def test_a_new_job_comes_from_its_form(client: FlaskClient, store: Store) -> None:
    answer = client.post("/new-job", data=form(NEW))
    assert (answer.status_code, answer.headers["Location"]) == (303, "/jobs/77")
    job = jobs.newest(store, "77")
    assert (job.revision, job.customer) == (1, "LAKE") and job.order is not None
    assert job.order.plies[1].angle_deg == -45
    # Saved again with no change, it stays the same revision.
    client.post("/jobs/77/edit", data=form(NEW, revision="1"))
    assert jobs.newest(store, "77").revision == 1
    client.post("/jobs/77/edit", data=form(replace(NEW, tools_g="30"), revision="1"))
    assert jobs.newest(store, "77").revision == 2


def test_rows_are_moved_without_losing_what_was_typed(client: FlaskClient, store: Store) -> None:
    typed = replace(NEW, area_m2="still wrong", part="<b>")
    answer = client.post("/new-job", data=form(typed, add="1"))
    assert answer.status_code == 200 and "error-summary" not in answer.text
    assert 'name="plies-4-layers"' in answer.text and 'value="still wrong"' in answer.text
    moved = client.post("/new-job", data=form(typed, up="2")).text
    assert re.search(r'id="plies-1-layers"[^>]*value="2"', moved)
    gone = client.post("/new-job", data=form(typed, remove="2")).text
    assert re.findall(r'id="plies-.-layers"[^>]*value="(.)"', gone) == ["1", "1"]
    for strange in ("x", "99999", "-1", ""):
        kept = client.post("/new-job", data=form(typed, down=strange))
        assert kept.status_code == 200 and 'name="plies-3-layers"' in kept.text
    assert jobs.newest(store, "14").code == "14" and len(catalogue.latest(store, Job)) == 2


def test_bad_fields_are_named_and_everything_typed_stays(client: FlaskClient, store: Store) -> None:
    rows = (*NEW.plies[:2], TypedPly("C999", layers="10000"))
    typed = replace(NEW, area_m2="-0.34", resin_pct="0.48", part=HARMFUL[0], plies=rows)
    answer = client.post("/new-job", data=form(typed))
    assert answer.status_code == 422
    said = words(answer)
    for text in (
        "Area, m²: “−0.34”. 0.0001 to 1000 is allowed.",
        "Resin by mass, per cent: “0.48”. 5 to 95 is allowed.",
        "Row 3, layers: “10000”. 1 to 200 is allowed.",
        "Row 3, cloth: “C999” is not on record. On record are: C200, C400.",
    ):
        assert text in said, text
    for field in ("area_m2", "plies-3-layers", "plies-3-cloth"):
        assert f'href="#{field}"' in answer.text and f'id="{field}-error"' in answer.text
    assert HARMFUL[0] not in answer.text and 'value="-0.34"' in answer.text
    assert len(catalogue.latest(store, Job)) == 2


def test_a_code_of_another_job_and_a_race_lose_nothing(client: FlaskClient, store: Store) -> None:
    taken = client.post("/new-job", data=form(replace(NEW, code="14")))
    assert taken.status_code == 422 and "is another job already" in taken.text
    client.post("/new-job", data=form(NEW))
    client.post("/jobs/77/edit", data=form(replace(NEW, tools_g="30"), revision="1"))
    late = client.post("/jobs/77/edit", data=form(replace(NEW, tools_g="41"), revision="1"))
    assert late.status_code == 409 and "Meanwhile revision 2" in late.text
    assert 'name="tools_g" type="text" value="41"' in late.text
    assert 'name="revision" value="2"' in late.text
    assert jobs.newest(store, "77").revision == 2


def test_a_plan_that_cannot_be_does_not_forbid_saving(client: FlaskClient, store: Store) -> None:
    client.post("/new-job", data=form(replace(NEW, cups="2")))
    assert "Nearest that works: 3 cups" in words(client.get("/jobs/77"))


def test_the_list_says_where_every_job_stands(client: FlaskClient, store: Store) -> None:
    client.post("/new-job", data=form(NEW))
    said = words(client.get("/jobs"))
    assert "77 hatch cover Boathouse 1 no plan" in said
    order_cups(client, "77")
    assert "1 planned" in words(client.get("/jobs"))
    table = client.get("/jobs.csv")
    assert table.headers["Content-Type"].startswith("text/csv")
    lines = table.data.decode("utf-8-sig").splitlines()
    assert lines[0] == "Job,Revision,Part,Serials,Customer,State"
    assert "'77,1,hatch cover,,Boathouse,planned" in lines


def test_pieces_lie_on_their_rolls(client: FlaskClient, store: Store) -> None:
    client.post("/new-job", data=form(NEW))
    said = words(client.get("/jobs/77/cutting"))
    # Two pieces of 0.64 x 0.54 m beside each other on 1.2 m.
    assert "Length used 0.640 m" in said and "No cutting can use less than" in said
    assert "138.2 g" in said
    wide = replace(NEW, plies=(TypedPly("C200", length_m="1", width_m="2"),))
    client.post("/jobs/77/edit", data=form(wide, revision="1"))
    assert "takes 2.040 m across the roll, which has 1.200 m" in words(
        client.get("/jobs/77/cutting")
    )
    assert "1.2 1.040 m 1.045 m 1.040 m 0.000 m" in words(client.get("/jobs/77/cutting?overlap=50"))
    assert "is as wide as the roll" not in words(client.get("/jobs/77/cutting?overlap=500"))
    assert client.get("/jobs/77/cutting?overlap=501").status_code == 422
    put_hatch(store)
    assert "length or width of its piece is missing" in words(client.get("/jobs/14/cutting"))


def test_a_part_is_entered_shipped_and_traced(client: FlaskClient, store: Store) -> None:
    client.post("/new-job", data=form(NEW))
    client.post("/jobs/77/parts", data={"serial": "X-1"})
    (part,) = parts.of_job(store, "77")
    again = client.post("/jobs/77/parts", data={"serial": "X-1"})
    assert again.status_code == 409 and "is the serial of part" in again.text
    for sent, said in (
        ({"part": part.code, "customer": "NOBODY"}, "“NOBODY” is not on record"),
        ({"part": "7K2QMS", "customer": "LAKE"}, "“7K2QMS” is not on record"),
        ({"part": part.code, "customer": "LAKE", "day": "2026-02-30"}, "“2026-02-30”"),
        ({"part": part.code, "customer": "LAKE", "day": "2999-01-01"}, "“2999-01-01”"),
    ):
        answer = client.post("/jobs/77/ship", data=sent)
        assert answer.status_code == 422 and said in words(answer)
    sent = {"part": part.code, "customer": "LAKE", "day": "2026-03-01"}
    # No cup was poured and nothing demoulded: a reason is asked, and stays with the row.
    for reason in ("", " ", "x" * 501):
        asked = client.post("/jobs/77/ship", data=sent | {"ship_reason": reason})
        assert asked.status_code == 422 and not shipping.shipments(store)
        assert "No cup was poured for this job" in words(asked)
    sent["ship_reason"] = "made before the records"
    assert client.post("/jobs/77/ship", data=sent).status_code == 303
    assert shipping.shipments(store)[part.code].reason == "made before the records"
    assert "to Boathouse on" in words(client.get("/jobs/77"))
    assert "shipped" in words(client.get("/jobs"))
    assert client.post("/jobs/77/ship", data=sent).status_code == 409
    assert "Boathouse" in words(client.get(f"/trace?code={part.code}"))
    # The code is in the log, the name is not.
    assert (
        "LAKE" in client.get("/export.csv").text
        and "Boathouse" not in client.get("/export.csv").text
    )


def sent_to_lake(part: str) -> dict[str, str]:
    reason = "the customer waits"
    return {"part": part, "customer": "LAKE", "day": "2026-03-01", "ship_reason": reason}


def test_four_desks_ship_a_part_once(client: FlaskClient, store: Store) -> None:
    (part,) = parts.of_job(store, "14")
    desks = [client.application.test_client() for _ in range(4)]
    with ThreadPoolExecutor(4) as pool:
        answers = list(
            pool.map(lambda desk: desk.post("/jobs/14/ship", data=sent_to_lake(part.code)), desks)
        )
    assert sorted(answer.status_code for answer in answers) == [303, 409, 409, 409]
    assert sum(row.kind == "shipped" for row in log.all_rows(store)) == 1


def test_a_wrong_shipping_is_struck_and_stays_told(client: FlaskClient, store: Store) -> None:
    (part,) = parts.of_job(store, "14")
    strike = {"strike_part": part.code, "strike_reason": "went to nobody"}
    # What is not shipped cannot be struck.
    assert client.post("/jobs/14/strike-shipping", data=strike).status_code == 422
    client.post("/jobs/14/ship", data=sent_to_lake(part.code))
    assert "Strike this shipping" in client.get("/jobs/14").text
    without = client.post("/jobs/14/strike-shipping", data=strike | {"strike_reason": ""})
    assert without.status_code == 422 and 'id="strike_reason-error"' in without.text
    assert client.post("/jobs/14/strike-shipping", data=strike).status_code == 303
    assert not shipping.shipments(store)
    told = words(client.get(f"/trace?code={part.code}"))
    assert "Shipped not yet" in told and "to Boathouse on" in told
    assert "struck on" in told and "“went to nobody”" in told
    kinds = [row.kind for row in log.all_rows(store)]
    assert kinds == ["shipped", "voided"]
    # It can go to whom it should have gone.
    assert client.post("/jobs/14/ship", data=sent_to_lake(part.code)).status_code == 303
    with pytest.raises(NotKnown):
        shipping.strike(store, "7K2QMS", "no part", AT)


def test_what_speaks_against_shipping_is_said_by_name(client: FlaskClient, store: Store) -> None:
    def said() -> list[str]:
        return [one.name for one in ship_concerns.concerns(store, "14")]

    assert said() == ["no_cup", "in_mould"]
    poured = [
        row(1, kind="cup_started", component="", value="100", typed="", job="14@2"),
        row(2, kind="lot_used", component="b", value="", lot="HL-0", container="HRD4SG"),
        row(3, kind="lot_used", component="a", value="", lot="RL-1", container="RES3LS"),
        row(4, kind="poured", component="", value="", typed="", job="14@2", step="ply 1"),
    ]
    log.import_lines(store, lines(poured), log.Contact(AT))
    # A cup nobody weighed has no ratio; its hardener was over when it was used.
    assert said() == ["unknown", "expired", "in_mould"]
    catalogue.revise(store, Lot("RL-1", 1, "RES-L", "2999-01-01", quarantined=True), AT)
    with store.write() as connection:
        done = Row(kind="step_done", job="14@2", step="demould", note="sample hard")
        office_log.append(connection, [done], AT)
    assert said() == ["unknown", "quarantined", "expired"]
    page = words(client.get("/jobs/14"))
    assert "Lots in quarantine are in its cups: RL-1." in page
    assert f"Ratio not known: cups {poured[0].cup}." in page


def test_a_cup_out_of_tolerance_speaks_against_shipping_until_it_is_let_pass(store: Store) -> None:
    # 113.1 g A and 37.0 g B at 100:30: 9 % too much hardener (T3).
    poured = [
        *three_rows(),
        row(4, component="b", value="158.5", typed="158.5"),
        row(5, kind="mixed", component="", value="", typed=""),
        row(6, kind="poured", component="", value="", typed=""),
    ]
    log.import_lines(store, lines(poured), log.Contact(AT))
    assert ship_concerns.concerns(store, "14@2")[0] == Concern("out", ("7K2QMS",))
    passed = row(
        7, kind="deviation", component="", value="", refers_to=poured[3].event_id, note="test panel"
    )
    log.import_lines(store, lines([passed]), log.Contact(AT))
    assert [one.name for one in ship_concerns.concerns(store, "14@2")] == ["in_mould"]


def test_a_lot_leads_to_the_customers_of_its_parts(client: FlaskClient, store: Store) -> None:
    rows = [
        row(1, kind="cup_started", component="", value="100", typed="", job="14@2"),
        row(2, kind="lot_used", component="a", value="", lot="RL-1", container="RES3LS"),
        row(3, kind="poured", component="", value="", typed="", job="14@2", step="ply 1"),
    ]
    log.import_lines(store, lines(rows), log.Contact(AT))
    assert "HC-014 14@2 not yet" in words(client.get("/trace?code=RL-1"))
    (part,) = parts.of_job(store, "14")
    client.post("/jobs/14/ship", data=sent_to_lake(part.code))
    assert "HC-014 14@2 to Boathouse on" in words(client.get("/trace?code=RL-1"))
    assert "14 hatch HC-014 2 shipped" in words(client.get("/jobs"))


def bring(client: FlaskClient, body: bytes, name: str) -> TestResponse:
    answer = client.post("/import-job", data={"file": (io.BytesIO(body), name)})
    answer.request.environ["wsgi.input"].close()
    return answer


def test_a_job_travels_as_a_file_both_ways(client: FlaskClient, store: Store) -> None:
    given = replace(HATCH, job="78", serial="X-78", release_agent="WAX", cut_margin_m=0.02)
    assert bring(client, write_toml(given), "job.toml").status_code == 303
    # What is kept is what the form would keep: the density of the fibre by the card of the cloth.
    plies = tuple(replace(ply, fibre_density_g_cm3=1.8) for ply in given.plies)
    order = replace(given, plies=plies)
    assert jobs.newest(store, "78").order == order
    assert bring(client, write_json(given), "job.json").status_code == 303
    assert [part.serial for part in parts.of_job(store, "78")] == ["X-78"]
    for ending in ("json", "toml"):
        sent = client.get(f"/jobs/78.{ending}")
        assert read_job(sent.data, is_toml=ending == "toml") == order
        # The same file again changes nothing.
        assert bring(client, sent.data, f"job.{ending}").status_code == 303
    assert jobs.newest(store, "78").revision == 1
    bring(client, write_json(replace(order, tools_g=30.0)), "job.json")
    assert jobs.newest(store, "78").revision == 2


PLY = {"cloth": "C200", "areal_weight_g_m2": 200}
BAD_FILES: list[tuple[bytes | dict[str, object], str]] = [
    (b"", "No file is chosen"),
    (b"[]", "file is []"),
    (b"{", "JSON, UTF-8"),
    (b"\xff\xfe", "JSON, UTF-8"),
    ({"area_m2": -0.34}, "Area, m²: “−0.34”. 0.0001 to 1000 is allowed."),
    ({"area_m2": float("nan")}, "area_m2 is nan; allowed is a number"),
    ({"area_m2": 10**400}, "area_m2 is"),
    ({"resin_mass_fraction": 1}, "Resin by mass, per cent: “100”. 5 to 95 is allowed."),
    ({"system": "elsewhere"}, "System: “elsewhere” is not on record."),
    ({"colour": "red"}, "colour is red"),
    ({"plies": []}, "Ply schedule: 0 layers. 1 to 200 are allowed."),
    ({"plies": [{"cloth": "C200", "areal_weight_g_m2": 200}] * 10_000}, "10000 layers"),
    ({"plies": [{"cloth": "C200", "areal_weight_g_m2": 210}]}, "210 g/m² by the file and 200"),
    ({"plies": [{"cloth": "own", "areal_weight_g_m2": -5}]}, "−5 g/m² by the file"),
    ({"plies": [{"cloth": "", "areal_weight_g_m2": 200}]}, "Row 1, cloth: none is chosen."),
    *(
        (
            {"plies": [PLY | {"fibre_density_g_cm3": density}]},
            f"its fibre has {said} g/cm³ by the file. 0.5 to 10 is allowed.",
        )
        for density, said in ((-5, "−5"), (1e300, "1e+300"), (0.0001, "0.0001"), (0, "0"))
    ),
    ({"plies": [PLY | {"fibre_density_g_cm3": 2.5}]}, "2.5 g/cm³ by the file and 1.8 by its card"),
    ({"job": "a/b"}, "Job: “a/b”. 1 to 20 letters"),
    ({"serial": "HC-014"}, "serial “HC-014” is taken by"),
    ({"release_agent": "elsewhere"}, "Release agent: “elsewhere” is not on record."),
    (b'{\n "job": }', "cannot be read from line 2, column 9 on; allowed is JSON, UTF-8"),
    (b'{"job": "78", "job": "79"}', "job stands there twice"),
    ({"plies": [{"cloth": "C200"}]}, "plies[0].areal_weight_g_m2 is missing"),
]


def test_a_bad_job_file_is_refused_by_its_field(client: FlaskClient, store: Store) -> None:
    body: dict[str, object] = json.loads(write_json(replace(HATCH, job="78", serial="")))
    for change, said in BAD_FILES:
        sent = change if isinstance(change, bytes) else json.dumps(body | change).encode()
        answer = bring(client, sent, "job.json")
        assert answer.status_code in (409, 422), said
        assert said in words(answer).replace("&#39;", "'"), said
    assert {job.code for job in catalogue.latest(store, Job)} == {"14", "15"}


def test_a_file_keeps_its_digits_and_may_begin_with_a_mark(
    client: FlaskClient, store: Store
) -> None:
    order = replace(HATCH, job="78", serial="", resin_mass_fraction=1 / 2.1, area_m2=1 / 3)
    answer = bring(client, b"\xef\xbb\xbf" + write_json(order), "job.json")
    assert answer.status_code == 303, words(answer)
    kept = jobs.newest(store, "78").order
    assert kept and (kept.resin_mass_fraction, kept.area_m2) == (1 / 2.1, 1 / 3)
    assert read_job(b"\xef\xbb\xbf" + write_toml(order), is_toml=True) == order


def test_what_a_file_may_hold_is_told_by_rule_so_that_a_page_can_say_it(
    client: FlaskClient,
) -> None:
    for change, rule, said in (
        ({"area_m2": "0.34"}, "number", "a number"),
        ({"plies": 7}, "list", "a list of plies"),
        ({"plies": [7]}, "table", "a list of fields with names"),
        ({"cups": 1.5}, "whole", "a whole number"),
        ({"part": "x" * 81}, "text", "a text of at most 80 characters"),
    ):
        body = json.dumps(json.loads(write_json(HATCH)) | change).encode()
        with pytest.raises(WrongFile) as caught:
            read_job(body)
        assert caught.value.rule == rule
        assert f"allowed is {said}." in words(bring(client, body, "job.json"))


def test_a_customer_whose_name_was_erased_stays_with_the_job(
    client: FlaskClient, store: Store
) -> None:
    client.post("/new-job", data=form(NEW))
    names.erase(store, names.CUSTOMERS, "LAKE", AT)
    page = client.get("/jobs/77/edit").text
    assert '<option value="LAKE" selected>LAKE · name erased</option>' in page
    saved = client.post("/jobs/77/edit", data=form(replace(NEW, tools_g="30"), revision="1"))
    assert saved.status_code == 303
    job = jobs.newest(store, "77")
    assert (job.revision, job.customer) == (2, "LAKE")
    # No other job gets it.
    assert "LAKE" not in client.get("/new-job").text
    other = client.post("/new-job", data=form(replace(NEW, code="79")))
    assert other.status_code == 422 and "“LAKE” is not on record" in words(other)


def test_every_revision_can_be_looked_at_and_only_the_newest_is_worked_with(
    client: FlaskClient, store: Store
) -> None:
    put_hatch(store)
    put_hatch(store, tools_g=30.0)
    newest = client.get("/jobs/14")
    assert "4, shown here" in words(newest) and "not the newest" not in newest.text
    assert "no customer" in words(newest)
    old = client.get("/jobs/14?revision=3")
    assert "Revision 3, not the newest." in words(old) and "146.4" in old.text
    for act in ("/order", "/ship", "/parts", "/edit", "/cups"):
        assert f'"/jobs/14{act}"' not in old.text
    assert 'name="revision" value="3"' in old.text
    assert '<a class="code" href="/jobs/14?revision=4">4</a>' in old.text
    for wrong in ("5", "0", "x", "<script>"):
        assert client.get("/jobs/14", query_string={"revision": wrong}).status_code == 404
    assert "no serial yet" in words(client.get("/jobs/15"))


def test_a_form_that_does_not_say_what_it_changes_is_refused(
    client: FlaskClient, store: Store
) -> None:
    client.post("/new-job", data=form(NEW))
    for revision in ("", "x", "0", "-1", "2", "9999999"):
        wrong = client.post(
            "/jobs/77/edit", data=form(replace(NEW, tools_g="9"), revision=revision)
        )
        assert wrong.status_code == 422 and "revision" in wrong.text
    assert jobs.newest(store, "77").revision == 1


def test_a_file_may_bring_a_cloth_that_has_no_card(client: FlaskClient, store: Store) -> None:
    plies = tuple(replace(ply, cloth=f"own-{ply.cloth}") for ply in HATCH.plies)
    bring(client, write_json(replace(HATCH, job="78", serial="", plies=plies)), "job.json")
    form_page = client.get("/jobs/78/edit").text
    assert '<option value="own-C400" selected>' in form_page
    assert "has no card" in words(client.get("/jobs/78/cutting"))
    assert "146.4" in client.get("/jobs/78").text


def test_toml_is_read_by_the_library() -> None:
    # Source: the standard library's tomllib.
    strange = 'a "quoted" \\ text with ü and 船'
    order = replace(HATCH, part=strange, area_m2=1e-05)
    body = tomllib.loads(write_toml(order).decode())
    assert body["part"] == strange and body["area_m2"] == 1e-05
    assert [ply["cloth"] for ply in body["plies"]] == ["C200", "C400", "C200"]
    assert read_job(write_toml(order), is_toml=True) == order


def test_the_lay_up_sheet_prints(client: FlaskClient, store: Store) -> None:
    put_hatch(store, release_agent="WAX")
    said = words(client.get("/jobs/14/sheet"))
    for text in ("release coat 3", "then wait 1 h", "ply 4", "demould", "HC-014", "146.4"):
        assert text in said, text
    answer = client.get("/jobs/14/sheet.pdf")
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.data.startswith(b"%PDF") and answer.data == client.get("/jobs/14/sheet.pdf").data


def test_the_sheet_prints_the_cups_that_stand_ordered(client: FlaskClient, store: Store) -> None:
    coat = replace(HATCH.surface_coat, additive="PIG-W", additive_pct=5.0)  # type: ignore[type-var]
    put_hatch(store, surface_coat=coat)
    asked = client.get("/jobs/14?temperature=30&scale=S1").text
    link = re.search(r'href="(/jobs/14/sheet[^"]*)"', asked)
    assert link and "temperature=30" in link[1]
    warm = words(client.get(link[1].replace("&amp;", "&")))
    assert "not ordered yet" in warm and "At 30 °C" in warm and "S1 · steps of 0.1 g" in warm
    assert "146.4" not in warm and warm.count("RES-L+HRD-S@3 hardener SLOW") == 5
    order_cups(client, "14")
    assert "plies 1 to 2 RES-L+HRD-S@3" in words(client.get("/jobs/14/sheet"))
    catalogue.revise(store, replace(SLOW, part_b_pbw=33), AT)
    # Whatever is asked for now: what was ordered is printed, by the card it was ordered with.
    said = words(client.get("/jobs/14/sheet?temperature=30"))
    for cup in plans.every(store):
        assert f"{cup.code} " in said
    assert said.count("RES-L+HRD-S@3") == 3 and "112.6 33.8 146.4" in said
    assert "97.9 + 4.9 g PIG-W 39.1 137.0" in said
    assert "ordered on" in said and "not ordered yet" not in said
    assert "colder than the data sheet" in words(client.get("/jobs/14/sheet?temperature=15"))
    assert client.get("/jobs/14/sheet.pdf?temperature=30").status_code == 200
    for end in ("sheet", "sheet.pdf"):
        wrong = client.get(f"/jobs/14/{end}?temperature=60")
        assert wrong.status_code == 422 and "0 to 50 is allowed" in words(wrong)
    put_hatch(store, tools_g=30)
    other = words(client.get("/jobs/14/sheet"))
    assert "not ordered yet" in other and "4 cups of other revisions of this job wait" in other


def test_wet_on_wet_nothing_is_waited_for_between_plies(client: FlaskClient, store: Store) -> None:
    catalogue.revise(store, replace(SLOW, tack=TackWindow(120, 360, 20)), AT)
    catalogue.revise(store, replace(COAT, tack=TackWindow(240, 480, 20)), AT)
    put_hatch(store, peel_ply_g_m2=40)
    steps = words_of(client.get("/jobs/14").text, "steps")
    assert "finger test SRF-A+SRF-B after the coat: 4 h to 8 h, the finger decides" in steps
    assert steps.count("next ply at once, within 6 h; later abrade first") == 3
    assert re.search(r"ply 4 C200 at 0° \d+\. peel ply", steps)


def test_a_job_that_is_only_a_name_says_so(client: FlaskClient) -> None:
    assert "only a name so far" in client.get("/jobs/15").text
    for path in ("cutting", "sheet", "sheet.pdf"):
        assert client.get(f"/jobs/15/{path}").status_code == 404
    assert client.get("/jobs/15.json").status_code == 404
    assert client.get("/jobs/nowhere").status_code == 404


def test_missing_cards_are_said_and_break_nothing(client: FlaskClient, store: Store) -> None:
    for change in ({"system": "GONE"}, {"release_agent": "GONE"}):
        put_hatch(store, **change)
        assert "GONE" in words(client.get("/jobs/14"))
        assert client.get("/jobs/14/sheet.pdf").status_code == 200


def test_harmful_texts_stay_texts(client: FlaskClient, store: Store) -> None:
    for number, text in enumerate(HARMFUL):
        plies = tuple(replace(ply, cloth=text) for ply in HATCH.plies)
        order: JobOrder = replace(HATCH, job=f"h{number}", part=text, plies=plies, serial="")
        catalogue.put(store, Job(f"h{number}", 1, text, order, text), AT)
    catalogue.put(store, Cloth(HARMFUL[0], 1, HARMFUL[1], 200, 1.8, 1.2), AT)
    # One of each way out; every text is on the list.
    shorter = [HARMFUL.index(text) for text in SHORTER]
    pages = ["/jobs", "/jobs.csv", f"/jobs/h{shorter[0]}/sheet.pdf"]
    ends = ("", "/edit", "/cutting", "/sheet", ".json", ".toml")
    pages += [f"/jobs/h{n}{end}" for n in shorter for end in ends]
    for path in pages:
        answer = client.get(path)
        assert answer.status_code == 200, path
        if answer.headers["Content-Type"].startswith("text/html"):
            assert "<script>window" not in answer.text and "<img src=x" not in answer.text


def test_it_explains_every_field_a_page_of_jobs_is_rendered_from() -> None:
    for name, kind in vars(job_context).items():
        if is_dataclass(kind) and kind.__module__.startswith("companion.web"):
            hints = get_type_hints(kind, include_extras=True)
            for field in fields(kind):
                assert hints[field.name].__metadata__[0], f"{name}.{field.name}"


def test_cups_of_an_earlier_revision_that_nobody_started_are_withdrawn(
    client: FlaskClient, store: Store
) -> None:
    first = put_hatch(store)
    order_cups(client, "14")
    before = [plan for plan in plans.of_job(store, "14") if plan.job == first.name]
    assert len(before) == 4
    second = put_hatch(store, tools_g=30)
    assert "withdrawn when these are ordered" in words(client.get("/jobs/14"))
    order_cups(client, "14")
    assert {plan.job for plan in plans.of_job(store, "14")} == {second.name}
    withdrawn = {plan.code for plan in plans.every(store, withdrawn=True) if plan.withdrawn_at}
    assert withdrawn >= {plan.code for plan in before}


def test_work_goes_on_by_the_revision_it_began_with(store: Store) -> None:
    first = put_hatch(store, release_agent="WAX")
    with store.write() as connection:
        begun = Row(kind="step_done", job=first.name, step="mould")
        office_log.append(connection, [begun], AT)
    put_hatch(store, plies=HATCH.plies[:1])
    catalogue.revise(store, replace(WAX, coats=5), "2026-03-08T12:00:00.000Z")
    (sheet,) = lay_up_sheets.open_sheets(store)
    assert sheet.job == first.name
    steps = [step.name for step in sheet.steps]
    assert "release 3" in steps and "release 4" not in steps and "ply 4" in steps
