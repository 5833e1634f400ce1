"""The commands. Machine output with --json; wrong input ends with exit code 2 and one line."""

import argparse
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from sqlalchemy.exc import DatabaseError

from .. import __version__
from ..errors import CompanionError, CouldNot
from . import backup, health, labels, logs, mix, passphrase, plan, serve, trace

EXIT_OK, EXIT_FAILED, EXIT_WRONG_INPUT = 0, 1, 2
#: What these write is for the user alone who runs them.
PRIVATE = ("serve", "import", "passphrase", "backup", "restore")


class OneLineParser(argparse.ArgumentParser):
    """Says what is wrong in one line, without the usage text in front of it."""

    def error(self, message: str) -> NoReturn:
        """End with exit code 2."""
        self.exit(EXIT_WRONG_INPUT, f"{self.prog}: {message}\n")


def parser() -> argparse.ArgumentParser:
    """Every command with its options."""
    root = OneLineParser(prog="companion", description="Weigh two-part epoxy to the ratio.")
    root.add_argument("--version", action="version", version=f"%(prog)s {__version__}")
    commands = root.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for room in (serve, mix, plan, labels, trace, logs, passphrase, backup, health):
        room.add_commands(commands)
    return root


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command.

    :return: 0 if it did what was asked, 1 if it could not, 2 if the input was wrong.
    """
    options = parser().parse_args(arguments)
    before = os.umask(0o077) if options.command in PRIVATE else None
    try:
        return _run(options)
    finally:
        if before is not None:
            os.umask(before)


def _run(options: argparse.Namespace) -> int:
    try:
        outcome: int = options.run(options)
    except CompanionError as error:
        print(f"companion {options.command}: {error}", file=sys.stderr)
        return EXIT_FAILED if isinstance(error, CouldNot) else EXIT_WRONG_INPUT
    except BrokenPipeError:
        # Whoever read our output has had enough.
        sys.stderr.close()
        return EXIT_FAILED
    except (OSError, DatabaseError) as error:
        print(f"companion {options.command}: {str(error).splitlines()[0]}", file=sys.stderr)
        return EXIT_FAILED
    return outcome
