"""``companion passphrase``: the passphrase of the office, set by whoever sits at the machine."""

import argparse
import getpass
import json
import sys
from datetime import UTC, datetime
from typing import Any

from ..app import open_store
from ..config import Config, default_data_dir
from ..errors import OutOfRange
from ..records import one_time, passphrase
from ..trade.times import format_utc
from .records import command


def add_commands(commands: Any) -> None:
    """Hang the command on the parser."""
    made = command(commands, "passphrase", "set the passphrase of the office", run)
    how = made.add_mutually_exclusive_group()
    how.add_argument("--stdin", action="store_true", help="read it from the first line of input")
    how.add_argument(
        "--code", action="store_true", help="print a code that sets it once in the browser"
    )
    made.add_argument("--json", action="store_true", help="print one JSON object")


def run(options: argparse.Namespace) -> int:
    """Set the passphrase, or make a code for it; a new one ends every session."""
    # The first act of a shop, perhaps: records are made where there are none yet.
    config = Config(options.data or default_data_dir(options.demo), options.demo)
    store = open_store(config)
    now_utc = format_utc(datetime.now(UTC))
    if options.code:
        code = one_time.make_console_code(store, now_utc)
        _say(options, {"code": code, "path": "/passphrase"}, f"{code}\nGood once, for one hour.")
        return 0
    passphrase.choose(store, _typed(options), now_utc)
    _say(options, {"set": True}, "The passphrase is set. Every session of the office has ended.")
    return 0


def _typed(options: argparse.Namespace) -> str:
    """The passphrase, from the input or asked for twice without showing it.

    :raises OutOfRange: the two are not the same.
    """
    if options.stdin:
        return sys.stdin.readline().rstrip("\r\n")
    try:
        first = getpass.getpass("New passphrase: ")
        second = getpass.getpass("The same once more: ")
    except EOFError as error:
        raise OutOfRange("passphrase", "nothing", "two lines, or one with --stdin") from error
    if second != first:
        raise OutOfRange("passphrase", "two that differ", "the same twice")
    return first


def _say(options: argparse.Namespace, answer: dict[str, Any], words: str) -> None:
    print(json.dumps(answer) if options.json else words)
