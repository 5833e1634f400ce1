"""Translations and how each language writes figures and days, for pages and commands alike."""

import io
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

from babel import Locale
from babel.dates import format_date
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from babel.numbers import format_decimal
from babel.support import Translations

from .trade.numbers import is_wire_number

FOLDER = Path(__file__).parent / "locale"
SOURCE_LANGUAGE = "en"
_MINUS = "\u2212"


def languages() -> list[str]:
    """Codes of all languages, the source language first."""
    found = sorted(path.parent.parent.name for path in FOLDER.glob("*/LC_MESSAGES/*.po"))
    return [SOURCE_LANGUAGE, *(code for code in found if code != SOURCE_LANGUAGE)]


def catalogue(language: str, ending: str) -> Path:
    """File of a language: ``po`` as written by people, ``mo`` as compiled."""
    return FOLDER / language / "LC_MESSAGES" / f"messages.{ending}"


def compile_if_stale(language: str) -> None:
    """Compile a catalogue whose text is newer; a wheel brings them compiled."""
    source, target = catalogue(language, "po"), catalogue(language, "mo")
    if not source.is_file():
        return
    if target.is_file() and target.stat().st_mtime >= source.stat().st_mtime:
        return
    with source.open("rb") as file:
        texts = read_po(file, locale=language)
    compiled = io.BytesIO()
    write_mo(compiled, texts)
    target.write_bytes(compiled.getvalue())


def translator(language: str) -> Callable[[str], str]:
    """What turns a message into its text of one language; the message itself where it has none."""
    compile_if_stale(language)
    return Translations.load(str(FOLDER), [language], "messages").gettext


def figure(text: str, locale: Locale | str) -> str:
    """A recorded figure, digit for digit, with the decimal sign of the language; else as it is."""
    if not is_wire_number(text):
        return text
    decimals = len(text.partition(".")[2])
    pattern = "0." + "0" * decimals if decimals else "0"
    return format_decimal(Decimal(text), format=pattern, locale=locale).replace("-", _MINUS)


def day(iso: str, locale: Locale | str) -> str:
    """A day of the calendar, ISO 8601, with its month as a word; anything else as it is."""
    try:
        return format_date(date.fromisoformat(iso), "medium", locale=locale)
    except ValueError:
        return iso
