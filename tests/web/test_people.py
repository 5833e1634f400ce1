"""People and customers: codes for good, names that can be erased everywhere."""

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.records import catalogue, names
from companion.records.store import Store
from tests.web.cards import value_of, words


@pytest.fixture
def store(app: Flask) -> Store:
    found: Store = app.extensions["companion"].store
    return found


def test_it_lists_both_registers(client: FlaskClient) -> None:
    page = words(client.get("/people"))
    assert "H Helper Rename" in page
    assert "Customers" in page


@pytest.mark.parametrize("register", ["people", "customers"])
def test_it_enters_renames_and_erases(client: FlaskClient, store: Store, register: str) -> None:
    base = f"/people/{register}"
    entered = client.post(f"{base}/new", data={"code": " Q7 ", "name": "Quiet Person"})
    assert entered.status_code == 303
    assert names.find(store, register, "Q7") == names.Named("Q7", "Quiet Person", "")
    renamed = client.post(f"{base}/rename?code=Q7", data={"name": "Louder Person"})
    assert renamed.status_code == 303
    assert "Louder Person" in client.get("/people").text
    asked = words(client.get(f"{base}/erase?code=Q7"))
    assert "Erase the name of Q7? Name Louder Person" in asked
    # Asking erases nothing.
    assert names.current(store, register)["Q7"] == "Louder Person"
    assert client.post(f"{base}/erase?code=Q7").status_code == 303
    page = client.get("/people?did=erased").text
    assert "Louder Person" not in page
    assert "The name was erased." in page
    assert "Q7" in page
    assert "Q7" not in names.current(store, register)
    assert client.get(f"{base}.csv").text.count("Q7") == 1
    # Nobody else may be meant by the code, and the name does not come back.
    again = client.post(f"{base}/new", data={"code": "Q7", "name": "Other"})
    assert again.status_code == 409
    assert "is or once was the code of Q7" in words(again)
    for act in ("rename", "erase"):
        assert client.get(f"{base}/{act}?code=Q7").status_code == 404
        assert client.post(f"{base}/{act}?code=Q7", data={"name": "Back"}).status_code == 404


def test_an_erased_name_is_nowhere_and_its_code_stays(client: FlaskClient, store: Store) -> None:
    assert "Owner" in client.get("/").text
    assert client.get("/api/v1/bundle").get_json()["people"] == {"H": "Helper", "O": "Owner"}
    client.post("/people/people/erase?code=O")
    for path in ("/", "/scales", "/people", "/export/people.csv", "/materials"):
        assert "Owner" not in client.get(path).text
    assert client.get("/api/v1/bundle").get_json()["people"] == {"H": "Helper"}
    assert ",O," in client.get("/export.csv").text
    # Whoever was erased can no longer be chosen.
    assert "O" not in catalogue.all_people(store)
    check = {"scale": "S1", "weight_g": "100", "display_g": "100.0", "person": "O"}
    assert client.post("/scales/check", data=check).status_code == 422


@pytest.mark.parametrize(
    ("code", "name", "said"),
    [
        ("", "Name", "Code: “”. 1 to 12 printable characters are allowed."),
        ("x" * 13, "Name", f"Code: “{'x' * 13}”. 1 to 12"),
        ("a\u202eb", "Name", "1 to 12 printable characters"),
        ("Q8", " ", "Name: “ ”. 1 to 80 printable characters are allowed."),
        ("Q8", "n" * 81, "1 to 80 printable characters"),
        ("O", "Name", "Code: “O” is or once was the code of Owner."),
    ],
)
def test_a_wrong_entry_is_named_and_kept_on_the_form(
    client: FlaskClient, store: Store, code: str, name: str, said: str
) -> None:
    before = names.every(store, "people")
    answer = client.post("/people/people/new", data={"code": code, "name": name})
    assert answer.status_code == (409 if code == "O" else 422)
    assert said in words(answer)
    assert value_of(answer, "name") == name
    assert names.every(store, "people") == before


def test_there_is_no_other_register(client: FlaskClient) -> None:
    for path in ("/people/phones/new", "/people/phones.csv", "/people/phones/erase?code=O"):
        assert client.get(path).status_code == 404
    assert client.post("/people/phones/new", data={"code": "A", "name": "B"}).status_code == 404
    assert client.get("/people/people/rename?code=NONE").status_code == 404
