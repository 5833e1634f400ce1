"""The door of the office: passphrase, sessions, and how often it may be tried.

Against OWASP ASVS 5.0 (chapters 3 and 6, from memory) and RFC 6265bis for the cookie.
"""

import re
import unicodedata
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import update

from companion.records import log, one_time, passphrase, schema, sessions
from companion.web.state import now_utc
from companion.wire.log_csv import write_log
from tests.sample_rows import row
from tests.web.rights import ADDRESS, PASSPHRASE, PHONE_LOG, Shop, come_in, open_shop


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    opened = open_shop(tmp_path / "data")
    yield opened
    opened.store.close()


def mark_of(page: str) -> str:
    found = re.search(r'name="csrf" value="([0-9a-f]{48})"', page)
    assert found
    return found[1]


def test_the_passphrase_opens_the_page_that_was_asked_for(shop: Shop) -> None:
    browser = shop.client()
    asked = browser.get("/aside?page=2", base_url=ADDRESS)
    assert asked.status_code == 302
    form = browser.get(asked.headers["Location"], base_url=ADDRESS)
    assert 'value="/aside?page=2"' in form.text
    answer = browser.post(
        "/login", data={"passphrase": PASSPHRASE, "then": "/aside?page=2"}, base_url=ADDRESS
    )
    assert (answer.status_code, answer.headers["Location"]) == (303, "/aside?page=2")
    assert browser.get("/aside?page=2", base_url=ADDRESS).status_code == 200


@pytest.mark.parametrize(
    "then", ["https://elsewhere.example/", "//elsewhere.example", "javascript:1"]
)
def test_it_leads_nowhere_else(shop: Shop, then: str) -> None:
    form = {"passphrase": PASSPHRASE, "then": then}
    answer = shop.client().post("/login", data=form, base_url=ADDRESS)
    assert answer.headers["Location"] == "/"


def test_the_cookie_is_kept_to_this_host_and_from_scripts(shop: Shop) -> None:
    (cookie,) = come_in(shop.client()).headers.getlist("Set-Cookie")
    name, *attributes = cookie.split("; ")
    assert re.match(r"__Host-companion-[0-9a-f]{8}=[\w-]{43}\Z", name)
    assert {"Secure", "HttpOnly", "Path=/", "SameSite=Strict"} <= set(attributes)
    assert not [one for one in attributes if one.startswith("Domain")]


def test_a_wrong_passphrase_says_so_and_opens_nothing(shop: Shop) -> None:
    browser = shop.client()
    answer = come_in(browser, "eleven paddles in a boat")
    assert answer.status_code == 403 and "This is not the passphrase." in answer.text
    assert "Set-Cookie" not in answer.headers
    assert browser.get("/phones", base_url=ADDRESS).status_code == 302


def test_the_door_shows_no_pages_behind_it(shop: Shop) -> None:
    page = shop.client().get("/login", base_url=ADDRESS).text
    assert 'href="/plan"' not in page and 'href="/phones"' not in page


def test_five_wrong_tries_wait_and_the_right_one_waits_too(shop: Shop) -> None:
    browser = shop.client()
    assert [come_in(browser, f"wrong {n} wrong").status_code for n in range(6)] == [403] * 5 + [429]
    answer = come_in(browser)
    assert answer.status_code == 429
    assert 0 < int(answer.headers["Retry-After"]) <= 15 * 60
    # Who comes from elsewhere is not kept out by it.
    other = shop.client()
    other.environ_base["REMOTE_ADDR"] = "192.0.2.7"
    assert come_in(other).status_code == 303


def test_only_wrong_tries_are_counted(shop: Shop) -> None:
    assert {come_in(shop.client()).status_code for _ in range(7)} == {303}


