"""Languages: every text of the source is translated, every placeholder survives."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po
from flask.testing import FlaskClient

from companion.web import languages
from companion.web.languages import TRANSLATIONS

ROOT = Path(__file__).parent.parent
PLACE = re.compile(r"%\(\w+\)s|%%")


@pytest.fixture(scope="session")
def source(tmp_path_factory: pytest.TempPathFactory) -> Catalog:
    """Every text of the source, extracted as DEVELOPERS.md says."""
    target = tmp_path_factory.mktemp("texts") / "messages.pot"
    command = "extract -F companion/locale/babel.cfg -k t -k tn:1,2 --no-location -o".split()
    subprocess.run(
        [str(Path(sys.executable).parent / "pybabel"), "-q", *command, str(target), "."],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    with target.open("rb") as file:
        return read_po(file)


def catalogue(language: str) -> Catalog:
    with (TRANSLATIONS / language / "LC_MESSAGES" / "messages.po").open("rb") as file:
        return read_po(file, locale=language)


def texts(message: Message) -> list[str]:
    return [message.string] if isinstance(message.string, str) else list(message.string)


TRANSLATED = [language for language in languages.languages() if language != "en"]


def test_german_is_there() -> None:
    assert "de" in TRANSLATED


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_text_is_translated(source: Catalog, language: str) -> None:
    held = catalogue(language)
    missing = [
        message.id
        for message in source
        if message.id
        and not ((found := held.get(message.id)) and all(texts(found)) and not found.fuzzy)
    ]
    assert missing == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_placeholder_survives(language: str) -> None:
    for message in catalogue(language):
        if message.id:
            wanted = set(
                PLACE.findall(message.id if isinstance(message.id, str) else message.id[1])
            )
            for text in texts(message):
                assert set(PLACE.findall(text)) <= wanted, message.id
                # "%(num)s" may be a word in the singular.
                assert wanted - set(PLACE.findall(text)) <= {"%(num)s"}, message.id


def test_the_office_follows_the_browser_and_the_choice(client: FlaskClient) -> None:
    german = {"Accept-Language": "de-DE,de;q=0.9"}
    assert 'lang="de"' in client.get("/plan", headers=german).get_data(as_text=True)
    assert 'lang="en"' in client.get("/plan").get_data(as_text=True)
    client.post("/language", data={"language": "de"})
    assert 'lang="de"' in client.get("/plan").get_data(as_text=True)


def test_the_phone_gets_every_word_of_a_language(client: FlaskClient) -> None:
    words = client.get("/bench/words/de.json").get_json()
    held = catalogue("de")
    for message in held:
        if message.id:
            key = message.id if isinstance(message.id, str) else message.id[0]
            assert words[key] == (
                message.string if isinstance(message.string, str) else list(message.string)
            )
