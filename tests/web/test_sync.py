"""The interface of the phones: checked as a whole, answered for row by row."""

import csv
import io
import json
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from companion.records import aside, log, phones
from companion.trade.codes import is_label
from companion.trade.rows import COLUMNS
from companion.web.state import now_utc
from companion.wire.digest import content_digest
from companion.wire.log_csv import write_log
from tests.sample_rows import LOG_ID, OTHER_LOG_ID, row, three_rows

URL = f"/api/v1/logs/{LOG_ID}/rows"
BODY = write_log(three_rows()).encode()


def post(client: FlaskClient, body: bytes, rows: int | str = 3, **changes: str) -> TestResponse:
    """Send a body as the phone does, but for the headers that are changed."""
    headers = {
        "Content-Type": "text/csv; charset=utf-8; header=present",
        "Content-Digest": content_digest(body),
        "Row-Count": str(rows),
        "Sent-At": "2026-03-07T12:00:00.000Z",
        "Codes-Left": "500",
        "App-Version": "0.1.0+test",
        **{name.replace("_", "-"): value for name, value in changes.items()},
    }
    return client.post(URL, data=body, headers=headers)


def held(app: Flask) -> list[str]:
    """Event ids of the phone's rows on the server."""
    store = app.extensions["companion"].store
    return [found.event_id for found in log.all_rows(store, log_id=LOG_ID)]


def strays(app: Flask) -> list[aside.Stray]:
    return aside.all_strays(app.extensions["companion"].store)


def test_it_acknowledges_exactly_what_was_sent(app: Flask, client: FlaskClient) -> None:
    answer = post(client, BODY)
    assert answer.status_code == 200
    ack = answer.get_json()
    identity = app.extensions["companion"].identity
    assert ack["server_id"] == identity.server_id
    assert ack["epoch"] == identity.epoch
    assert ack["log_id"] == LOG_ID
    assert ack["digest"] == content_digest(BODY)
    assert (ack["have_upto"], ack["missing"]) == (3, [])
    assert [result["status"] for result in ack["results"]] == ["stored"] * 3
    assert ack["server_time"].endswith("Z")
    assert ack["codes"] == []
    assert held(app) == [row.event_id for row in three_rows()]


def test_it_refills_codes_that_run_low_and_never_gives_one_twice(client: FlaskClient) -> None:
    first = post(client, BODY, Codes_Left="199").get_json()["codes"]
    second = post(client, BODY, Codes_Left="0").get_json()["codes"]
    asked = client.post("/api/v1/codes", json={"log_id": OTHER_LOG_ID}).get_json()["codes"]
    assert (len(first), len(second), len(asked)) == (301, 500, 500)
    every = [*first, *second, *asked]
    assert len(set(every)) == len(every)
    assert all(is_label(code) for code in every)


def test_it_notes_how_far_the_clock_of_the_phone_is_off(app: Flask, client: FlaskClient) -> None:
    post(client, BODY, Sent_At="2020-01-01T00:00:00.000Z")
    found = phones.all_logs(app.extensions["companion"].store, now_utc())
    known = {phone.log_id: phone for phone in found}
    phone = known[LOG_ID]
    assert phone.clock_offset_ms is not None and phone.clock_offset_ms > 6 * 365 * 86400 * 1000


def test_rows_meant_for_another_shop_are_not_kept(app: Flask, client: FlaskClient) -> None:
    answer = post(client, BODY, Server_Id="11111111-1111-4111-8111-111111111111")
    assert answer.status_code == 409
    assert answer.get_json()["type"] == "urn:companion:problem:other_server"
    assert held(app) == [] and strays(app) == []
    own = app.extensions["companion"].identity.server_id
    assert post(client, BODY, Server_Id=own).status_code == 200


