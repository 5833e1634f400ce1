"""A paste in part A: planned in the office, on the list, on the label and in the story (T13)."""

import io
import re

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.records import catalogue, plans
from companion.records.store import Store
from companion.trade.cards import Additive
from companion.web.state import now_utc
from companion.wire.log_csv import write_log
from tests.sample_rows import CUP, row
from tests.web.test_office import text_of

TINTED = {
    "system": "SRF-A+SRF-B@1",
    "total": "137",
    "count": "1",
    "step": "surface coat",
    "additive": "PIG-W",
    "additive_pct": "5",
}


@pytest.fixture
def store(app: Flask) -> Store:
    """Records that know the paste, whether or not the demo brings one."""
    found: Store = app.extensions["companion"].store
    known = [card for card in catalogue.latest(found, Additive) if card.code == "PIG-W"]
    revision = known[0].revision if known else 0
    card = Additive("PIG-W", revision, "white pigment paste", 5)
    catalogue.revise(found, card, now_utc())
    return found


def test_it_keeps_the_paste_and_names_it_wherever_the_cup_stands(
    client: FlaskClient, store: Store
) -> None:
    before = {plan.code for plan in plans.every(store)}
    answer = client.post("/plan", data={**TINTED, "additive_pct": "5,0"})
    assert answer.status_code == 303
    (planned,) = [plan for plan in plans.every(store) if plan.code not in before]
    assert (planned.total, planned.additive, planned.additive_pct) == ("137", "PIG-W", "5.0")
    for path in (answer.headers["Location"], "/", f"/cups/{planned.code}"):
        assert "137 97.9 + 4.9 g paste PIG-W 39.1" in text_of(client.get(path))
    labels = client.get("/labels", query_string={"what": "cups", "plan": planned.made_at})
    assert "+ 4.9 g paste PIG-W" in labels.text
    bundle = client.get("/api/v1/bundle").get_json()
    (sent,) = [cup for cup in bundle["planned_cups"] if cup["code"] == planned.code]
    assert (sent["additive"], sent["additive_pct"]) == ("PIG-W", "5.0")
    (sent_card,) = [card for card in bundle["additives"] if card["code"] == "PIG-W"]
    assert sent_card["cap_pct"] == 5


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        (
            {"additive_pct": "8"},
            "Share of the paste: 8 % asked, at most 5 % by the card of PIG-W: 4.9 g in 97.9 g A.",
        ),
        (
            {"additive_pct": "8", "total": ""},
            "Share of the paste: 8 % asked, at most 5 % by the card of PIG-W.",
        ),
        ({"additive_pct": ""}, "Share of the paste is empty. Per cent of part A are needed."),
        ({"additive_pct": "0"}, "Share of the paste: “0” %. More than 0 % is needed."),
        ({"additive_pct": "-2"}, "Share of the paste: “−2” is below zero."),
        ({"additive_pct": "1.2345678"}, "Share of the paste: “1.2345678” has too many digits."),
        ({"additive_pct": "a lot"}, "Share of the paste: “a lot” is not a figure."),
        ({"additive": ""}, "Paste: none is chosen for “5” %."),
        ({"additive": "PIG-X"}, "Paste: “PIG-X” is not on the list."),
        (
            {"total": "145"},
            "Total: 145 g and 5.2 g of paste on top are more than the largest cup of "
            "SRF-A+SRF-B@1, 150 g.",
        ),
    ],
)
def test_it_refuses_a_paste_with_field_value_and_limit(
    client: FlaskClient, store: Store, changed: dict[str, str], said: str
) -> None:
    before = plans.every(store)
    answer = client.post("/plan", data={**TINTED, **changed})
    assert answer.status_code == 422
    assert said in re.sub(r"\s+", " ", answer.text)
    assert plans.every(store) == before


def test_it_says_where_paste_and_fillers_go(client: FlaskClient, store: Store) -> None:
    page = text_of(client.get("/plan"))
    assert "PIG-W · white pigment paste · at most 5 %" in page
    assert "The total stays A and B; the paste comes on top of it" in page
    assert "Fillers go in only after A and B are mixed" in page
    assert "The data sheet decides." in page


def test_it_writes_figures_in_the_language(client: FlaskClient, store: Store) -> None:
    german = {"Accept-Language": "de"}
    page = client.post("/plan", data={**TINTED, "additive_pct": "8"}, headers=german).text
    assert "4,9" in page
    assert "97,9" in page


def test_it_refuses_20_g_and_warns_of_30_g(client: FlaskClient, store: Store) -> None:
    small = {"system": "RES-L+HRD-S@3", "count": "1"}
    refused = client.post("/plan", data={**small, "total": "20"})
    assert refused.status_code == 422
    assert "smallest cup scale S1 can judge is 20.9 g" in text_of(refused)
    offered = client.post("/plan", data={**small, "total": "30"}, follow_redirects=True)
    page = text_of(offered)
    assert "30 23.1 6.9" in page
    assert "Scale S1, the finest here, proves a cup of this size only in part: below 62.6 g" in page


def test_the_story_names_the_paste_and_judges_part_a_alone(
    client: FlaskClient, store: Store
) -> None:
    of_coat = {"system": "SRF-A+SRF-B@1", "step": "surface coat"}
    rows = [
        row(1, kind="cup_started", component="", value="137", typed="", **of_coat),
        row(2, component="cup", value="8.4", **of_coat),
        row(3, value="106.3", **of_coat),
        row(4, component="PIG-W", value="111.2", target="111.2", **of_coat),
        row(5, component="b", value="150.4", **of_coat),
    ]
    body = {"file": (io.BytesIO(write_log(rows).encode()), "phone.csv")}
    assert client.post("/import", data=body).status_code == 200
    page = text_of(client.get(f"/cups/{CUP}"))
    assert "Paste PIG-W 4.9 g, 5.0 % of part A" in page
    assert "additive PIG-W read" in page
    assert "Part A 97.9 g Part B 39.2 g Total in the cup 142.0 g" in page
    assert "A resin, B hardener (hatched), + paste" in page
