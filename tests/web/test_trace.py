"""The trace page, from one code to the next."""

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.records import catalogue, lineage, parts, trace
from companion.records.store import Store
from companion.trade.cards import Container, Lot
from tests.web.cards import words


def store_of(app: Flask) -> Store:
    store: Store = app.extensions["companion"].store
    return store


def test_one_walks_from_a_cup_to_its_lot_and_to_the_other_cups(
    app: Flask, client: FlaskClient
) -> None:
    story = next(one for one in trace.latest_stories(store_of(app), 50) if lineage.lots_used(one))
    use = lineage.lots_used(story)[0]
    page = client.get(f"/trace?code={story.code.lower()}").text
    assert f'href="/cups/{story.code}"' in page
    assert f'href="/trace?code={use.lot}"' in page
    of_lot = client.get(f"/trace?code={use.lot}").text
    found = lineage.trace(store_of(app), use.lot).lot
    assert found is not None
    assert all(f"/cups/{one.code}" in of_lot for one in found.cups)
    assert f'href="/trace?code={use.container}"' in of_lot
    assert use.lot in client.get(f"/trace?code={use.container}").text


def test_the_story_of_a_cup_links_its_lots(app: Flask, client: FlaskClient) -> None:
    story = next(one for one in trace.latest_stories(store_of(app), 50) if lineage.lots_used(one))
    assert "/trace?code=" in client.get(f"/cups/{story.code}").text


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("HL-9999", "Nothing is on record under “HL-9999”."),
        ("HRDZSM", "Is it HRD2SM?"),
        ("<b>", "Nothing is on record under “&lt;b&gt;”."),
    ],
)
def test_what_is_not_on_record_is_said(client: FlaskClient, typed: str, says: str) -> None:
    answer = client.get("/trace", query_string={"code": typed})
    assert answer.status_code == 404
    assert says in answer.text


def test_at_first_it_says_what_it_is_for(client: FlaskClient) -> None:
    answer = client.get("/trace")
    assert answer.status_code == 200
    assert "to every cup it went into" in answer.text


def test_a_part_leads_to_the_cups_of_its_job(app: Flask, client: FlaskClient) -> None:
    story = next(one for one in trace.latest_stories(store_of(app), 50) if one.cup and one.cup.uses)
    assert story.cup is not None
    job = story.cup.uses[0].job
    code = parts.add(store_of(app), job, "T-1", "2026-03-07T10:00:00.000Z")
    for asked in (code, "T-1", f"HTTPS://COMPANION.LOCAL/P/{code}"):
        page = client.get("/trace", query_string={"code": asked}).text
        assert "T-1" in page and f"/cups/{story.code}" in page


def test_a_recall_is_a_page_and_a_file(app: Flask, client: FlaskClient) -> None:
    store = store_of(app)
    names = {lot.code for lot in catalogue.latest(store, Lot)}
    (can, *_) = catalogue.latest(store, Container)
    for code in (can.lot, can.code):
        page = words(client.get(f"/trace?code={code}"))
        assert "Cannot be excluded" in page and "Proven clear" in page
        answer = client.get(f"/trace.csv?code={code}")
        assert answer.status_code == 200
        head, *found = answer.text.removeprefix("\ufeff").splitlines()
        assert head == "Finding,What,Code,Serial,Job,Begun or shipped (UTC),Customer"
        assert {line.partition(",")[0] for line in found} <= {
            "in it",
            "cannot be excluded",
            "proven clear",
        }
        assert any(line.startswith("in it,cup,") for line in found)
    assert can.lot in names
    assert client.get("/trace.csv?code=NOTHING").status_code == 404
    assert client.get("/trace.csv").status_code == 404
