"""Pairing a phone: a code good once, a token that is followed by another, and the limits.

Against OWASP ASVS 5.0 (6.5.1, 6.5.5 and 7.2.3, from memory) and RFC 6750 for the header.
"""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select, update
from werkzeug.test import TestResponse

from companion.records import log, pairing, phones, schema
from companion.records.tokens import sha256
from companion.web.state import now_utc
from companion.wire.digest import content_digest
from companion.wire.log_csv import write_log
from tests.sample_rows import row
from tests.web.rights import ADDRESS, PHONE_LOG, Shop, open_shop, paired
from tests.web.test_login import mark_of

NEW_LOG = "11111111-2222-4333-8444-555555555555"


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    opened = open_shop(tmp_path / "data")
    yield opened
    opened.store.close()


def spend(shop: Shop, one_time: str, asker: str = "192.0.2.1", **changes: Any) -> TestResponse:
    asked = {"code": one_time, "log_id": NEW_LOG, "server_id": "", "rows": 0, "app_version": "x"}
    browser = shop.client()
    browser.environ_base["REMOTE_ADDR"] = asker
    return browser.post("/api/v1/pair", json={**asked, **changes}, base_url=ADDRESS)


def kind(answer: TestResponse) -> str:
    return str((answer.json or {}).get("type", "")).rpartition(":")[2]


def send(
    shop: Shop, log_id: str, token: str, first: int, last: int, **headers: str
) -> TestResponse:
    text = write_log([row(seq, log_id=log_id) for seq in range(first, last + 1)]).encode()
    given = {
        "Authorization": f"Bearer {token}",
        "Content-Type": "text/csv",
        "Content-Digest": content_digest(text),
        "Row-Count": str(last - first + 1),
        **headers,
    }
    path = f"/api/v1/logs/{log_id}/rows"
    return shop.client().post(path, data=text, headers=given, base_url=ADDRESS)


def ask(shop: Shop, name: str = "new phone", replaces: str = "") -> str:
    return pairing.ask_for(shop.store, name, replaces, now_utc())


def test_the_office_shows_a_code_of_128_bits_that_pairs_one_phone(shop: Shop) -> None:
    office = shop.office()
    form = office.get("/phones/pair", base_url=ADDRESS).text
    data = {"csrf": mark_of(form), "name": "  Anna's   phone ", "replaces": "new"}
    page = office.post("/phones/pair", data=data, base_url=ADDRESS).text
    code = re.search(r'<span class="id">([A-Z2-7 ]+)</span>', page)
    assert code and len(code[1].replace(" ", "")) == 26
    answer = spend(shop, code[1])
    assert answer.status_code == 200 and answer.json
    assert answer.json["name"] == "Anna's phone"
    assert answer.json["log_id"] == NEW_LOG and answer.json["replaces"] is None
    assert len(answer.json["token"]) == 43
    assert send(shop, NEW_LOG, answer.json["token"], 1, 2).status_code == 200


def test_the_code_stands_in_the_pattern_that_is_shown(shop: Shop) -> None:
    import zxingcpp
    from PIL import Image

    office = shop.office()
    data = {"csrf": mark_of(office.get("/phones/pair", base_url=ADDRESS).text)}
    data |= {"name": "n", "replaces": "new"}
    page = office.post("/phones/pair", data=data, base_url=ADDRESS).text
    code = re.search(r'<span class="id">([A-Z2-7 ]+)</span>', page)
    path = re.search(r'<path class="print-black" d="([^"]+)"', page)
    side = re.search(r'viewBox="0 0 (\d+) \1"', page.split("pairing-pattern")[1])
    assert code and path and side
    image = Image.new("L", (int(side[1]) * 6,) * 2, 255)
    for x, y, width, height in re.findall(r"M(\d+) (\d+)h(\d+)v(\d+)", path[1]):
        box = (int(x) * 6, int(y) * 6, (int(x) + int(width)) * 6, (int(y) + int(height)) * 6)
        image.paste(0, box)
    (found,) = zxingcpp.read_barcodes(image)
    # Plain text: a phone's own camera opens nothing with it.
    assert found.text == "PAIR:" + code[1].replace(" ", "")


def test_a_code_works_once(shop: Shop) -> None:
    code = ask(shop)
    assert spend(shop, code).status_code == 200
    again = spend(shop, code, log_id="99999999-2222-4333-8444-555555555555")
    assert (again.status_code, kind(again)) == (403, "pairing_refused")


def test_a_code_is_good_for_five_minutes(shop: Shop) -> None:
    code = pairing.ask_for(shop.store, "n", "", "2026-11-20T08:00:00.000Z")
    early = pairing.pair(shop.store, code, NEW_LOG, "2026-11-20T08:05:00.001Z")
    assert early is None
    in_time = pairing.pair(shop.store, code, NEW_LOG, "2026-11-20T08:04:59.999Z")
    assert in_time is not None


