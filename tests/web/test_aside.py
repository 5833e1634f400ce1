"""The worklist of rows set aside, as a person in the office uses it."""

from dataclasses import replace

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.records import log
from companion.wire.digest import content_digest
from companion.wire.log_csv import write_log
from tests.records.test_office_log import cup, raw_of
from tests.sample_rows import LOG_ID


@pytest.fixture
def sent(client: FlaskClient) -> FlaskClient:
    """A cup, a reading in conflict with it, and one that is not what it should be."""
    send(client, write_log(cup()[:4]))
    send(client, write_log([replace(cup()[2], value="999.9")]))
    send(client, write_log([]) + raw_of(cup()[4], **{"155_2": "heavy"}) + "\r\n")
    return client


def send(client: FlaskClient, body: str, log_id: str = LOG_ID):
    return client.post(
        f"/api/v1/logs/{log_id}/rows",
        data=body.encode(),
        headers={
            "Content-Type": "text/csv",
            "Content-Digest": content_digest(body.encode()),
            "Row-Count": str(body.count("\r\n") - 1),
        },
    )


def test_it_lists_what_waits_the_oldest_first(sent: FlaskClient) -> None:
    page = sent.get("/aside").text
    assert "2 rows wait for a decision." in page
    assert page.index("999.9") < page.index("heavy")


def test_a_conflict_is_shown_beside_the_stored_row(sent: FlaskClient) -> None:
    page = sent.get("/aside/1").text
    assert "≠ value" in page
    assert "≠ typed" not in page
    assert "121.3" in page and "999.9" in page


def test_a_row_is_left_out_with_name_and_reason(sent: FlaskClient) -> None:
    answer = sent.post("/aside/1/leave-out", data={"decided_by": "O", "reason": "a slip"})
    assert (answer.status_code, answer.headers["Location"]) == (303, "/aside#row-1")
    page = sent.get("/aside").text
    assert "1 row waits for a decision." in page
    assert "left out" in page and "a slip" in page and "Owner" in page
    assert "a slip" in sent.get("/cups/7K2QMS").text


def test_a_quarantined_row_is_corrected_field_by_field(app: Flask, sent: FlaskClient) -> None:
    form = {"decided_by": "O", "reason": "pencil note"}
    answer = sent.post("/aside/2/take-in", data={**form, "row-value": "155;2"})
    assert answer.status_code == 422
    assert "value “155;2”: the column “value” does not hold what it should" in answer.text
    assert 'value="155;2"' in answer.text
    store = app.extensions["companion"].store
    assert log.row_with_id(store, cup()[4].event_id) is None
    answer = sent.post("/aside/2/take-in", data={**form, "row-value": "155.2"})
    assert answer.status_code == 303
    taken = log.row_with_id(store, cup()[4].event_id)
    assert taken is not None and taken.value == "155.2"
    assert "In" in sent.get("/cups/7K2QMS").text


@pytest.mark.parametrize(
    ("form", "says"),
    [
        ({"reason": "a slip"}, "Choose who decides."),
        ({"decided_by": "NOBODY", "reason": "a slip"}, "Choose who decides."),
        ({"decided_by": "O", "reason": "  "}, "Write the reason"),
        ({"decided_by": "O", "reason": "a\x07bell"}, "a character that cannot be seen"),
        ({"decided_by": "O", "reason": "x" * 501}, "501 characters; 500 are allowed"),
    ],
)
def test_a_decision_needs_a_name_and_a_reason(sent: FlaskClient, form, says) -> None:
    for path in ("/aside/1/leave-out", "/aside/2/take-in"):
        answer = sent.post(path, data=form)
        assert answer.status_code == 422
        assert says in answer.text
    assert "2 rows wait" in sent.get("/aside").text


def test_long_lists_are_paged(client: FlaskClient) -> None:
    records = [raw_of(replace(cup()[2], seq=number), **{"121_3": "x"}) for number in range(1, 61)]
    send(client, write_log([]) + "".join(f"{one}\r\n" for one in records))
    first, second = client.get("/aside").text, client.get("/aside?page=2").text
    assert (first.count("<pre"), second.count("<pre")) == (50, 10)
    assert "Page 1 of 2" in first and "Page 2 of 2" in second
    assert client.get("/aside?page=x").status_code == 200


def test_a_number_that_is_none_is_not_known(client: FlaskClient) -> None:
    assert client.get("/aside/77").status_code == 404
    assert client.get(f"/aside/{2**63}").status_code == 404


def test_no_phone_writes_the_log_of_the_office(app: Flask, client: FlaskClient) -> None:
    own = app.extensions["companion"].identity.log_id
    before = log.all_rows(app.extensions["companion"].store, log_id=own)
    answer = send(client, write_log([replace(cup()[0], log_id=own)]), own)
    assert answer.status_code == 422
    assert answer.get_json()["field"] == "log_id"
    assert log.all_rows(app.extensions["companion"].store, log_id=own) == before
