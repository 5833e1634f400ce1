"""``companion health``: whether the records are sound, and what will need a hand soon."""

import argparse
import json
import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy.exc import DatabaseError

from ..certificate import certificate_until, name_of
from ..config import Config, default_data_dir
from ..errors import CompanionError
from ..lan import leaf
from ..lan.serving import FOLDER
from ..records import aside, backup
from ..records.catalogue import ServerIdentity, identity
from ..records.phones import LogSummary, all_logs, rows_held
from ..records.store import Store, integrity_problems
from ..trade.times import format_utc, parse_utc
from . import health_words as words
from .records import command, open_records

#: SQLite versions before this one can damage a write-ahead log; we use none, and say so.
WAL_RESET_FIXED = (3, 51, 3)

#: Facts of records that damage keeps from being read.
_HIDDEN: dict[str, Any] = {
    **dict.fromkeys(("server_id", "epoch", "demo", "rows", "set_aside", "set_aside_open")),
    "phones": [],
    "oldest_phone": None,
    "last_backup": None,
}


@dataclass(frozen=True, slots=True)
class Held:
    """What the records tell of themselves."""

    who: ServerIdentity
    rows: int
    strays: list[aside.Stray]
    phones: list[LogSummary]
    last_backup: backup.Backup | None


def add_commands(commands: Any) -> None:
    """Hang the command on the parser."""
    health = command(commands, "health", "whether the records are sound", run)
    health.add_argument("--json", action="store_true", help="print one JSON object")


def run(options: argparse.Namespace) -> int:
    """Tell whether the records are sound; exit code 1 if they are not."""
    answer = _looked_at(options, datetime.now(UTC))
    if options.json:
        print(json.dumps(answer))
    else:
        print("\n".join(words.lines(answer)))
    return 0 if answer["sound"] else 1


def _looked_at(options: argparse.Namespace, now: datetime) -> dict[str, Any]:
    """What there is to say, also of records so damaged that they do not open."""
    try:
        config, store = open_records(options)
    except DatabaseError as error:
        config = Config(options.data or default_data_dir(options.demo), options.demo)
        return _facts(config, [str(error.orig)], dict(_HIDDEN), now)
    with closing(store):
        return _answer(config, store, now)


def _answer(config: Config, store: Store, now: datetime) -> dict[str, Any]:
    problems: list[str] = []
    records = dict(_HIDDEN)
    try:
        problems += integrity_problems(store)
        records = _records(_held(store, now), now)
    except DatabaseError as error:
        problems.append(str(error.orig))
    except (CompanionError, ValueError) as error:
        problems.append(str(error))
    return _facts(config, problems, records, now)


def _facts(
    config: Config, problems: list[str], records: dict[str, Any], now: datetime
) -> dict[str, Any]:
    facts: dict[str, Any] = {
        "sound": not problems,
        "problems": problems,
        **records,
        "sqlite_version": sqlite3.sqlite_version,
        "sqlite_note": _sqlite_note(),
        "disk_free_bytes": shutil.disk_usage(config.data_dir).free,
        "certificate": _certificate(config, now),
    }
    return {**facts, "warnings": words.warnings(facts)}


def _held(store: Store, now: datetime) -> Held:
    return Held(
        who=identity(store),
        rows=rows_held(store),
        strays=aside.all_strays(store),
        phones=all_logs(store, format_utc(now)),
        last_backup=backup.last_proven(store),
    )


def _records(held: Held, now: datetime) -> dict[str, Any]:
    phones = [_phone(phone, now) for phone in held.phones]
    waiting = [one for one in phones if not one["revoked"] and one["days"] is not None]
    return {
        "server_id": held.who.server_id,
        "epoch": held.who.epoch,
        "demo": held.who.demo,
        "rows": held.rows,
        "set_aside": len(held.strays),
        "set_aside_open": sum(stray.decision is None for stray in held.strays),
        "phones": phones,
        "oldest_phone": max(waiting, key=lambda one: float(one["days"]), default=None),
        "last_backup": _last_backup(held.last_backup, now),
    }


def _phone(phone: LogSummary, now: datetime) -> dict[str, Any]:
    seen = phone.last_contact_at
    return {
        "log_id": phone.log_id,
        "name": phone.paired.name if phone.paired else "",
        "revoked": bool(phone.paired and phone.paired.revoked_at),
        "last_contact_at": seen,
        "days": _days(parse_utc(seen), now) if seen else None,
        "rows": phone.rows,
        "missing": [list(gap) for gap in phone.missing],
    }


def _last_backup(made: backup.Backup | None, now: datetime) -> dict[str, Any] | None:
    if made is None:
        return None
    return {
        "made_at": made.made_at,
        "file": made.file,
        "rows": made.rows,
        "days": _days(parse_utc(made.made_at), now),
        "as_proven": backup.is_as_proven(made),
    }


def _certificate(config: Config, now: datetime) -> dict[str, Any] | None:
    """The certificate phones are shown; None where this program knows of none.

    Behind a proxy the environment of the server names it, if the command has the same.
    """
    named = Config.from_environment().certificate
    path: Path = named or config.data_dir / FOLDER / leaf.CERTIFICATE
    if not path.exists():
        return None
    end = certificate_until(path)
    return {
        "name": name_of(path),
        "until": format_utc(end) if end else "",
        "days_left": _days(now, end) if end else None,
    }


def _days(since: datetime, now: datetime) -> int:
    """Whole days from one moment to another; below zero if it came before."""
    return (now - since).days


def _sqlite_note() -> str:
    if sqlite3.sqlite_version_info >= WAL_RESET_FIXED:
        return "no known fault that concerns us"
    return "its write-ahead log has a known fault; these records do not use one"