def test_leaving_ends_the_session_on_the_server(shop: Shop) -> None:
    browser = shop.office()
    name = f"__Host-companion-{shop.app.extensions['companion'].identity.server_id[:8]}"
    token = browser.get_cookie(name, "companion.local")
    assert token is not None
    mark = mark_of(browser.get("/access", base_url=ADDRESS).text)
    assert browser.post("/logout", data={"csrf": mark}, base_url=ADDRESS).status_code == 303
    thief = shop.client()
    thief.set_cookie(name, token.value, domain="companion.local", secure=True)
    assert thief.get("/phones", base_url=ADDRESS).status_code == 302


def test_sessions_are_listed_and_ended(shop: Shop) -> None:
    here, there = shop.office(), shop.office()
    page = here.get("/access", base_url=ADDRESS).text
    assert page.count("/access/sessions/") == 3 and page.count("this one") == 1
    data = {"csrf": mark_of(page)}
    assert here.post("/access/sessions/end-others", data=data, base_url=ADDRESS).status_code == 303
    assert there.get("/phones", base_url=ADDRESS).status_code == 302
    assert here.get("/phones", base_url=ADDRESS).status_code == 200
    (own,) = sessions.going_on(shop.store, now_utc())
    here.post(f"/access/sessions/{own.number}/end", data=data, base_url=ADDRESS)
    assert here.get("/phones", base_url=ADDRESS).status_code == 302


@pytest.mark.parametrize(
    "column, at",
    [("last_used_at", "2026-01-01T00:00:00.000Z"), ("begun_at", "2026-01-01T00:00:00.000Z")],
)
def test_a_session_ends_by_itself(shop: Shop, column: str, at: str) -> None:
    browser = shop.office()
    with shop.store.write() as connection:
        connection.execute(update(schema.sessions).values({column: at}))
    assert browser.get("/phones", base_url=ADDRESS).status_code == 302


def test_a_new_passphrase_ends_every_session(shop: Shop) -> None:
    browser = shop.office()
    passphrase.choose(shop.store, "twelve hatch covers stacked", now_utc())
    assert browser.get("/phones", base_url=ADDRESS).status_code == 302
    assert come_in(browser).status_code == 403
    assert come_in(browser, "twelve hatch covers stacked").status_code == 303


@pytest.mark.parametrize("typed", ["seven 7", "x" * 201, ""])
def test_a_passphrase_has_eight_to_two_hundred_characters(shop: Shop, typed: str) -> None:
    code = one_time.make_console_code(shop.store, now_utc())
    form = {"code": code, "passphrase": typed, "again": typed}
    answer = shop.client().post("/passphrase", data=form, base_url=ADDRESS)
    assert answer.status_code == 422 and "8 to 200" in answer.text
    assert passphrase.fits(shop.store, PASSPHRASE)
    # The code was not used up by it.
    form = {"code": code, "passphrase": "y" * 64, "again": "y" * 64}
    assert shop.client().post("/passphrase", data=form, base_url=ADDRESS).status_code == 303


def test_the_code_of_the_terminal_works_once_and_for_an_hour(shop: Shop) -> None:
    def choose(code: str) -> int:
        form = {"code": code, "passphrase": "long enough for us", "again": "long enough for us"}
        return shop.client().post("/passphrase", data=form, base_url=ADDRESS).status_code

    code = one_time.make_console_code(shop.store, now_utc())
    assert choose(f" {code[:5].lower()}-{code[5:]} ") == 303
    assert choose(code) == 422
    old = one_time.make_console_code(shop.store, now_utc())
    with shop.store.write() as connection:
        expired = {"expires_at": "2026-01-01T00:00:00.000Z"}
        connection.execute(update(schema.one_time_codes).values(expired))
    assert choose(old) == 422


def test_a_newer_code_makes_the_one_before_void(shop: Shop) -> None:
    first = one_time.make_console_code(shop.store, now_utc())
    one_time.make_console_code(shop.store, now_utc())
    assert not passphrase.choose_with_code(shop.store, first, "long enough for us", now_utc())


