"""The address of the shop: what may be one, and that it is kept."""

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from companion.errors import OutOfRange
from companion.lan import address as addresses
from companion.lan.address import Address

NOW = datetime(2026, 3, 7, 10, 14, tzinfo=UTC)


def wanted(folder: Path, name: str | None = None, port: int | None = None, **more: Any) -> Address:
    return addresses.wanted(
        folder, name, port, default_port=more.get("default", 8443), change=more.get("change", False)
    )


def test_the_usual_address_is_chosen_once_and_kept(tmp_path: Path) -> None:
    folder = tmp_path / "lan"
    found = wanted(folder)
    assert (found.url, found.trust_url) == (
        "https://companion.local:8443",
        "http://companion.local:8444",
    )
    assert found.is_multicast
    assert not folder.exists()
    addresses.keep(folder, found, NOW)
    assert json.loads((folder / "address.json").read_text()) == {
        "name": "companion.local",
        "port": 8443,
        "trust_port": 8444,
        "chosen_at": "2026-03-07T10:14:00.000Z",
    }
    assert (folder / "address.json").stat().st_mode & 0o777 == 0o600
    assert wanted(folder, default=9999) == found
    assert wanted(folder, "companion.local", 8443) == found


def test_the_usual_port_is_left_out(tmp_path: Path) -> None:
    assert wanted(tmp_path, "scale.shop.example", 443).url == "https://scale.shop.example"
    assert wanted(tmp_path, "scale.shop.example", 79).trust_url == "http://scale.shop.example"
    assert not wanted(tmp_path, "scale.shop.example").is_multicast


# Source: RFC 1123, 2.1 (letters, digits, hyphens; a last part of digits is no name), RFC 1035
# (63 characters a part); 44 characters of name are what a label's pattern has room for.
@pytest.mark.parametrize(
    "name",
    [
        "",
        "companion",
        "localhost",
        "shop.localhost",
        "192.168.1.7",
        "1.2",
        "shop.0x1f",
        "::1",
        "[fd00::7]",
        "Companion.local",
        "comp anion.local",
        "-shop.local",
        "shop-.local",
        "shop..local",
        ".local",
        "shop.local.",
        "shop_1.local",
        "büro.local",
        f"{'a' * 64}.local",
        f"{'a' * 39}.local",
        "companion.local:8443",
        "https://companion.local",
        "companion.local/",
        "companion.local\n",
    ],
)
def test_what_is_no_name_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        wanted(tmp_path, name)
    assert caught.value.field == "--name" and caught.value.value == repr(name)
    assert "companion.local" in caught.value.allowed


@pytest.mark.parametrize("name", ["a.b", "scale.shop.home.arpa", "x-1.local", "7.companion.local"])
def test_a_plain_name_is_taken(tmp_path: Path, name: str) -> None:
    assert wanted(tmp_path, name).name == name


@pytest.mark.parametrize("port", [-1, 65535, 65536])
def test_a_port_without_a_next_one_is_refused(tmp_path: Path, port: int) -> None:
    with pytest.raises(OutOfRange) as caught:
        wanted(tmp_path, None, port)
    assert (caught.value.field, caught.value.value) == ("--port", port)
    assert "65534" in caught.value.allowed


@pytest.mark.parametrize(
    ("asked", "field", "value", "kept"),
    [
        (("other.local", None), "--name", "other.local", "companion.local"),
        ((None, 9443), "--port", "9443", "8443"),
    ],
)
def test_another_than_the_kept_one_is_refused_with_what_it_would_do(
    tmp_path: Path, asked: tuple[str | None, int | None], field: str, value: str, kept: str
) -> None:
    addresses.keep(tmp_path, wanted(tmp_path), NOW)
    with pytest.raises(OutOfRange) as caught:
        wanted(tmp_path, *asked)
    assert (caught.value.field, caught.value.value) == (field, value)
    for words in (kept, "keeps its rows", "as a file", "pair", "labels", "--change-address"):
        assert words in caught.value.allowed


def test_a_new_name_moves_all_that_was_aside(tmp_path: Path) -> None:
    folder = tmp_path / "lan"
    addresses.keep(folder, wanted(folder), NOW)
    (folder / "authority.key").write_text("secret")
    found = wanted(folder, "other.local", change=True)
    addresses.keep(folder, found, NOW)
    assert sorted(path.name for path in folder.iterdir()) == ["address.json"]
    assert folder.stat().st_mode & 0o777 == 0o700
    aside = tmp_path / "lan-until-20260307T101400Z"
    assert (aside / "authority.key").read_text() == "secret"
    assert json.loads((aside / "address.json").read_text())["name"] == "companion.local"
    assert wanted(folder) == Address("other.local", 8443)


def test_a_new_port_keeps_the_authority(tmp_path: Path) -> None:
    addresses.keep(tmp_path, wanted(tmp_path), NOW)
    (tmp_path / "authority.key").write_text("secret")
    addresses.keep(tmp_path, wanted(tmp_path, None, 9443, change=True), NOW)
    assert (tmp_path / "authority.key").read_text() == "secret"
    assert wanted(tmp_path).url == "https://companion.local:9443"


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "{}", '{"name": "1.2.3.4", "port": 1}', '{"name": "a.b", "port": "1"}']
)
def test_a_file_that_says_something_else_is_refused(tmp_path: Path, text: str) -> None:
    (tmp_path / "address.json").write_text(text)
    with pytest.raises(OutOfRange, match="as this program wrote it"):
        wanted(tmp_path)
