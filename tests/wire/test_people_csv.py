"""Tables for spreadsheets: figures of the place, and no cell that computes anything."""

import csv
import io

import pytest

from companion.trade.errors import OutOfRange
from companion.wire.people_csv import Figure, Manner, Moment, harmless, manner, write_table

POINT = Manner(",", ".", bom=False)
COMMA = Manner(";", ",", bom=False)


# The first four signs, tab and return: OWASP, CSV Injection (from memory). The wide forms are
# read as formulas by spreadsheets of some places; common practice, no source.
@pytest.mark.parametrize(
    "text",
    [
        "=1+1",
        "+SUM(A1)",
        "-cmd|' /C calc'!A0",
        "@SUM(1)",
        "  =1+1",
        '"=1+1',
        "'=1+1",
        "＝1+1",
        "＋1",
        "－1",
        "＠x",
        "-",
        "\u200b=1+1",
        "\ufeff=1+1",
        "\ufe66=1",
    ],
)
def test_a_text_that_begins_like_a_formula_gets_an_apostrophe(text: str) -> None:
    assert harmless(text) == "'" + text


@pytest.mark.parametrize(
    "text", ["2E4567", "0417", "3-12", "1/2", "12:30", "007", "1.000", "5 %", "MAR-22", "3 Mai 22"]
)
def test_a_text_that_looks_like_a_figure_or_a_day_stays_a_text(text: str) -> None:
    assert harmless(text) == "'" + text


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("\t=1+1", "'\t'=1+1"),
        ("\r=1", "'\r'=1"),
        ("stirred,=1+1", "stirred,'=1+1"),
        ("a; +SUM(1)", "a;' +SUM(1)"),
        ("two\r\n=3", "two\r\n'=3"),
    ],
)
def test_a_formula_behind_a_separator_of_another_place_is_none_either(
    text: str, written: str
) -> None:
    assert harmless(text) == written


@pytest.mark.parametrize(
    "text",
    [
        "MAR2SM",
        "JUNK",
        "Mayor 5 was here",
        "",
        "7K2QMS",
        "HL-2291",
        "14@2",
        "ply 1",
        "Ärger",
        "a=b",
        "S1@1",
        "MAR",
    ],
)
def test_any_other_text_stays_as_it_is(text: str) -> None:
    assert harmless(text) == text


def test_a_table_in_the_manner_of_a_point_and_of_a_comma() -> None:
    lines = [["7K2QMS", Figure("112.9"), Figure("-2.1"), Figure(""), Moment("2026-03-07 10:03:00")]]
    header = ["Cup", "A", "error", "left", "time"]
    assert write_table(header, lines, POINT) == (
        "Cup,A,error,left,time\r\n7K2QMS,112.9,-2.1,,2026-03-07 10:03:00\r\n"
    )
    assert write_table(header, lines, COMMA) == (
        "Cup;A;error;left;time\r\n7K2QMS;112,9;-2,1;;2026-03-07 10:03:00\r\n"
    )


def test_the_mark_of_utf_8_stands_in_front_where_it_is_wanted() -> None:
    assert write_table(["ä"], [], Manner()) == "\ufeffä\r\n"


def test_another_reader_reads_what_was_written() -> None:
    nasty = ["a;b", 'said "fine"', "two\r\nlines", "comma, and more"]
    for how in (POINT, COMMA, Manner("\t", ",", bom=False)):
        text = write_table(["x"] * 4, [nasty], how)
        read = list(csv.reader(io.StringIO(text, newline=""), delimiter=how.separator, strict=True))
        assert read[1] == nasty


def test_where_the_comma_is_the_decimal_mark_the_semicolon_separates() -> None:
    assert manner(",").separator == ";"
    assert manner(".").separator == ","
    assert manner(",", "\t").separator == "\t"


@pytest.mark.parametrize(
    ("separator", "mark", "field"),
    [(",", ",", "separator"), ("|", ".", "separator"), (";", "x", "decimal mark")],
)
def test_a_manner_nobody_could_read_is_refused(separator: str, mark: str, field: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        Manner(separator, mark)
    assert refused.value.field == field


@pytest.mark.parametrize("cell", [Figure("=1"), Figure("1,5"), Figure("1e5"), Moment("=NOW()")])
def test_a_figure_that_is_none_never_passes_as_one(cell: Figure | Moment) -> None:
    with pytest.raises(OutOfRange):
        write_table(["x"], [[cell]], POINT)
