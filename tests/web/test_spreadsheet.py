"""The people's table opened by a real spreadsheet: LibreOffice, without a screen."""

import shutil
import subprocess
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.records import log
from tests.records.test_lineage import taken
from tests.records.test_office_log import CONTACT, cup
from tests.sample_rows import LOG_ID, lines, row

#: Characters of a file as LibreOffice numbers them, and languages as Windows does; both from the
#: list of filter options of LibreOffice (from memory).
UTF_8, ENGLISH, GERMAN = 76, 1033, 1031
NASTY = [
    "=1+1",
    "+SUM(A1)",
    "-cmd|' /C calc'!A0",
    "@SUM(1)",
    "\t=1+1",
    "  =1",
    "＝1+1",
    "stirred,=1+1",
    "x;=2",
]
TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"


@pytest.fixture(scope="module")
def soffice() -> str:
    """Where the spreadsheet is."""
    path = shutil.which("soffice") or shutil.which("localc")
    assert path, "install libreoffice-calc-nogui: see the test command in README.md"
    return path


@pytest.fixture
def shop(app: Flask, client: FlaskClient) -> FlaskClient:
    """A cup whose notes, lots and steps are as nasty as a spreadsheet may meet."""
    notes = [
        row(7 + number, kind="note", component="", value="", unit="", typed="", note=text)
        for number, text in enumerate(NASTY)
    ]
    rows = [*cup(), taken(6, lot="=HYPERLINK(1)", component="a"), *notes]
    rows = [replace(one, step="+ply 1") for one in rows]
    log.append(app.extensions["companion"].store, LOG_ID, lines(rows), CONTACT)
    return client


def open_in_spreadsheet(
    soffice: str, body: bytes, folder: Path, separator: str, language: int
) -> list[list[tuple[str, str, str]]]:
    """Cells as (type, value, text) the way LibreOffice reads the file; a formula is a type."""
    source = folder / "table.csv"
    source.write_bytes(body)
    # Separator, quote, character set, first line, columns, language, all quoted are text, numbers.
    # The last token lets formulas be formulas.
    options = f"{ord(separator)},34,{UTF_8},1,,{language},false,true,false,false,false,0,true"
    subprocess.run(
        [
            soffice,
            f"-env:UserInstallation=file://{folder}/profile",
            "--headless",
            f"--infilter=CSV:{options}",
            *("--convert-to", "fods", "--outdir", str(folder), str(source)),
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )
    tree = ElementTree.parse(folder / "table.fods")
    return [
        [one for cell in line for one in _cells(cell)] for line in tree.iter(f"{TABLE}table-row")
    ]


def _cells(cell: ElementTree.Element) -> list[tuple[str, str, str]]:
    """A cell; equal ones side by side are written once, with their number."""
    text = "\n".join("".join(part.itertext()) for part in cell.iter(f"{TEXT}p"))
    repeated = min(int(cell.get(f"{TABLE}number-columns-repeated", "1")), 30)
    kind = "formula" if cell.get(f"{TABLE}formula") else cell.get(f"{OFFICE}value-type", "")
    return [(kind, cell.get(f"{OFFICE}value", ""), text)] * repeated


def kinds(cells: list[list[tuple[str, str, str]]]) -> set[str]:
    return {kind for line in cells for kind, _, _ in line}


def test_a_formula_would_be_seen(soffice: str, tmp_path: Path) -> None:
    assert "formula" in kinds(open_in_spreadsheet(soffice, b"=1+1,x\r\n", tmp_path, ",", ENGLISH))


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_no_separator_makes_a_formula_of_it(
    shop: FlaskClient, soffice: str, tmp_path: Path, separator: str
) -> None:
    body = shop.get("/export/people.csv?table=readings").data
    assert "formula" not in kinds(open_in_spreadsheet(soffice, body, tmp_path, separator, ENGLISH))


@pytest.mark.parametrize(
    ("accept", "separator", "language"),
    [("en", ",", ENGLISH), ("de", ";", GERMAN)],
    ids=["point", "comma"],
)
def test_the_cups_are_right_figures_and_no_formula(
    shop: FlaskClient, soffice: str, tmp_path: Path, accept: str, separator: str, language: int
) -> None:
    answer = shop.get("/export/people.csv?table=cups", headers={"Accept-Language": accept})
    assert answer.mimetype == "text/csv"
    assert "attachment" in answer.headers["Content-Disposition"]
    cells = open_in_spreadsheet(soffice, answer.data, tmp_path, separator, language)
    assert "formula" not in kinds(cells)
    line = next(line for line in cells if line[0][2] == "7K2QMS")
    figures = {number: value for number, (kind, value, _) in enumerate(line) if kind == "float"}
    # Planned 146.4 g, cup 8.4 g, A 121.3 - 8.4, B 155.2 - 121.3, their sum; by hand.
    assert [figures[number] for number in range(8, 13)] == [
        "146.4",
        "8.4",
        "112.9",
        "33.9",
        "146.8",
    ]
    # 33.9 / 112.9 / 0.3 - 1 = 0.09 %.
    assert figures[13] == "0.09"
    assert line[1][0] == "date"
    assert line[4] == ("string", "", "'+ply 1")
    assert "'=HYPERLINK(1)" in [text for _, _, text in line]


def test_the_readings_hold_every_nasty_note_as_text(
    shop: FlaskClient, soffice: str, tmp_path: Path
) -> None:
    body = shop.get("/export/people.csv?table=readings&separator=tab").data
    cells = open_in_spreadsheet(soffice, body, tmp_path, "\t", ENGLISH)
    assert "formula" not in kinds(cells)
    notes = [line[15] for line in cells if line[0][2] == "7K2QMS" and len(line) > 15]
    found = [text for kind, _, text in notes if kind == "string"]
    assert len(found) == len(NASTY)
    assert all("'" in text for text in found)
    weighed = next(line for line in cells if line[0][2] == "7K2QMS" and line[5][1] == "121.3")
    assert weighed[5][0] == "float"


@pytest.mark.parametrize(
    ("query", "field"), [("table=rows", "table"), ("table=cups&separator=pipe", "separator")]
)
def test_a_choice_there_is_not_is_refused(client: FlaskClient, query: str, field: str) -> None:
    answer = client.get(f"/export/people.csv?{query}")
    assert answer.status_code == 422
    assert field in answer.text


def test_the_mark_of_utf_8_can_be_left_out(client: FlaskClient) -> None:
    assert client.get("/export/people.csv").data.startswith(b"\xef\xbb\xbf")
    assert not client.get("/export/people.csv?bom=no").data.startswith(b"\xef\xbb\xbf")
