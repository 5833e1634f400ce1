"""A shop on a network: which names, schemes and proxies are believed, and what is written down."""

import json
import stat
from pathlib import Path

import pytest
from flask import Flask

from companion.app import create_app
from companion.config import Config, origin
from companion.errors import OutOfRange
from companion.web import journal
from tests.web.rights import ADDRESS, PHONE_LOG, Shop, come_in, open_shop


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory):  # type: ignore[no-untyped-def]
    opened = open_shop(tmp_path_factory.mktemp("network") / "data")
    yield opened
    opened.store.close()


@pytest.mark.parametrize(
    "host",
    [
        "elsewhere.example",
        "companion.local",
        "companion.local:8444",
        "companion.local:8443.elsewhere.example",
        "127.0.0.1:8443",
        "localhost",
        "192.168.1.20:8443",
        "",
    ],
)
def test_a_name_that_is_not_the_shops_is_answered_nowhere(shop: Shop, host: str) -> None:
    # A page elsewhere whose name was made to lead here (DNS rebinding) asks with its own name.
    for path in ("/", "/bench/", "/api/v1/health", "/static/style/office.css", "/nowhere"):
        answer = shop.client().get(path, base_url=ADDRESS, headers={"Host": host})
        answer.close()
        assert answer.status_code == 400, (path, host)


def test_the_name_counts_in_any_case(shop: Shop) -> None:
    answer = shop.client().get(
        "/api/v1/health", base_url=ADDRESS, headers={"Host": "COMPANION.local:8443"}
    )
    assert answer.status_code == 200


def test_without_tls_nothing_is_answered(shop: Shop) -> None:
    for path in ("/", "/bench/", "/api/v1/health", "/api/v1/bundle"):
        answer = shop.client().get(path, base_url="http://companion.local:8443")
        assert answer.status_code == 400 and "Location" not in answer.headers


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "https://elsewhere.example"},
        {"Origin": "null"},
        {"Origin": "http://companion.local:8443"},
        {"Origin": ADDRESS, "Sec-Fetch-Site": "cross-site"},
        {"Origin": ADDRESS, "Sec-Fetch-Site": "same-site"},
    ],
)
def test_a_form_of_another_page_changes_nothing(shop: Shop, headers: dict[str, str]) -> None:
    form = {"passphrase": "whatever it is", "then": "/"}
    answer = shop.client().post("/login", data=form, headers=headers, base_url=ADDRESS)
    assert answer.status_code == 403 and "This request" not in answer.text
    assert "Set-Cookie" not in answer.headers


def test_a_server_for_this_machine_answers_nobody_else(app: Flask) -> None:
    client = app.test_client()
    client.environ_base["REMOTE_ADDR"] = "192.168.1.77"
    for path in ("/", "/bench/", "/api/v1/bundle"):
        assert client.get(path, base_url="http://127.0.0.1").status_code == 403


@pytest.mark.parametrize("host", ["a..b", "a" * 64, ".", "a" * 5000])
def test_an_odd_host_is_refused_in_plain_words(shop: Shop, host: str) -> None:
    answer = shop.client().get("/phones", base_url=ADDRESS, headers={"Host": host})
    assert (answer.status_code, answer.mimetype) == (400, "text/plain")
    assert "companion.local:8443" in answer.text and len(answer.text) < 300


def test_a_proxy_that_says_nothing_of_itself_asks_in_the_old_version(app: Flask) -> None:
    old = {"SERVER_PROTOCOL": "HTTP/1.0"}
    answer = app.test_client().get("/", base_url="http://127.0.0.1", environ_overrides=old)
    assert answer.status_code == 403


@pytest.mark.parametrize("name", ["X-Forwarded-For", "Forwarded", "X-Real-IP", "Via"])
def test_a_proxy_in_front_of_it_makes_it_no_less_careful(app: Flask, name: str) -> None:
    answer = app.test_client().get("/", base_url="http://127.0.0.1", headers={name: "127.0.0.1"})
    assert answer.status_code == 403
    assert "COMPANION_ADDRESS" in answer.text


def test_words_of_a_proxy_are_believed_from_the_configured_hop_only(tmp_path: Path) -> None:
    shop = open_shop(tmp_path / "data", trusted_hops=1, proxy_from=("10.0.0.5",), journal=True)
    said = {"X-Forwarded-For": "203.0.113.9, 198.51.100.4", "X-Forwarded-Proto": "https"}
    for asker, status in (("10.0.0.5", 200), ("10.0.0.6", 400)):
        client = shop.client()
        client.environ_base["REMOTE_ADDR"] = asker
        answer = client.get("/api/v1/health", headers=said, base_url="http://companion.local:8443")
        assert answer.status_code == status
    text = (tmp_path / "data/journal/requests.log").read_text(encoding="utf-8")
    lines = [json.loads(line) for line in text.splitlines()]
    # One hop: the last address is the asker; what stood before it anybody may have written.
    assert [line["from"] for line in lines] == ["198.51.100.4", "10.0.0.6"]
    shop.store.close()