def test_two_fields_that_differ_change_nothing(shop: Shop) -> None:
    code = one_time.make_console_code(shop.store, now_utc())
    form = {"code": code, "passphrase": "long enough for us", "again": "long enough for me"}
    answer = shop.client().post("/passphrase", data=form, base_url=ADDRESS)
    assert answer.status_code == 422 and passphrase.fits(shop.store, PASSPHRASE)


def test_letters_count_however_a_keyboard_makes_them(shop: Shop) -> None:
    # The same letter as one character and as two (Unicode, normal forms C and D).
    one, two = (unicodedata.normalize(form, "fünf Lukendeckel") for form in ("NFC", "NFD"))
    assert one != two
    passphrase.choose(shop.store, one, now_utc())
    assert passphrase.fits(shop.store, two)


def test_what_is_kept_is_argon2id_as_rfc_9106_advises(shop: Shop) -> None:
    with shop.store.read() as connection:
        kept = connection.scalars(
            schema.passphrases.select().with_only_columns(schema.passphrases.c.argon2id)
        ).one()
    # RFC 9106, section 4, second choice: t=3, p=4, 64 MiB, 128-bit salt, 256-bit tag.
    assert kept.startswith("$argon2id$v=19$m=65536,t=3,p=4$")
    assert PASSPHRASE not in kept


def test_on_this_machine_with_a_passphrase_the_office_asks_too(
    app: Flask, client: FlaskClient
) -> None:
    store = app.extensions["companion"].store
    assert client.get("/phones").status_code == 200
    passphrase.choose(store, PASSPHRASE, now_utc())
    assert client.get("/phones").status_code == 302
    assert client.get("/api/v1/bundle").status_code == 401
    answer = client.post("/login", data={"passphrase": PASSPHRASE})
    # Plain http, so the cookie cannot be marked for TLS.
    assert answer.headers["Set-Cookie"].startswith("companion-")
    assert "Secure" not in answer.headers["Set-Cookie"]
    assert client.get("/phones").status_code == 200


def test_a_large_log_is_imported_through_the_door(shop: Shop) -> None:
    office = shop.office()
    mark = mark_of(office.get("/exchange", base_url=ADDRESS).text)
    text = write_log([row(seq, log_id=PHONE_LOG, note="n" * 900) for seq in range(1, 1500)])
    assert len(text) > 1024 * 1024
    for proof, status in ((mark, 200), ("0" * 48, 403)):
        assert bring(office, text, proof) == status
    assert len(log.all_rows(shop.store, log_id=PHONE_LOG)) == 1499
    # Nobody without a session is read that far.
    assert bring(shop.client(), text, mark) == 401


def bring(browser: FlaskClient, text: str, proof: str) -> int:
    """Import a file as the form of the office sends it."""
    start = "--b\r\nContent-Disposition: form-data; name="
    body = (
        f'{start}"csrf"\r\n\r\n{proof}\r\n{start}"file"; filename="log.csv"\r\n\r\n{text}\r\n--b--'
    )
    kind = {"Content-Type": "multipart/form-data; boundary=b"}
    answer = browser.post("/import", data=body.encode(), headers=kind, base_url=ADDRESS)
    answer.close()
    return answer.status_code


def test_letters_that_become_fewer_when_made_alike_still_fit(shop: Shop) -> None:
    typed = "e\u0301" * 150
    passphrase.choose(shop.store, typed, now_utc())
    assert passphrase.fits(shop.store, typed) and come_in(shop.client(), typed).status_code == 303


def test_a_number_no_record_can_have_is_not_found(shop: Shop) -> None:
    office = shop.office()
    mark = mark_of(office.get("/access", base_url=ADDRESS).text)
    path = f"/access/sessions/{'9' * 20}/end"
    assert office.post(path, data={"csrf": mark}, base_url=ADDRESS).status_code == 404
    assert office.get(f"/aside/{'9' * 20}", base_url=ADDRESS).status_code == 404