def test_used_expired_and_wrong_are_answered_alike(shop: Shop) -> None:
    used = ask(shop)
    spend(shop, used)
    expired = pairing.ask_for(shop.store, "other", "", "2026-01-01T00:00:00.000Z")
    answers = [spend(shop, code, "192.0.2.9").text for code in (used, expired, "A" * 26)]
    assert len(set(answers)) == 1


def test_a_thousand_guesses_are_refused_and_limited(shop: Shop) -> None:
    code = ask(shop)
    seen: dict[int, int] = {}
    for number in range(1000):
        answer = spend(
            shop, f"{number:026d}".replace("0", "A").replace("1", "B"), f"192.0.2.{number % 250}"
        )
        seen[answer.status_code] = seen.get(answer.status_code, 0) + 1
    # Thirty wrong ones of all askers together within the hour; the others are told to wait.
    assert seen == {403: 30, 429: 970}
    refused = spend(shop, code)
    assert refused.status_code == 429 and int(refused.headers["Retry-After"]) > 60
    # Phones that are paired go on meanwhile.
    assert send(shop, PHONE_LOG, shop.tokens[PHONE_LOG], 1, 1).status_code == 200


def test_one_asker_may_try_five_times_a_minute(shop: Shop) -> None:
    codes = [spend(shop, "A" * 26).status_code for _ in range(6)]
    assert codes == [403] * 5 + [429]
    assert spend(shop, ask(shop), "192.0.2.2").status_code == 200


def test_the_same_store_paired_again_goes_on_with_its_log(shop: Shop) -> None:
    first = paired(shop.store, NEW_LOG, "phone")
    send(shop, NEW_LOG, first, 1, 3)
    answer = spend(shop, ask(shop, "phone", NEW_LOG))
    assert answer.json and answer.json["have_upto"] == 3 and answer.json["replaces"] is None
    assert send(shop, NEW_LOG, answer.json["token"], 4, 5).json["have_upto"] == 5  # type: ignore[index]
    # The token before is void: who found it can do nothing with it.
    assert send(shop, NEW_LOG, first, 6, 6).status_code == 401


def test_a_store_that_was_lost_is_said_and_recorded(shop: Shop) -> None:
    send(shop, PHONE_LOG, shop.tokens[PHONE_LOG], 1, 7)
    answer = spend(shop, ask(shop, "bench phone", PHONE_LOG))
    assert answer.json
    lost = answer.json["replaces"]
    assert (lost["log_id"], lost["name"], lost["have_upto"]) == (PHONE_LOG, "bench phone", 7)
    # It is cut off; its rows stay.
    assert kind(send(shop, PHONE_LOG, shop.tokens[PHONE_LOG], 8, 8)) == "revoked"
    assert len(log.all_rows(shop.store, log_id=PHONE_LOG)) == 7
    page = shop.office().get("/phones", base_url=ADDRESS).text
    assert "rows after 7 of that log may be missing" in page


@pytest.mark.parametrize(
    "form, words",
    [
        ({"name": "", "replaces": "new"}, "1 to 40 characters"),
        ({"name": "x" * 41, "replaces": "new"}, "1 to 40 characters"),
        ({"name": "a\u202eb", "replaces": "new"}, "1 to 40 characters"),
        ({"name": "n", "replaces": ""}, "Say whether it is a new phone"),
        ({"name": "n", "replaces": "elsewhere"}, "There is no such phone."),
        ({"name": "BENCH PHONE", "replaces": "new"}, "Another phone has this name"),
    ],
)
def test_what_cannot_be_paired_is_said_at_its_field(
    shop: Shop, form: dict[str, str], words: str
) -> None:
    office = shop.office()
    mark = mark_of(office.get("/phones/pair", base_url=ADDRESS).text)
    answer = office.post("/phones/pair", data={**form, "csrf": mark}, base_url=ADDRESS)
    assert answer.status_code == 422 and words in answer.text
    with shop.store.read() as connection:
        unused = select(schema.one_time_codes).where(schema.one_time_codes.c.used_at == "")
        assert connection.execute(unused).all() == []


@pytest.mark.parametrize(
    "changes, status",
    [
        ({"log_id": "no uuid"}, 400),
        ({"log_id": 7}, 400),
        ({"code": ["A"]}, 400),
        ({"server_id": "00000000-0000-4000-8000-000000000000"}, 409),
    ],
)
def test_an_odd_request_spends_no_code(shop: Shop, changes: dict[str, Any], status: int) -> None:
    code = ask(shop)
    assert spend(shop, code, **changes).status_code == status
    assert spend(shop, code, "192.0.2.2").status_code == 200


def test_the_log_of_the_office_is_no_phone(shop: Shop) -> None:
    own = shop.app.extensions["companion"].identity.log_id
    assert spend(shop, ask(shop), log_id=own).status_code == 400


def test_only_hashes_of_tokens_and_codes_are_kept(shop: Shop) -> None:
    code = ask(shop)
    token = spend(shop, code).json["token"]  # type: ignore[index]
    everything = b"".join(
        path.read_bytes()
        for path in shop.app.extensions["companion"].config.data_dir.glob("*.sqlite3*")
    )
    assert token.encode() not in everything and code.encode() not in everything
    assert sha256(token).encode() in everything