def test_without_a_proxy_its_words_are_nobodys(shop: Shop) -> None:
    said = {"X-Forwarded-Proto": "https", "X-Forwarded-Host": "companion.local:8443"}
    base = "http://elsewhere.example"
    assert shop.client().get("/api/v1/health", headers=said, base_url=base).status_code == 400


@pytest.mark.parametrize(
    "text",
    [
        "http://companion.local",
        "companion.local",
        "https://",
        "https://a/b",
        "https://a:99999",
        "https://user@a",
        "https://a?b",
        "https://é.example",
        "https://[::1]:8443",
        "https://-a",
        "https://" + "a" * 51,
    ],
)
def test_an_address_that_is_none_is_refused_in_words(text: str) -> None:
    with pytest.raises(OutOfRange, match="https://NAME"):
        origin(text)


def test_an_address_is_written_as_browsers_write_it() -> None:
    assert origin("HTTPS://Shop.Example:443/") == "https://shop.example"
    assert origin("https://shop.example:8443") == "https://shop.example:8443"


@pytest.mark.parametrize("hops", ["-1", "10", "one", "1.5", "１"])
def test_hops_that_are_none_are_refused(hops: str) -> None:
    with pytest.raises(OutOfRange, match="0 to 9"):
        Config.from_environment({"COMPANION_TRUSTED_HOPS": hops})


def test_the_journal_tells_doors_and_refusals_and_no_secret(tmp_path: Path) -> None:
    shop = open_shop(tmp_path / "data", journal=True)
    come_in(shop.client(), "not the passphrase")
    office = shop.office()
    office.get("/trace?code=SECRET", base_url=ADDRESS)
    shop.client().get("/a%0d%0ab", base_url=ADDRESS)
    shop.client().get("/api/v1/bundle", headers=shop.bearer(PHONE_LOG), base_url=ADDRESS)
    shop.client().post(
        "/api/v1/pair", json={"code": "A" * 26, "log_id": PHONE_LOG}, base_url=ADDRESS
    )
    path = tmp_path / "data/journal/requests.log"
    text = path.read_text(encoding="utf-8")
    lines = [json.loads(line) for line in text.splitlines()]
    assert [line["event"] for line in lines] == [
        "login_refused", "login", "", "", "", "pairing_refused"
    ]  # fmt: skip
    assert lines[3]["path"] == "/a\r\nb" and lines[3]["status"] == 404
    assert lines[4]["phone"] == PHONE_LOG and lines[2]["session"] == 1
    for secret in ('passphrase":', "paddles", "SECRET", shop.tokens[PHONE_LOG], "A" * 26):
        assert secret not in text
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    shop.store.close()


def test_the_journal_is_limited_in_size_and_in_days(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import os

    monkeypatch.setattr(journal, "MOST_BYTES", 2000)
    folder = tmp_path / "data/journal"
    folder.mkdir(parents=True)
    old = folder / "requests.log.4"
    old.write_text("long ago\n", encoding="utf-8")
    os.utime(old, (0, 0))
    shop = open_shop(tmp_path / "data", journal=True)
    assert not old.exists()
    for _ in range(100):
        shop.client().get("/api/v1/health", base_url=ADDRESS)
    files = sorted(path.name for path in folder.iterdir())
    assert files == ["requests.log", *(f"requests.log.{n}" for n in range(1, 6))]
    assert all(path.stat().st_size <= 2000 for path in folder.iterdir())
    shop.store.close()


def test_create_app_reads_its_settings_from_the_environment(tmp_path: Path) -> None:
    config = Config.from_environment(
        {
            "COMPANION_DATA": str(tmp_path / "data"),
            "COMPANION_ADDRESS": "https://shop.example/",
            "COMPANION_TRUSTED_HOPS": "1",
            "COMPANION_PROXY_FROM": "10.0.0.5, 10.0.0.6",
        }
    )
    assert config.hosts == ("shop.example",) and config.proxy_from == ("10.0.0.5", "10.0.0.6")
    app = create_app(config)
    # No passphrase yet: on a network the office is closed all the same.
    answer = app.test_client().get(
        "/phones",
        base_url="http://shop.example",
        headers={"X-Forwarded-Proto": "https", "X-Forwarded-For": "203.0.113.9"},
        environ_base={"REMOTE_ADDR": "10.0.0.6"},
    )
    assert answer.status_code == 302 and "/login" in answer.headers["Location"]
    app.extensions["companion"].store.close()


def test_labels_of_the_office_carry_the_address(tmp_path: Path) -> None:
    from companion.records import plans
    from tests.paper.raster import rasterise, read_zxing

    shop = open_shop(tmp_path / "data")
    office = shop.office()
    page = office.get("/labels", base_url=ADDRESS).text
    mark = page.split('name="csrf" value="')[1].split('"')[0]
    code = plans.every(shop.store)[0].code
    form = {"what": "cups", "codes": code, "csrf": mark}
    answer = office.post("/labels", data=form, base_url=ADDRESS)
    (sheet,) = rasterise(answer.data, tmp_path)
    expected = f"HTTPS://COMPANION.LOCAL:8443/C/{code}"
    assert {found.text for found in read_zxing(sheet)} == {expected}
    shop.store.close()