def test_the_end_of_a_cup_two_phones_wrote_to_is_told_to_both(client: FlaskClient) -> None:
    post(client, BODY)
    end = row(4, log_id=OTHER_LOG_ID, seq=1, kind="scrapped", component="", value="", unit="")
    body = write_log([end]).encode()
    client.post(
        URL.replace(LOG_ID, OTHER_LOG_ID),
        data=body,
        headers={
            "Content-Type": "text/csv",
            "Content-Digest": content_digest(body),
            "Row-Count": "1",
        },
    )
    told = [cup["rows"] for cup in bundle(client)["open_cups"] if cup["code"] == "7K2QMS"]
    assert [found["kind"] for found in told[0]][-1] == "scrapped"


BROKEN = {
    "digest of another body": ({"Content_Digest": content_digest(b"other")}, 400, "digest"),
    "no digest": ({"Content_Digest": ""}, 400, "digest"),
    "digest by another rule": ({"Content_Digest": "md5=:AAAA:"}, 400, "digest"),
    "count too low": ({"rows": "2"}, 400, "row_count"),
    "count too high": ({"rows": "4"}, 400, "row_count"),
    "no count": ({"rows": ""}, 400, "row_count"),
    "count in words": ({"rows": "three"}, 400, "row_count"),
    "json": ({"Content_Type": "application/json"}, 400, "content_type"),
    "no type": ({"Content_Type": ""}, 400, "content_type"),
    "compressed": ({"Content_Encoding": "gzip"}, 415, "content_encoding"),
}


@pytest.mark.parametrize("changes, status, kind", BROKEN.values(), ids=BROKEN.keys())
def test_it_refuses_a_body_it_cannot_be_sure_of(
    app: Flask, client: FlaskClient, changes: dict[str, str], status: int, kind: str
) -> None:
    answer = post(client, BODY, **{"rows": 3, **changes})
    assert answer.status_code == status
    assert answer.content_type == "application/problem+json"
    problem = answer.get_json()
    assert problem["type"] == f"urn:companion:problem:{kind}"
    assert problem["field"] and problem["allowed"]
    assert held(app) == [] and strays(app) == []


def _without(column: str) -> bytes:
    reader = csv.DictReader(io.StringIO(BODY.decode(), newline=""))
    out = io.StringIO(newline="")
    kept = [name for name in COLUMNS if name != column]
    writer = csv.DictWriter(out, kept, extrasaction="ignore", lineterminator="\r\n")
    writer.writeheader()
    writer.writerows(reader)
    return out.getvalue().encode()


MALFORMED = {
    "empty": (b"", 0, "header_missing"),
    "open quote": (BODY.replace(b"ply 1", b'"ply 1', 1), 3, "not_csv"),
    "byte order mark": (b"\xef\xbb\xbf" + BODY, 3, "byte_order_mark"),
    "nul": (BODY.replace(b"ply 1", b"ply\x001", 1), 3, "nul"),
    "not utf-8": (BODY.replace(b"lunch", b"\xff\xfe"), 3, "not_utf8"),
    "column missing": (_without("unit"), 3, "column_missing"),
    "column doubled": (BODY.replace(b",unit,", b",unit,unit,", 1), 3, "column_doubled"),
    "login page": (b"<!doctype html><form>", 0, "column_missing"),
}


@pytest.mark.parametrize("body, count, kind", MALFORMED.values(), ids=MALFORMED.keys())
def test_it_refuses_a_malformed_body(
    app: Flask, client: FlaskClient, body: bytes, count: int, kind: str
) -> None:
    answer = post(client, body, count)
    assert answer.status_code == 400
    assert answer.get_json()["type"] == f"urn:companion:problem:{kind}"
    assert answer.get_json()["allowed"]
    assert held(app) == [] and strays(app) == []


def test_a_body_cut_at_any_byte_stores_nothing(app: Flask, client: FlaskClient) -> None:
    whole = {"Content_Digest": content_digest(BODY)}
    for length in range(len(BODY)):
        answer = post(client, BODY[:length], 3, **whole)
        assert answer.status_code == 400
    assert held(app) == [] and strays(app) == []
    assert post(client, BODY, 3, **whole).status_code == 200


