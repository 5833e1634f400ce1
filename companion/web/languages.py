"""Languages: chosen by cookie, else by the browser; the same words for office and bench."""

from collections.abc import Callable
from functools import lru_cache

from babel import Locale
from babel.messages.mofile import read_mo
from flask import Flask, request
from flask_babel import Babel, get_locale

from ..translations import FOLDER as TRANSLATIONS
from ..translations import SOURCE_LANGUAGE, catalogue, compile_if_stale, languages

__all__ = [
    "COOKIE",
    "TRANSLATIONS",
    "chosen",
    "language_names",
    "languages",
    "preferred",
    "speak",
    "words",
]

COOKIE = "companion_language"


def speak(app: Flask, choose: Callable[[], str] | None = None) -> None:
    """Give the application its languages.

    :param choose: tells the language of a request; by cookie or browser where none is given.
    """
    for language in languages():
        compile_if_stale(language)
    app.config["BABEL_TRANSLATION_DIRECTORIES"] = str(TRANSLATIONS)
    app.config["BABEL_DEFAULT_LOCALE"] = SOURCE_LANGUAGE
    Babel(app, locale_selector=choose or chosen)
    app.jinja_env.globals.update(get_locale=get_locale, language_names=language_names)


def language_names() -> dict[str, str]:
    """Each language in its own words."""
    return {code: Locale.parse(code).get_display_name(code) or code for code in languages()}


def chosen() -> str:
    """Language of this request."""
    wanted = request.cookies.get(COOKIE, "")
    if wanted in languages():
        return wanted
    return preferred()


def preferred() -> str:
    """Language the browser prefers of those there are."""
    return request.accept_languages.best_match(languages()) or SOURCE_LANGUAGE


@lru_cache
def words(language: str) -> dict[str, str | list[str]]:
    """Translations of one language: message -> text, or the list of its plural forms."""
    path = catalogue(language, "mo")
    if not path.is_file():
        return {}
    with path.open("rb") as file:
        held = read_mo(file)
    texts: dict[str, str | list[str]] = {}
    for message in held:
        if message.id and message.string:
            key = message.id if isinstance(message.id, str) else message.id[0]
            texts[key] = message.string if isinstance(message.string, str) else [*message.string]
    return texts
