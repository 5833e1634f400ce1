"""Is this row what a phone of ours would have written?

These checks never reject: a row that fails is set aside with its raw text and shown in the office.
"""

import re
from collections.abc import Mapping

from ..trade.codes import is_label
from ..trade.errors import OutOfRange
from ..trade.numbers import is_wire_number
from ..trade.rows import FORMAT, NUMERIC_KINDS
from ..trade.times import parse_utc

MAX_FIELD_CHARACTERS = 1000
UNITS = frozenset({"", "g", "Cel", "%", "min"})  # UCUM, case-sensitive

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}\Z")
_EVENT_ID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}\Z")
_KIND = re.compile(r"[a-z][a-z_]{1,39}\Z")
_OFFSET = re.compile(r"-?[0-9]{1,3}\Z")
_SEQ = re.compile(r"[1-9][0-9]{0,15}\Z")


def is_log_id(text: str) -> bool:
    """Whether a text can be the id of a phone's log."""
    return _UUID.match(text) is not None


def row_problem(fields: Mapping[str, str]) -> str:
    """Name of the first column that is not what it should be; empty if all are.

    :param fields: the row by column name, every column of the format present.
    """
    if any(len(value) > MAX_FIELD_CHARACTERS for value in fields.values()):
        return "field_too_long"
    if any(_has_control(value) for value in fields.values()):
        return "control_character"
    checks = {
        "format": fields["format"] == FORMAT,
        "log_id": is_log_id(fields["log_id"]),
        "seq": _SEQ.match(fields["seq"]) is not None,
        "event_id": _EVENT_ID.match(fields["event_id"]) is not None,
        "after": not fields["after"] or _EVENT_ID.match(fields["after"]) is not None,
        "recorded_at": _is_utc(fields["recorded_at"]),
        "utc_offset_min": _OFFSET.match(fields["utc_offset_min"]) is not None,
        "kind": _KIND.match(fields["kind"]) is not None,
        "cup": not fields["cup"] or is_label(fields["cup"]),
        "value": _value_fits(fields["kind"], fields["value"]),
        "unit": fields["unit"] in UNITS,
    }
    return next((name for name, fits in checks.items() if not fits), "")


def _has_control(text: str) -> bool:
    return any(ord(character) < 32 and character not in "\t\r\n" for character in text)


def _is_utc(text: str) -> bool:
    try:
        parse_utc(text)
    except OutOfRange:
        return False
    return text.endswith("Z")


def _value_fits(kind: str, value: str) -> bool:
    if kind in NUMERIC_KINDS:
        return is_wire_number(value)
    return kind != "cup_started" or not value or is_wire_number(value)
