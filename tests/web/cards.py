"""What tests of the card pages send and read."""

import re
from dataclasses import replace

from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from companion.records import catalogue
from companion.records.store import Store
from companion.trade import card_forms

SYSTEM = {
    "resin": "RES-M",
    "hardener": "HRD-S",
    "hardener_word": "SLOW",
    "part_b_pbw": "30",
    "tolerance_pct": "2",
    "largest_cup_g": "150",
    "source_part_b_pbw": "data sheet, table 1",
}


def make_newest(store: Store, *cards: catalogue.Card) -> None:
    """Whatever the shop knew of these codes, from now on it knows what these cards say."""
    for card in cards:
        known = [one for one in catalogue.latest(store, type(card)) if one.code == card.code]
        revision = known[0].revision if known else 0
        catalogue.revise(store, replace(card, revision=revision), "2026-03-07T12:00:00.000Z")


def save(client: FlaskClient, kind: str, typed: dict[str, str]) -> TestResponse:
    """Send the form of a new card."""
    return client.post(f"/cards/{kind}/edit", data=typed)


def change(client: FlaskClient, kind: str, card: object, **typed: str) -> TestResponse:
    """Send the form of a card as it was opened, with some fields typed over."""
    opened = {
        **card_forms.write(kind, card),
        "card": card.code,  # type: ignore[attr-defined]
        "revision": str(card.revision),  # type: ignore[attr-defined]
    }
    return client.post(f"/cards/{kind}/edit", data={**opened, **typed})


def words(answer: TestResponse) -> str:
    """Words of a page, with single spaces."""
    main = answer.text.partition("<main")[2]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", main))


def value_of(answer: TestResponse, name: str) -> str:
    """What stands in a text field."""
    found = re.search(rf'name="{name}" type="[a-z]+" value="([^"]*)"', answer.text)
    assert found, name
    return found[1]


def form_of(answer: TestResponse) -> dict[str, str]:
    """What a browser would send of the form of a card that is shown."""
    sent = {}
    for field in re.findall(r"<input [^>]*>", answer.text.partition("<main")[2]):
        given = dict(re.findall(r'(name|type|value)="([^"]*)"', field))
        if given.get("type") != "checkbox" or " checked" in field:
            sent[given.get("name", "")] = given.get("value", "")
    return sent
