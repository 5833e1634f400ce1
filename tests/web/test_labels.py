"""The page that makes labels: what it offers, shows, makes and refuses."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.app import create_app
from companion.config import Config
from companion.paper.sheet import A4_3X8, ROLL_62X29, Sheet, written
from companion.records import labels, plans
from companion.records.schema import codes
from companion.records.store import Store
from companion.trade.codes import is_label
from tests.conftest import OwnOrigin
from tests.paper.raster import rasterise, read_zxing, words


@pytest.fixture
def store(app: Flask) -> Store:
    found: Store = app.extensions["companion"].store
    return found


@pytest.fixture(scope="module")
def steady(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    """One application for all forms that must change nothing."""
    application = create_app(Config(tmp_path_factory.mktemp("steady") / "data", demo=True))
    application.test_client_class = OwnOrigin
    yield application
    application.extensions["companion"].store.close()


def given(store: Store) -> int:
    """Codes minted so far."""
    with store.read() as connection:
        return len(connection.execute(codes.select()).all())


def form(what: str = "cups", sheet: Sheet = A4_3X8, **fields: object) -> dict[str, object]:
    """A form as a browser sends it."""
    return {"what": what, "shown": "1", **written(sheet), **fields}


def text_of(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


def planned(store: Store) -> list[str]:
    return [plan.code for plan in plans.every(store)]


def test_it_offers_the_cups_that_have_no_label_yet(client: FlaskClient, store: Store) -> None:
    page = client.get("/labels").text
    assert page.count('name="codes"') == page.count(" checked") == 5
    first, *others = planned(store)
    labels.mark_printed(store, [first], "2026-03-07T10:00:00.000Z")
    page = client.get("/labels").text
    assert f'value="{first}">' in page
    assert all(f'value="{code}" checked>' in page for code in others)
    assert "label made Mar 7, 2026, 10:00 (UTC)" in page


def test_it_shows_the_first_label_in_its_true_size_and_the_first_page(client: FlaskClient) -> None:
    page = client.get("/labels").text
    assert 'width="70.0mm" height="37.0mm" viewBox="0 0 70.0 37.0"' in page
    assert 'width="210.0mm" height="297.0mm"' in page
    assert page.count('class="print-edge"') == 24
    assert page.count('class="print-black"') == 6
    assert "A 112.6 g" in page and "B = 0.300 × A poured" in page
    assert "5 labels, 1 page." in text_of(page)
    picture = page[page.index('<svg class="print-paper') :]
    assert "33.8" not in picture and "146.4" not in picture


def test_it_starts_from_a_roll(client: FlaskClient) -> None:
    page = client.get("/labels?what=containers&preset=roll").text
    assert 'name="label_width_mm" type="text" value="62"' in page
    assert "8 labels, 8 pages." in text_of(page)
    assert "print-edge" not in page and "Lot HL-2291" in page


def test_it_makes_the_labels_that_are_ticked(
    client: FlaskClient, store: Store, tmp_path: Path
) -> None:
    wanted = planned(store)[1:3]
    answer = client.post("/labels", data=form(codes=wanted, start="4"))
    assert answer.status_code == 200
    assert answer.headers["Content-Type"] == "application/pdf"
    assert answer.headers["Content-Disposition"] == 'attachment; filename="labels.pdf"'
    assert answer.headers["Cache-Control"] == "no-store"
    (page,) = rasterise(answer.data, tmp_path)
    assert sorted(one.text for one in read_zxing(page)) == sorted(wanted)
    assert set(labels.printed(store)) == set(wanted)


def test_it_mints_codes_for_blank_labels_only_when_they_are_made(
    client: FlaskClient, store: Store, tmp_path: Path
) -> None:
    before = given(store)
    page = client.get("/labels?what=blank&shown=1&count=3").text
    assert "3 labels, 1 page." in text_of(page) and "print-frame" in page
    assert given(store) == before
    answer = client.post("/labels", data=form("blank", count="3"))
    assert given(store) == before + 3
    found = [one.text for page in rasterise(answer.data, tmp_path) for one in read_zxing(page)]
    assert len(set(found)) == 3 and all(is_label(code) for code in found)
    assert not set(found) & set(labels.take(store, 500, "", "2026"))


def test_it_speaks_the_language_of_the_office_on_the_label(
    client: FlaskClient, store: Store, tmp_path: Path
) -> None:
    german = {"Accept-Language": "de"}
    answer = client.post("/labels", data=form(codes=planned(store)[:1]), headers=german)
    said = words(answer.data, tmp_path)
    for word in ("A 112,6 g", "B = 0,300 ×", "Becher", "Kürzel", "verwenden bis"):
        assert word in said


WRONG = [
    ({"codes": []}, "codes", "Nothing is ticked. Tick at least one."),
    ({"codes": ["7K2QMS"]}, "codes", "“7K2QMS” is not on the list."),
    ({"codes": ["<script>"]}, "codes", "“&lt;script&gt;” is not on the list."),
    ({"rows": "9"}, "rows", "Rows: “9”. 1 to 8 is allowed."),
    ({"rows": "x" * 99}, "rows", f"Rows: “{'x' * 40}…” is not a figure."),
    ({"rows": "2,5"}, "rows", "Rows: 2.5. A whole number is needed."),
    ({"columns": ""}, "columns", "Columns: “” is not a figure."),
    ({"label_width_mm": "80"}, "label_width_mm", "Label width, mm: “80”. 61.8 to 70 is allowed."),
    ({"label_height_mm": "3.7.0"}, "label_height_mm", "Label height, mm: “3.7.0” is not a figure."),
    ({"page_width_mm": "0"}, "page_width_mm", "Page width, mm: “0”. 20 to 450 is allowed."),
    ({"page_height_mm": "1e3"}, "page_height_mm", "Page height, mm: “1e3” is not a figure."),
    ({"left_mm": "-1"}, "left_mm", "Left margin, mm: “\u22121” is not a figure."),
    ({"left_mm": "200"}, "page_width_mm", "With these margins no label fits the page."),
    ({"gap_x_mm": "100"}, "columns", "Columns: “3”. 1 to 1 is allowed."),
    ({"start": "25"}, "start", "First label: “25”. 1 to 24 is allowed."),
    ({"start": "\u0663\u0663"}, "start", "First label: “33”. 1 to 24 is allowed."),
    ({"what": "blank", "count": "241"}, "count", "Number of labels: “241”. 1 to 240 is allowed."),
    ({"what": "blank", "count": "1e2"}, "count", "Number of labels: “1e2”. 1 to 240 is allowed."),
    ({"what": "blank", "count": ""}, "count", "Number of labels: “”. 1 to 240 is allowed."),
]


@pytest.mark.parametrize(("changes", "field", "words"), WRONG)
def test_it_says_field_by_field_what_is_wrong(
    steady: Flask, changes: dict[str, object], field: str, words: str
) -> None:
    client, store = steady.test_client(), steady.extensions["companion"].store
    before = given(store)
    sent = {**form(codes=planned(store)[:2]), **changes}
    for answer in (client.post("/labels", data=sent), client.get("/labels", query_string=sent)):
        assert answer.status_code == 422
        assert words in answer.text
        assert f'<a href="#{field}">' in answer.text
        assert f'id="{field}"' in answer.text and f'id="{field}-error"' in answer.text
        assert "<title>DEMO · Error:" in re.sub(r"\s+", " ", answer.text)
        assert "<script" not in answer.text and '<svg class="print' not in answer.text
    assert given(store) == before and labels.printed(store) == {}


def test_it_keeps_what_was_typed(client: FlaskClient, store: Store) -> None:
    (code,) = planned(store)[:1]
    page = client.get("/labels", query_string=form(codes=[code], sheet=ROLL_62X29, gap_x_mm="a"))
    assert 'value="a"' in page.text and page.text.count(" checked") == 1
    assert f'value="{code}" checked' in page.text


def test_it_takes_a_comma_and_the_figures_of_the_reader(client: FlaskClient, store: Store) -> None:
    sent = form(codes=planned(store)[:1], label_height_mm="36,5")
    assert client.post("/labels", data=sent).status_code == 200
    german = client.get("/labels", headers={"Accept-Language": "de"}).text
    assert 'name="top_mm" type="text" value="0,5"' in german


def test_it_refuses_forms_of_another_origin(client: FlaskClient, store: Store) -> None:
    before = given(store)
    sent = form("blank", count="3")
    answer = client.post("/labels", data=sent, headers={"Origin": "http://elsewhere.example"})
    assert answer.status_code == 403
    assert given(store) == before


def test_it_does_not_offer_cups_that_were_started_or_withdrawn(
    client: FlaskClient, store: Store
) -> None:
    code = planned(store)[0]
    client.post(f"/cups/{code}/withdraw")
    assert code not in client.get("/labels").text


def test_it_says_so_when_there_is_nothing_to_label(client: FlaskClient, store: Store) -> None:
    for code in planned(store):
        plans.withdraw(store, code, "2026-03-07T10:00:00.000Z")
    answer = client.get("/labels")
    assert answer.status_code == 200
    assert "No planned cup waits to be weighed." in answer.text
    assert "Nothing to show yet." in answer.text


def test_the_office_leads_to_the_labels(client: FlaskClient, store: Store) -> None:
    assert client.get("/").text.count('href="/labels"') == 2
    sent = {"system": "RES-L+HRD-S@3", "total": "146,4", "count": "2"}
    page = client.get(client.post("/plan", data=sent).headers["Location"]).text
    (link,) = re.findall(r'href="(/labels\?[^"]*)"', page)
    shown = client.get(link.replace("&amp;", "&")).text
    assert shown.count(" checked") == shown.count('name="codes"') == 2
