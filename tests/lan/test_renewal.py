"""Looking at the certificate while it is served."""

import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from companion.certificate import certificate_until
from companion.errors import OutOfRange
from companion.lan import authority as authorities
from companion.lan import leaf as leaves
from companion.lan.renewal import LOOK_EVERY_S, Renewal

NAME = "companion.test"
NOW = datetime(2026, 3, 7, 10, 14, tzinfo=UTC)
DAY = timedelta(days=1)


class Clock:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


def renewal(folder: Path, clock: Clock, every_s: float = LOOK_EVERY_S) -> Renewal:
    authority = authorities.established(folder, NAME, NOW)
    return Renewal(folder, authority, NAME, clock=clock, every_s=every_s)


def test_it_looks_every_hour() -> None:
    assert LOOK_EVERY_S == 3600


def test_it_reloads_once_when_the_time_has_come(tmp_path: Path, clock: Clock) -> None:
    watched = renewal(tmp_path, clock, every_s=0.01)
    watched.prepare()
    reloads, renewed = [], threading.Event()

    def reload() -> None:
        reloads.append(certificate_until(tmp_path / "leaf.pem"))
        renewed.set()

    watched.watch(reload)
    assert not renewed.wait(0.2)
    clock.now = NOW + 340 * DAY
    assert renewed.wait(10)
    assert not threading.Event().wait(0.2)
    watched.close()
    assert reloads == [NOW + 736 * DAY - timedelta(seconds=1)]


def test_what_cannot_be_renewed_is_said_and_served_on(
    tmp_path: Path, clock: Clock, capsys: pytest.CaptureFixture[str]
) -> None:
    renewal(tmp_path, clock).prepare()
    (tmp_path / "authority.key").unlink()
    without = renewal(tmp_path, clock)
    without.prepare()
    assert capsys.readouterr().err == ""
    clock.now = NOW + 350 * DAY
    without.prepare()
    assert not without.renew()
    said = capsys.readouterr().err
    assert "authority.key beside authority.pem" in said and "it ends on 2027-04-07" in said
    clock.now = NOW + 400 * DAY
    with pytest.raises(OutOfRange, match="authority key"):
        without.prepare()


def test_a_disk_that_refuses_does_not_stop_the_watch(
    tmp_path: Path, clock: Clock, capsys: pytest.CaptureFixture[str]
) -> None:
    watched = renewal(tmp_path, clock)
    watched.prepare()
    before = (tmp_path / "leaf.pem").read_bytes()
    clock.now = NOW + 350 * DAY
    (tmp_path / "leaf.key").unlink()
    (tmp_path / "leaf.key").mkdir()
    assert not watched.renew()
    assert "cannot be renewed" in capsys.readouterr().err
    assert (tmp_path / "leaf.pem").read_bytes() == before
    (tmp_path / "leaf.key").rmdir()
    assert watched.renew()
    assert leaves.read_key(tmp_path / "leaf.key") is not None
