"""Languages: chosen by cookie, else by the browser; the same words for office and bench."""

import io
from functools import lru_cache
from pathlib import Path

from babel import Locale
from babel.messages.mofile import read_mo, write_mo
from babel.messages.pofile import read_po
from flask import Flask, request
from flask_babel import Babel, get_locale

TRANSLATIONS = Path(__file__).parent.parent / "locale"
SOURCE_LANGUAGE = "en"
COOKIE = "companion_language"


def speak(app: Flask) -> None:
    """Give the application its languages."""
    for language in languages():
        compile_if_stale(language)
    app.config["BABEL_TRANSLATION_DIRECTORIES"] = str(TRANSLATIONS)
    app.config["BABEL_DEFAULT_LOCALE"] = SOURCE_LANGUAGE
    Babel(app, locale_selector=chosen)
    app.jinja_env.globals.update(get_locale=get_locale, language_names=language_names)


def languages() -> list[str]:
    """Codes of all languages, the source language first."""
    found = sorted(path.parent.parent.name for path in TRANSLATIONS.glob("*/LC_MESSAGES/*.po"))
    return [SOURCE_LANGUAGE, *(code for code in found if code != SOURCE_LANGUAGE)]


def language_names() -> dict[str, str]:
    """Each language in its own words."""
    return {code: Locale.parse(code).get_display_name(code) or code for code in languages()}


def chosen() -> str:
    """Language of this request."""
    wanted = request.cookies.get(COOKIE, "")
    if wanted in languages():
        return wanted
    return request.accept_languages.best_match(languages()) or SOURCE_LANGUAGE


@lru_cache
def words(language: str) -> dict[str, str | list[str]]:
    """Translations of one language: message -> text, or the list of its plural forms."""
    path = _catalogue(language, "mo")
    if not path.is_file():
        return {}
    with path.open("rb") as file:
        catalogue = read_mo(file)
    texts: dict[str, str | list[str]] = {}
    for message in catalogue:
        if message.id and message.string:
            key = message.id if isinstance(message.id, str) else message.id[0]
            texts[key] = message.string if isinstance(message.string, str) else [*message.string]
    return texts


def compile_if_stale(language: str) -> None:
    """Compile a catalogue whose text is newer; a wheel brings them compiled."""
    source, target = _catalogue(language, "po"), _catalogue(language, "mo")
    if not source.is_file():
        return
    if target.is_file() and target.stat().st_mtime >= source.stat().st_mtime:
        return
    with source.open("rb") as file:
        catalogue = read_po(file, locale=language)
    compiled = io.BytesIO()
    write_mo(compiled, catalogue)
    target.write_bytes(compiled.getvalue())


def _catalogue(language: str, ending: str) -> Path:
    return TRANSLATIONS / language / "LC_MESSAGES" / f"messages.{ending}"
