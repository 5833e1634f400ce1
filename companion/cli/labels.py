"""``companion labels``: sheets of labels as PDF."""

import argparse
import json
import sys
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any

from .. import translations
from ..paper.asked import MOST_LABELS
from ..paper.labels import BlankLabel, Words
from ..paper.pdf import page_count, render
from ..paper.preview import unprinted
from ..paper.words import label_words
from ..records import labels
from ..trade.times import format_utc
from . import sheets
from .label_choice import named
from .records import command, open_records, shop_address


def add_commands(commands: Any) -> None:
    """Hang the command on the parser."""
    made = command(commands, "labels", "sheets of labels as PDF", run)
    wanted = made.add_mutually_exclusive_group(required=True)
    wanted.add_argument("--cups", nargs="+", metavar="CODE", help="planned cups")
    wanted.add_argument("--plan", metavar="JOB", help="planned cups of a job nobody has started")
    wanted.add_argument("--blank", type=_count, metavar="N", help="so many new codes")
    wanted.add_argument("--containers", nargs="+", metavar="CODE", help="cans on record")
    wanted.add_argument("--parts", nargs="+", metavar="CODE", help="parts on record")
    sheets.add_options(made)
    made.add_argument(
        "--language",
        type=_language,
        default=translations.SOURCE_LANGUAGE,
        metavar="CODE",
        help=f"words, figures and days on the labels: {_languages()} (en)",
    )
    made.add_argument("--output", "-o", type=Path, required=True, help="file to write")
    made.add_argument("--json", action="store_true", help="print one JSON object")


def _count(text: str) -> int:
    if text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= MOST_LABELS:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r}: allowed is 1 to {MOST_LABELS}")


def _language(text: str) -> str:
    if text in translations.languages():
        return text
    raise argparse.ArgumentTypeError(f"{text!r}: allowed is {_languages()}")


def _languages() -> str:
    return ", ".join(translations.languages())


def run(options: argparse.Namespace) -> int:
    """Write the sheets.

    :raises OutOfRange: the sheet cannot be printed, or a code is none.
    :raises NotKnown: a code is not on record.
    """
    sheet, words = sheets.sheet_of(options), _words(options.language)
    config, store = open_records(options)
    base = shop_address(config)
    at = format_utc(datetime.now(UTC))
    found = named(store, options, words)
    sheets.require(sheet, found or [BlankLabel("")], base)
    made = found or [BlankLabel(code) for code in labels.take(store, options.blank, "", at)]
    options.output.write_bytes(render(made, sheet, base))
    codes, pages = [label.code for label in made], page_count(sheet, len(made))
    labels.mark_printed(store, codes, at)
    letters = unprinted(made, sheet, base)
    if options.json:
        answer = {"file": str(options.output), "pages": pages, "codes": codes}
        print(json.dumps({**answer, "unprinted": list(letters)}))
    else:
        print(f"{options.output}: labels {len(codes)}, pages {pages}; print at 100 %")
    if letters:
        print(f"companion labels: printed as empty boxes: {' '.join(letters)}", file=sys.stderr)
    return 0


def _words(language: str) -> Words:
    return label_words(
        translations.translator(language),
        partial(translations.figure, locale=language),
        partial(translations.day, locale=language),
    )