def test_a_body_cut_at_any_byte_and_digested_anew_stores_no_row_that_was_never_written(
    app: Flask, client: FlaskClient
) -> None:
    """Even a line that re-made the digest cannot turn half a row into a row."""
    sent = [found.event_id for found in three_rows()]
    for length in range(0, len(BODY), 3):
        cut = BODY[:length]
        post(client, cut, cut.count(b"\r\n1,"))
    assert held(app) == sent[: len(held(app))]
    store = app.extensions["companion"].store
    assert log.all_rows(store, log_id=LOG_ID) == three_rows()[: len(held(app))]


TOO_LARGE = {
    "rows": write_log([row(number, note="") for number in range(1, 502)]).encode(),
    "bytes": write_log([row(number, note="x" * 990) for number in range(1, 260)]).encode(),
    "megabytes": b"x" * (3 * 1024 * 1024),
}


@pytest.mark.parametrize("body", TOO_LARGE.values(), ids=TOO_LARGE.keys())
def test_it_refuses_a_body_that_is_too_large(app: Flask, client: FlaskClient, body: bytes) -> None:
    answer = post(client, body, body.count(b"\r\n") - 1)
    assert answer.status_code == 413
    assert "at most" in answer.get_json()["allowed"] or "smaller" in answer.get_json()["allowed"]
    assert held(app) == []


@pytest.mark.parametrize("log_id", ["x", "..", LOG_ID.upper().replace("1", "A"), "0" * 36])
def test_it_refuses_a_log_id_that_is_none(client: FlaskClient, log_id: str) -> None:
    answer = client.post(f"/api/v1/logs/{log_id}/rows", data=BODY)
    assert answer.status_code in (404, 422)
    assert answer.content_type == "application/problem+json"


@pytest.mark.parametrize("body", [b"", b"[]", b"{}", b'{"log_id": 5}', b'{"log_id": "x"}', b"{"])
def test_it_gives_codes_to_known_phones_only(client: FlaskClient, body: bytes) -> None:
    answer = client.post("/api/v1/codes", data=body, headers={"Content-Type": "application/json"})
    assert answer.status_code == 422
    assert answer.get_json()["field"] == "log_id"


def bundle(client: FlaskClient) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(client.get("/api/v1/bundle").get_data())
    return found


def test_the_bundle_has_a_strong_tag_and_is_not_sent_twice(client: FlaskClient) -> None:
    first = client.get("/api/v1/bundle")
    tag = first.headers["ETag"]
    assert not tag.startswith("W/")
    again = client.get("/api/v1/bundle", headers={"If-None-Match": tag})
    assert (again.status_code, again.get_data()) == (304, b"")
    post(client, BODY)
    assert client.get("/api/v1/bundle", headers={"If-None-Match": tag}).status_code == 200


def test_the_bundle_holds_what_a_phone_needs_to_work_alone(client: FlaskClient) -> None:
    found = bundle(client)
    assert found["format"] == 1
    assert {card["code"] for card in found["systems"]} == {
        "RES-L+HRD-S",
        "RES-L+HRD-F",
        "SRF-A+SRF-B",
    }
    assert {card["code"] for card in found["scales"]} == {"S1", "S2"}
    assert len(found["planned_cups"]) >= 4
    assert found["people"] == {"O": "Owner", "H": "Helper"}
    assert all(is_label(can["code"]) for can in found["containers"])


def test_an_open_cup_comes_with_its_rows_and_leaves_when_it_is_closed(client: FlaskClient) -> None:
    def open_rows() -> list[dict[str, Any]]:
        cups = [cup for cup in bundle(client)["open_cups"] if cup["code"] == "7K2QMS"]
        return cups[0]["rows"] if cups else []

    assert open_rows() == []
    post(client, BODY)
    assert [found["event_id"] for found in open_rows()] == [r.event_id for r in three_rows()]
    end = row(4, kind="scrapped", component="", value="", unit="", typed="", note="dropped")
    post(client, write_log([end]).encode(), 1)
    assert open_rows() == []
    struck = row(5, kind="voided", component="", value="", unit="", refers_to=end.event_id)
    post(client, write_log([struck]).encode(), 1)
    assert len(open_rows()) == 5
