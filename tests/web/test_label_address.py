"""A label's address opened by a camera that is not the app's."""

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.records import plans


def test_it_tells_the_code_and_what_to_do_and_nothing_on_record(
    app: Flask, client: FlaskClient
) -> None:
    plan = plans.every(app.extensions["companion"].store)[0]
    known, unknown = client.get(f"/C/{plan.code}"), client.get("/C/7K2QMS")
    assert known.status_code == unknown.status_code == 200
    assert "Open Scan in the app." in known.text
    # A code that is on record and one that is not look alike.
    assert known.text.replace(plan.code, "7K2QMS") == unknown.text
    assert "<script" not in known.text and "<a " not in known.text
    assert plan.step not in known.text


@pytest.mark.parametrize("path", ["/L/HRD2SM", "/P/7K2QMS"])
def test_cans_and_parts_have_the_same_page(client: FlaskClient, path: str) -> None:
    answer = client.get(path, headers={"Accept-Language": "de"})
    assert path[3:] in answer.text
    assert "In der App Scannen öffnen." in answer.text


@pytest.mark.parametrize("path", ["/C/7K2QMT", "/C/7k2qms", "/C/", "/X/7K2QMS", "/C/<b>"])
def test_what_is_no_code_of_ours_is_not_found(client: FlaskClient, path: str) -> None:
    assert client.get(path).status_code == 404
