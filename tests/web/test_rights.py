"""Every route asked by everybody who may stand at the door (OWASP ASVS 5.0, 8.2.1 and 8.2.2)."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from companion.web.access import PHONE, PUBLIC
from companion.wire.digest import content_digest
from companion.wire.log_csv import write_log
from tests.sample_rows import row
from tests.web.rights import (
    ADDRESS,
    OTHER_PHONE_LOG,
    PHONE_LOG,
    REVOKED_LOG,
    Shop,
    open_shop,
    paired,
)

#: A value for every place of an address.
PLACES = {
    "log_id": PHONE_LOG,
    "code": "7K2QMS",
    "_place": "C",
    "language": "de",
    "at": "2026-03-07T12:00:00.000Z",
    "number": "1",
    "kind": "system",
    "register": "people",
    "filename": "style/office.css",
}
WHO = ("nobody", "phone", "other phone", "revoked phone", "office")
#: Not as a status alone: what is refused says why.
DOOR = "the door"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    opened = open_shop(tmp_path_factory.mktemp("rights") / "data")
    yield opened
    opened.store.close()


@pytest.fixture(scope="module")
def office(shop: Shop) -> FlaskClient:
    return shop.office()


def routes(shop: Shop) -> list[tuple[str, str, str]]:
    """(endpoint, method, address) of every route."""
    adapter = shop.app.url_map.bind("companion.local", url_scheme="https")
    found = []
    for rule in shop.app.url_map.iter_rules():
        path = adapter.build(rule.endpoint, {name: PLACES[name] for name in rule.arguments})
        found += [
            (rule.endpoint, method, path)
            for method in sorted((rule.methods or set()) - {"OPTIONS", "HEAD"})
        ]
    return found


def body_of(endpoint: str) -> dict[str, object]:
    """What a phone sends to its routes."""
    if endpoint == "sync.append_rows":
        text = write_log([row(1, log_id=PHONE_LOG)]).encode()
        headers = {"Content-Type": "text/csv", "Content-Digest": content_digest(text)}
        return {"data": text, "headers": {**headers, "Row-Count": "1"}}
    if endpoint == "doors.pair":
        return {"json": {"log_id": PHONE_LOG, "code": "A" * 26, "server_id": ""}}
    return {"json": {"log_id": PHONE_LOG}} if endpoint == "sync.codes" else {}


def ask(shop: Shop, office: FlaskClient, who: str, route: tuple[str, str, str]) -> str:
    """What happens: let in, or which refusal."""
    endpoint, method, path = route
    sent = body_of(endpoint) if method == "POST" else {}
    logs = {"phone": PHONE_LOG, "other phone": OTHER_PHONE_LOG, "revoked phone": REVOKED_LOG}
    headers = dict(sent.pop("headers", {}))  # type: ignore[call-overload]
    if who in logs:
        headers |= shop.bearer(logs[who])
    browser = office if who == "office" else shop.client()
    answer = browser.open(path, method=method, headers=headers, base_url=ADDRESS, **sent)  # type: ignore[arg-type]
    answer.close()
    if answer.status_code == 302 and "/login" in answer.headers["Location"]:
        return DOOR
    if answer.status_code in (401, 403) and answer.is_json:
        return str(answer.json["type"]).rpartition(":")[2]  # type: ignore[index]
    return DOOR if answer.status_code == 401 else "in"


def expected(endpoint: str, who: str, method: str) -> str:
    """The rule, told independently of the code: by what a route is for."""
    if endpoint in PUBLIC:
        return "pairing_refused" if endpoint == "doors.pair" else "in"
    if endpoint.startswith("sync."):
        refusals = {"nobody": "not_paired", "office": "not_paired", "revoked phone": "revoked"}
        if who == "other phone" and endpoint != "sync.bundle":
            return "other_log"
        return refusals.get(who, "in")
    return "in" if who == "office" else DOOR


def test_it_lets_in_whom_it_should_and_nobody_else(shop: Shop, office: FlaskClient) -> None:
    wrong = []
    for route in routes(shop):
        endpoint, method, path = route
        # Leaving would end the office's session; a form without its mark is another test.
        if method == "POST" and not (endpoint in PUBLIC or endpoint in PHONE):
            people = [who for who in WHO if who != "office"]
        else:
            people = [who for who in WHO if endpoint != "doors.pair" or who == "nobody"]
        for who in people:
            found = ask(shop, office, who, route)
            if found != expected(endpoint, who, method):
                wrong.append((method, path, who, found))
    assert wrong == []


def test_every_route_is_of_a_kind_we_know(shop: Shop) -> None:
    endpoints = {rule.endpoint for rule in shop.app.url_map.iter_rules()}
    of_office = {endpoint for endpoint in endpoints if endpoint.startswith("office.")}
    assert endpoints - of_office - PUBLIC - PHONE == set()
    assert PUBLIC - endpoints <= {"bench.trusted"}
    assert PHONE <= endpoints


def test_another_phone_can_write_nothing_into_a_log(shop: Shop) -> None:
    sent = body_of("sync.append_rows")
    headers = {**sent.pop("headers"), **shop.bearer(OTHER_PHONE_LOG)}  # type: ignore[dict-item]
    other = "5d4c3b2a-1f0e-4d9c-8b7a-6f5e4d3c2b1a"
    for log_id in (PHONE_LOG, other):
        answer = shop.client().post(
            f"/api/v1/logs/{log_id}/rows",
            headers=headers,
            base_url=ADDRESS,
            **sent,  # type: ignore[arg-type]
        )
        assert answer.status_code == 403
        assert answer.json and answer.json["type"] == "urn:companion:problem:other_log"


def test_a_form_without_the_mark_of_its_session_changes_nothing(
    shop: Shop, office: FlaskClient
) -> None:
    for endpoint, method, path in routes(shop):
        if method != "POST" or endpoint in PUBLIC or endpoint in PHONE:
            continue
        for form in ({}, {"csrf": "0" * 48}):
            answer = office.post(path, data=form, base_url=ADDRESS)
            assert answer.status_code == 403, path
            assert "form of another session" in answer.text, path
    assert office.get("/phones", base_url=ADDRESS).status_code == 200


def test_a_revoked_phone_is_refused_from_its_next_request_on(
    shop: Shop, office: FlaskClient
) -> None:
    token = paired(shop.store, "11111111-2222-4333-8444-555555555555", "short phone")
    headers = {"Authorization": f"Bearer {token}"}
    phone = shop.client()
    assert phone.get("/api/v1/bundle", headers=headers, base_url=ADDRESS).status_code == 200
    page = office.get("/phones", base_url=ADDRESS).text
    mark = page.split('name="csrf" value="')[1].split('"')[0]
    path = "/phones/11111111-2222-4333-8444-555555555555/revoke"
    assert office.post(path, data={"csrf": mark}, base_url=ADDRESS).status_code == 303
    answer = phone.get("/api/v1/bundle", headers=headers, base_url=ADDRESS)
    assert (answer.status_code, answer.json["type"]) == (403, "urn:companion:problem:revoked")  # type: ignore[index]


def test_a_session_is_no_token_and_a_token_no_session(shop: Shop, office: FlaskClient) -> None:
    assert office.get("/api/v1/bundle", base_url=ADDRESS).status_code == 401
    phone = shop.client().get("/phones", headers=shop.bearer(PHONE_LOG), base_url=ADDRESS)
    assert phone.status_code == 302


def test_no_answer_opens_itself_to_other_origins(
    shop: Shop, office: FlaskClient, tmp_path: Path
) -> None:
    for _, method, path in routes(shop):
        if method != "GET":
            continue
        asked = {"Origin": "https://elsewhere.example", "Access-Control-Request-Method": "POST"}
        for verb in ("GET", "HEAD", "OPTIONS"):
            answer = office.open(path, method=verb, headers=asked, base_url=ADDRESS)
            answer.close()
            assert not [name for name, _ in answer.headers if name.startswith("Access-Control")]


def test_looking_changes_nothing(shop: Shop, office: FlaskClient) -> None:
    def everything() -> str:
        with shop.store.read() as connection:
            return "\n".join(connection.connection.driver_connection.iterdump())  # type: ignore[union-attr]

    before = everything()
    for _, method, path in routes(shop):
        if method == "GET":
            office.get(path, base_url=ADDRESS).close()
    assert everything() == before
