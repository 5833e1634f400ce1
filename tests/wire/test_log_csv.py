"""The log as CSV. Source: RFC 4180 section 2 (opened); Python's csv as an independent reader."""

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.errors import Malformed
from companion.trade.rows import COLUMNS, Row
from companion.wire.log_csv import read_log, write_log
from tests.sample_rows import lines, row, three_rows

BODY = write_log(three_rows()).encode()
HEADER = ",".join(COLUMNS)


def test_it_writes_the_columns_in_the_order_of_format_1() -> None:
    assert write_log([]) == (
        "format,log_id,seq,event_id,after,recorded_at,utc_offset_min,kind,cup,job,step,component,"
        "lot,container,value,unit,typed,target,shown,scale,person,refers_to,note,system,"
        "app_version\r\n"
    )


def test_it_writes_a_row_in_full() -> None:
    text = write_log([row(3, note='a "b", c', target="121.0")])
    assert text.split("\r\n")[1] == (
        "1,11111111-2222-4333-8444-555555555555,3,019abcde-0000-7000-8000-000000000003,"
        "019abcde-0000-7000-8000-000000000002,2026-03-07T10:03:00.000Z,60,weighed,7K2QMS,14@2,"
        'ply 1,a,,,121.5,g,121.5,121.0,,S1@1,O,,"a ""b"", c",RES-L+HRD-S@3,0.1.0+test'
    )


def test_it_quotes_as_rfc_4180_does() -> None:
    # CF-10: quote CR, LF, comma and quote, double the quote, spaces are data.
    text = write_log([row(1, note='b"c', job="d,e", step="f\r\ng", person=" x ")])
    assert '"b""c"' in text and '"d,e"' in text and '"f\r\ng"' in text and ", x ," in text


def test_what_is_written_is_read_back() -> None:
    assert [line.row for line in read_log(BODY)] == three_rows()


def test_an_independent_reader_agrees() -> None:
    rows = list(csv.DictReader(io.StringIO(BODY.decode(), newline="")))
    assert [found["note"] for found in rows] == [expected.note for expected in three_rows()]


text_fields = st.text(
    st.characters(exclude_categories=["Cs", "Cc"], include_characters="\r\n\t"), max_size=40
)


@given(st.lists(st.tuples(text_fields, text_fields, text_fields), min_size=1, max_size=5))
def test_any_text_comes_back_as_it_was(texts: list[tuple[str, str, str]]) -> None:
    rows = [
        row(number, note=note, person=person, typed=typed)
        for number, (note, person, typed) in enumerate(texts, start=1)
    ]
    assert [line.row for line in read_log(write_log(rows).encode())] == rows


def test_columns_of_a_later_version_are_kept() -> None:
    rows = [replace(row(1), extra=(("mood", "good"), ("a,b", 'x"y'))), row(2)]
    text = write_log(rows)
    assert text.splitlines()[0].endswith(',mood,"a,b"')
    read = [line.row for line in read_log(text.encode())]
    assert read[0] == rows[0]
    assert read[1] == replace(rows[1], extra=(("mood", ""), ("a,b", "")))


def test_columns_may_stand_in_another_order() -> None:
    reader = csv.DictReader(io.StringIO(BODY.decode(), newline=""))
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, list(reversed(COLUMNS)), lineterminator="\r\n")
    writer.writeheader()
    writer.writerows(reader)
    assert [line.row for line in read_log(out.getvalue().encode())] == three_rows()


MALFORMED = {
    "empty": (b"", "header_missing"),
    "not utf-8": (BODY.replace(b"lunch", b"lun\xffch"), "not_utf8"),
    "byte order mark": (b"\xef\xbb\xbf" + BODY, "byte_order_mark"),
    "utf-16": (BODY.decode().encode("utf-16"), "not_utf8"),
    "nul": (BODY.replace(b"ply 1", b"ply\x001", 1), "nul"),
    "column missing": (BODY.replace(b",unit,", b",", 1), "column_missing"),
    "column renamed": (BODY.replace(b",unit,", b",units,", 1), "column_missing"),
    "column doubled": (BODY.replace(b",unit,", b",unit,unit,", 1), "column_doubled"),
    "open quote": (BODY.replace(b"ply 1", b'"ply 1', 1), "not_csv"),
    "quote inside a field": (BODY.replace(b"14@2", b'"14"@2', 1), "not_csv"),
    "semicolons": (BODY.replace(b",", b";"), "column_missing"),
    "html": (b"<!doctype html><title>Log in</title>", "column_missing"),
}


