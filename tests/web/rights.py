"""The people of a shop on a network, each with what lets them in."""

from dataclasses import dataclass
from pathlib import Path

from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from companion.app import create_app
from companion.config import Config
from companion.records import pairing, passphrase
from companion.records.store import Store
from companion.web.state import now_utc

ADDRESS = "https://companion.local:8443"
PASSPHRASE = "eleven paddles in a row"
PHONE_LOG = "6f3c1a52-7d7e-4b54-9a8e-0f3b2d9c4e10"
OTHER_PHONE_LOG = "0e9d8c7b-6a5f-4e3d-8c2b-1a0f9e8d7c6b"
REVOKED_LOG = "b5a4c3d2-e1f0-4a9b-8c7d-6e5f4a3b2c1d"


@dataclass(frozen=True, slots=True)
class Shop:
    """A shop on a network, with a phone, another one, and one that was cut off."""

    app: Flask
    store: Store
    tokens: dict[str, str]

    def client(self, origin: str = ADDRESS) -> FlaskClient:
        """A browser of nobody yet, that asks from a page of this origin."""
        made = self.app.test_client()
        made.environ_base["HTTP_ORIGIN"] = origin
        return made

    def office(self) -> FlaskClient:
        """A browser that came in with the passphrase."""
        made = self.client()
        answer = come_in(made)
        assert answer.status_code == 303, answer.text
        return made

    def bearer(self, log_id: str) -> dict[str, str]:
        """What a phone proves itself with."""
        return {"Authorization": f"Bearer {self.tokens[log_id]}"}


def come_in(browser: FlaskClient, typed: str = PASSPHRASE) -> TestResponse:
    """Give the passphrase at the door."""
    form = {"passphrase": typed, "then": "/phones"}
    return browser.post("/login", data=form, base_url=ADDRESS)


def open_shop(folder: Path, **settings: object) -> Shop:
    """The demo workshop on a network."""
    app = create_app(Config(folder, demo=True, address=ADDRESS, **settings))  # type: ignore[arg-type]
    store: Store = app.extensions["companion"].store
    passphrase.choose(store, PASSPHRASE, now_utc())
    tokens = {
        log_id: paired(store, log_id, name)
        for log_id, name in (
            (PHONE_LOG, "bench phone"),
            (OTHER_PHONE_LOG, "other phone"),
            (REVOKED_LOG, "lost phone"),
        )
    }
    pairing.revoke(store, REVOKED_LOG, now_utc())
    return Shop(app, store, tokens)


def paired(store: Store, log_id: str, name: str, replaces: str = "") -> str:
    """Pair a phone; its token."""
    code = pairing.ask_for(store, name, replaces, now_utc())
    made = pairing.pair(store, code, log_id, now_utc())
    assert made is not None
    return made.token
