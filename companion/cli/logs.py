"""``companion export`` and ``import``: the records in a person's hands."""

import argparse
import json
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from babel import Locale, UnknownLocaleError
from babel.numbers import get_decimal_symbol

from ..errors import OutOfRange
from ..records import catalogue, log, tables, trace
from ..records.store import Store
from ..trade.cards import Job
from ..trade.times import format_utc
from ..wire.log_csv import read_log
from ..wire.people_csv import manner, write_table
from .records import command, open_records


def add_commands(commands: Any) -> None:
    """Hang the commands on the parser."""
    export = command(commands, "export", "the log as CSV", run_export)
    export.add_argument("--cup", default="", help="only the cups of this label")
    export.add_argument("--log", default="", help="only the log of this phone")
    export.add_argument(
        "--people", choices=tuple(tables.COLUMNS), help="a table for a spreadsheet instead"
    )
    export.add_argument("--locale", default="en", help="whose decimal mark and separator it has")
    export.add_argument("--no-bom", action="store_true", help="without the mark of UTF-8")
    export.add_argument("--output", "-o", type=Path, help="file to write instead of the output")
    entry = command(commands, "import", "add rows from a CSV file of a phone", run_import)
    entry.add_argument("file", type=Path, help="the file, as shared by the phone")
    entry.add_argument("--json", action="store_true", help="print one JSON object")


def run_export(options: argparse.Namespace) -> int:
    """Write the log."""
    _, store = open_records(options)
    if options.people:
        text = _table(store, options).encode()
    else:
        text = log.export(store, log_id=options.log, cup=options.cup.upper()).encode()
    if options.output:
        options.output.write_bytes(text)
    else:
        sys.stdout.buffer.write(text)
        sys.stdout.buffer.flush()
    return 0


def _table(store: Store, options: argparse.Namespace) -> str:
    """Cups or rows as a table for a person.

    :raises OutOfRange: a locale nobody knows, or a choice that only the log has.
    """
    if options.log:
        raise OutOfRange("--log", options.log, "nothing beside --people")
    code = options.cup.upper()
    stories = trace.stories(store, code) if code else trace.all_stories(store)
    jobs = {job.name: job.part for job in catalogue.every(store, Job)}
    speech = tables.Speech(part=lambda job: jobs.get(job, job))
    try:
        mark = get_decimal_symbol(Locale.parse(options.locale, sep="-"))
    except (UnknownLocaleError, ValueError) as error:
        raise OutOfRange("--locale", options.locale, "a language as in de or en-GB") from error
    header = tables.COLUMNS[options.people]
    lines = tables.table(options.people, stories, speech)
    return write_table(header, lines, manner(mark, bom=not options.no_bom))


def run_import(options: argparse.Namespace) -> int:
    """Add rows; twice is harmless."""
    _, store = open_records(options)
    lines = read_log(options.file.read_bytes(), bom_allowed=True)
    results = log.import_lines(store, lines, log.Contact(format_utc(datetime.now(UTC)), "import"))
    statuses = (log.STORED, log.DUPLICATE, log.CONFLICT, log.QUARANTINED)
    counts = {status: sum(r.status == status for r in results) for status in statuses}
    if options.json:
        aside = [
            {"line": r.line, "status": r.status, "reason": r.reason} for r in results if r.reason
        ]
        print(json.dumps({**counts, "aside": aside}))
    else:
        print(", ".join(f"{count} {status}" for status, count in counts.items()))
        for result in results:
            if result.reason:
                print(f"line {result.line}: {result.status}, {result.reason.replace('_', ' ')}")
    return 0