@pytest.mark.parametrize("body, problem", MALFORMED.values(), ids=MALFORMED.keys())
def test_it_refuses_a_malformed_file(body: bytes, problem: str) -> None:
    with pytest.raises(Malformed) as caught:
        read_log(body)
    assert caught.value.problem == problem
    assert caught.value.where
    assert caught.value.allowed


def test_a_person_may_bring_a_file_with_a_byte_order_mark() -> None:
    read = read_log(b"\xef\xbb\xbf" + BODY, bom_allowed=True)
    assert [line.row for line in read] == three_rows()


@pytest.mark.parametrize("ending", [b"\n", b"\r\n"])
def test_either_line_ending_is_read(ending: bytes) -> None:
    rows = [row(1), row(2)]
    body = write_log(rows).encode().replace(b"\r\n", ending)
    assert [line.row for line in read_log(body)] == rows


STRANGE_ROWS = {
    "format": {"format": "2"},
    "log_id": {"log_id": "no-uuid"},
    "event_id": {"event_id": "019abcde-0000-4000-8000-000000000001"},
    "after": {"after": "before"},
    "recorded_at": {"recorded_at": "2026-03-07 10:00"},
    "recorded_at without Z": {"recorded_at": "2026-03-07T10:00:00.000+01:00"},
    "recorded_at in no month": {"recorded_at": "2026-13-07T10:00:00.000Z"},
    "utc_offset_min": {"utc_offset_min": "one hour"},
    "kind": {"kind": "Weighed!"},
    "cup": {"cup": "7K2QMT"},
    "cup with a zero": {"cup": "7K0QMS"},
    "value empty": {"value": ""},
    "value in words": {"value": "about 121"},
    "value with a comma": {"value": "121,5"},
    "value nan": {"value": "nan"},
    "value inf": {"value": "inf"},
    "value with an exponent": {"value": "1e3"},
    "value with an underscore": {"value": "1_000"},
    "value in full-width digits": {"value": "\uff11\uff12\uff11.5"},
    "value in Arabic digits": {"value": "\u0661\u0662\u0661.\u0665"},
    "value of 200 digits": {"value": "1" * 200},
    "unit": {"unit": "kg"},
    "unit in the wrong case": {"unit": "G"},
    "field_too_long": {"note": "x" * 1001},
    "control_character": {"note": "bell \x07"},
}


@pytest.mark.parametrize("fields", STRANGE_ROWS.values(), ids=STRANGE_ROWS.keys())
def test_a_strange_row_is_set_aside_with_its_text(
    fields: dict[str, str], request: pytest.FixtureRequest
) -> None:
    good, strange, other = lines([row(1), row(2, **fields), row(3)])
    assert good.row == row(1) and other.row == row(3)
    assert strange.row is None
    assert strange.problem == request.node.callspec.id.split()[0]
    assert strange.seq == 2
    assert next(iter(fields.values())) in strange.raw


def test_a_row_with_a_field_too_few_is_set_aside() -> None:
    body = BODY.replace(b",ply 1,", b",", 1)
    found = read_log(body)
    assert [line.problem for line in found] == ["field_count", "", ""]


@pytest.mark.parametrize("seq", ["", "0", "-1", "1.0", "01", "x", "\u0661", "9" * 30])
def test_a_row_without_a_running_number_is_set_aside(seq: str) -> None:
    text = write_log([row(7)]).replace(",7,", f",{seq},", 1)
    (line,) = read_log(text.encode())
    assert line.row is None
    assert line.problem == "seq"


def test_a_file_cut_at_any_byte_gives_whole_rows_or_none() -> None:
    """No cut may turn into a row that was never written."""
    whole = three_rows()
    for length in range(len(BODY)):
        try:
            read = [line.row for line in read_log(BODY[:length])]
        except Malformed:
            continue
        kept: list[Row] = [found for found in read if found is not None]
        assert kept == whole[: len(kept)]


@pytest.mark.parametrize("seq", ["10000000000000000000", "9" * 5000, "9007199254740992", "0", "１"])
def test_a_number_no_phone_counts_to_is_a_row_set_aside_without_one(seq: str) -> None:
    record = write_log([row(1)]).splitlines()[1].replace(",1,", f",{seq},", 1)
    (line,) = read_log((write_log([]) + record + "\r\n").encode())
    assert (line.row, line.seq, bool(line.problem)) == (None, None, True)
