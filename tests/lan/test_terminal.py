"""What the terminal says: steps in words, patterns that name the shop and never a number."""

import io
import json
import sys
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
import zxingcpp

from companion.lan.address import Address
from companion.lan.terminal import Notice, say
from tests.paper.test_qr_text import HALVES, drawn

NOTICE = Notice(
    address=Address("companion.local", 8443),
    fingerprint=":".join(["AB", "CD"] * 16),
    certificate=Path("/data/lan/leaf.pem"),
    certificate_until=datetime(2027, 4, 7, 10, 14, tzinfo=UTC),
    authority_until=datetime(2036, 3, 4, tzinfo=UTC),
    data_dir=Path("/data"),
    first_code="ABCDE23456",
    demo=False,
    networks=frozenset({"192.168.1.7", "10.0.0.4"}),
)


def said(notice: Notice, capsys: pytest.CaptureFixture[str]) -> str:
    say(notice, as_json=False)
    return capsys.readouterr().out


def patterns(text: str) -> list[str]:
    """What a camera reads off the terminal."""
    found: list[list[str]] = [[]]
    for line in text.splitlines():
        if len(line) > 20 and set(line) <= set(HALVES):
            found[-1].append(line)
        elif found[-1]:
            found.append([])
    return [zxingcpp.read_barcodes(drawn(lines))[0].text for lines in found if lines]


def test_the_patterns_lead_to_the_shop_by_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert patterns(said(NOTICE, capsys)) == [
        "http://companion.local:8444/",
        "https://companion.local:8443/bench/",
    ]


def test_it_tells_what_to_compare_and_what_is_missing(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(NOTICE, capsys)
    # In lines of eight pairs, as the trust page shows it.
    assert text.count(f"\n   {':'.join(['AB', 'CD'] * 4)}") == 4
    assert "until 2027-04-07" in text
    assert (
        "companion passphrase --data /data" in text
        and "/passphrase and type the code ABCDE-23456" in text
    )
    assert "answered on this computer's networks: 10.0.0.4, 192.168.1.7" in text
    assert "companion passphrase" not in said(replace(NOTICE, first_code=""), capsys)
    assert "passphrase --demo --data" in said(replace(NOTICE, demo=True), capsys)


def test_it_tells_who_answers_for_the_name(capsys: pytest.CaptureFixture[str]) -> None:
    elsewhere = replace(NOTICE, address=Address("scale.shop.example", 443), networks=None)
    text = said(elsewhere, capsys)
    assert "The router must lead scale.shop.example to this computer" in text
    assert patterns(text)[1] == "https://scale.shop.example/bench/"
    assert "No network yet" in said(replace(NOTICE, networks=frozenset()), capsys)


def test_programs_get_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    say(NOTICE, as_json=True)
    out = capsys.readouterr().out
    assert out.count("\n") == 1
    facts = json.loads(out)
    assert facts["address"] == "https://companion.local:8443"
    assert facts["trust_address"] == "http://companion.local:8444"
    assert facts["certificate_until"] == "2027-04-07T10:14:00.000Z"
    assert facts["fingerprint"] == NOTICE.fingerprint


def test_a_terminal_without_the_signs_gets_the_words(monkeypatch: pytest.MonkeyPatch) -> None:
    out = io.TextIOWrapper(io.BytesIO(), encoding="cp1252")
    monkeypatch.setattr(sys, "stdout", out)
    say(NOTICE, as_json=False)
    out.seek(0)
    text = out.read()
    assert patterns(text) == []
    assert "http://companion.local:8444/" in text