def test_an_old_token_is_followed_by_a_new_one_and_good_until_that_is_used(shop: Shop) -> None:
    old = shop.tokens[PHONE_LOG]
    assert "token" not in send(shop, PHONE_LOG, old, 1, 1).json  # type: ignore[operator]
    with shop.store.write() as connection:
        change = update(schema.paired_phones).values(token_made_at="2026-01-01T00:00:00.000Z")
        connection.execute(change)
    lost = send(shop, PHONE_LOG, old, 2, 2).json["token"]  # type: ignore[index]
    # That answer was lost on its way: the phone sends with the old one again.
    new = send(shop, PHONE_LOG, old, 2, 2).json["token"]  # type: ignore[index]
    assert send(shop, PHONE_LOG, lost, 3, 3).status_code == 401
    assert send(shop, PHONE_LOG, new, 3, 3).status_code == 200
    assert send(shop, PHONE_LOG, old, 4, 4).status_code == 401
    assert "token" not in send(shop, PHONE_LOG, new, 4, 4).json  # type: ignore[operator]


def test_a_phone_that_asks_too_often_waits_and_loses_nothing(shop: Shop) -> None:
    token = shop.tokens[PHONE_LOG]
    sent = [send(shop, PHONE_LOG, token, seq, seq) for seq in range(1, 123)]
    assert [answer.status_code for answer in sent[:120]] == [200] * 120
    assert {answer.status_code for answer in sent[120:]} == {429}
    assert 0 < int(sent[-1].headers["Retry-After"]) <= 60
    assert len(log.all_rows(shop.store, log_id=PHONE_LOG)) == 120


def test_a_busy_day_is_pointed_out(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    send(shop, PHONE_LOG, shop.tokens[PHONE_LOG], 1, 30)
    office = shop.office()
    words = "more today than a busy day has"
    assert words not in office.get("/phones", base_url=ADDRESS).text
    monkeypatch.setattr("companion.web.office.phones.MOST_ROWS_A_DAY", 29)
    assert words in office.get("/phones", base_url=ADDRESS).text


def test_it_says_what_a_phone_still_holds(shop: Shop) -> None:
    send(shop, PHONE_LOG, shop.tokens[PHONE_LOG], 1, 3, Unsent="20")
    (found,) = [one for one in phones.all_logs(shop.store, now_utc()) if one.log_id == PHONE_LOG]
    assert found.unsent == 17
    send(shop, PHONE_LOG, shop.tokens[PHONE_LOG], 4, 4, Unsent="not a number")
    (found,) = [one for one in phones.all_logs(shop.store, now_utc()) if one.log_id == PHONE_LOG]
    assert found.unsent is None


def test_revoking_a_phone_keeps_its_rows_and_its_line(shop: Shop) -> None:
    send(shop, PHONE_LOG, shop.tokens[PHONE_LOG], 1, 4)
    pairing.revoke(shop.store, PHONE_LOG, now_utc())
    assert len(log.all_rows(shop.store, log_id=PHONE_LOG)) == 4
    assert "revoked" in shop.office().get("/phones", base_url=ADDRESS).text
    # It may be paired again, and its log goes on.
    answer = spend(shop, ask(shop, "bench phone", PHONE_LOG), log_id=PHONE_LOG)
    assert answer.json and answer.json["have_upto"] == 4


def test_two_requests_that_overlap_are_given_one_token(shop: Shop) -> None:
    with shop.store.write() as connection:
        change = update(schema.paired_phones).values(token_made_at="2026-01-01T00:00:00.000Z")
        connection.execute(change)
    first = pairing.recognised(shop.store, shop.tokens[PHONE_LOG], now_utc())
    second = pairing.recognised(shop.store, shop.tokens[PHONE_LOG], now_utc())
    assert first and second
    given = pairing.next_token(shop.store, second, now_utc())
    # The answer to the slower one must not make void what the phone may have kept already.
    assert pairing.next_token(shop.store, first, now_utc()) == ""
    assert pairing.recognised(shop.store, given, now_utc()) is not None


@pytest.mark.parametrize(
    "body",
    [
        json.dumps({"code": "\ud800", "log_id": NEW_LOG, "server_id": ""}),
        json.dumps({"code": "A", "log_id": NEW_LOG, "server_id": "\ud800"}),
        "[" * 200_000,
        "null",
        "",
    ],
)
def test_what_is_no_request_is_refused_in_words(shop: Shop, body: str) -> None:
    kind_of = {"Content-Type": "application/json"}
    answer = shop.client().post("/api/v1/pair", data=body, headers=kind_of, base_url=ADDRESS)
    assert answer.status_code == 400 and answer.is_json
    headers = {**shop.bearer(PHONE_LOG), **kind_of}
    answer = shop.client().post("/api/v1/codes", data=body, headers=headers, base_url=ADDRESS)
    assert answer.status_code in (403, 422)
