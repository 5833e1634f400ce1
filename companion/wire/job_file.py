"""A job as a file, JSON or TOML: read into what is to be made, and written from it.

Every refusal names its field. What is written reads back as the very same job.
"""

import json
import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, fields
from math import isfinite
from typing import Any

from ..errors import OutOfRange
from ..trade.job_order import CoatOrder, JobOrder, PlyOrder

MOST_BYTES = 1024 * 1024
_LONGEST_TEXT = 80
#: Fields that are whole numbers; every other figure may have decimals.
_WHOLE = frozenset({"layers", "cups"})
_TEXTS = frozenset({"job", "part", "serial", "cloth", "system", "release_agent", "additive"})


#: What is allowed, by rule; a page has words of its own for it.
_ALLOWED = {
    "size": "at most {limit} bytes",
    "json": "JSON, UTF-8",
    "toml": "TOML, UTF-8",
    "once": "each field once",
    "table": "fields with names",
    "list": "a list of plies",
    "known": "{limit}",
    "needed": "a value: this field is needed",
    "text": "text, at most {limit} characters",
    "number": "a number",
    "whole": "a whole number",
}
_PLACE = re.compile(r"line ([0-9]+),? column ([0-9]+)")


class WrongFile(OutOfRange):
    """A file is no job, or a field of it is not the kind of value it should be.

    :ivar rule: which rule it breaks, a key; ``allowed`` says the same in English.
    :ivar limit: figure or names of the rule; empty where it has none.
    :ivar place: line and column of what cannot be read; None where nobody can tell.
    """

    def __init__(self, field: str, value: object, rule: str, limit: object = "") -> None:
        self.rule, self.limit = rule, str(limit)
        found = _PLACE.search(str(value)) if rule in ("json", "toml") else None
        self.place = (int(found[1]), int(found[2])) if found else None
        super().__init__(field, value, _ALLOWED[rule].format(limit=limit))


def read_job(content: bytes, *, is_toml: bool = False) -> JobOrder:
    """Read a job.

    :param content: the file, UTF-8.
    :raises WrongFile: not such a file, a field nobody knows, one missing, or one that is not the
        kind of value it should be. Whether the job can be made, the plan says.
    """
    if len(content) > MOST_BYTES:
        raise WrongFile("file", len(content), "size", MOST_BYTES)
    body = _table("file", _parsed(content, is_toml))
    values = _values(body, JobOrder, "")
    plies = body.get("plies")
    if not isinstance(plies, list):
        raise WrongFile("plies", _shown(plies), "list")
    values["plies"] = tuple(
        PlyOrder(**_values(_table(f"plies[{n}]", ply), PlyOrder, f"plies[{n}]."))
        for n, ply in enumerate(plies)
    )
    coat = body.get("surface_coat")
    if coat is not None:
        table = _table("surface_coat", coat)
        values["surface_coat"] = CoatOrder(**_values(table, CoatOrder, "surface_coat."))
    return JobOrder(**values)


def _parsed(content: bytes, is_toml: bool) -> object:
    read: Callable[[str], object] = tomllib.loads if is_toml else _json
    try:
        # Editors on some machines put a byte order mark before the text.
        return read(content.decode("utf-8-sig"))
    except (ValueError, RecursionError) as error:
        kind = "toml" if is_toml else "json"
        raise WrongFile("file", str(error)[:_LONGEST_TEXT], kind) from error


def _json(text: str) -> object:
    return json.loads(text, object_pairs_hook=_each_once)


def _each_once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    """JSON as Python reads it lets the last of two equal names win; a job needs to know which."""
    found: dict[str, object] = {}
    for name, value in pairs:
        if name in found:
            raise WrongFile(_shown(name), f"{_shown(found[name])}, {_shown(value)}", "once")
        found[name] = value
    return found


def _table(field: str, value: object) -> Mapping[str, Any]:
    if isinstance(value, dict):
        return value
    raise WrongFile(field, _shown(value), "table")


def _values(body: Mapping[str, Any], kind: type, before: str) -> dict[str, Any]:
    """Plain fields of one table, checked; tables within it are read by themselves."""
    known = {one.name: one for one in fields(kind)}
    for name in body:
        if name not in known:
            raise WrongFile(f"{before}{name}", _shown(body[name]), "known", ", ".join(known))
    for name, one in known.items():
        if name not in body and _is_needed(one):
            raise WrongFile(f"{before}{name}", "missing", "needed")
    nested = {"plies", "surface_coat"}
    return {
        name: _value(f"{before}{name}", name, body[name])
        for name in known
        if name in body and name not in nested and body[name] is not None
    }


def _is_needed(one: Field[Any]) -> bool:
    return one.default is MISSING


def _value(field: str, name: str, value: object) -> object:
    if name in _TEXTS:
        if isinstance(value, str) and len(value) <= _LONGEST_TEXT and value.isprintable():
            return value
        raise WrongFile(field, _shown(value), "text", _LONGEST_TEXT)
    # A truth value counts as a number in Python, and as none in a file.
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if not is_number or not _is_finite(value) or (name in _WHOLE and not isinstance(value, int)):
        raise WrongFile(field, _shown(value), "whole" if name in _WHOLE else "number")
    return value


def _is_finite(value: object) -> bool:
    """JSON as Python reads it has infinities, and whole numbers no float holds."""
    try:
        return isinstance(value, int | float) and isfinite(value)
    except OverflowError:
        return False


def write_json(order: JobOrder) -> bytes:
    """A job as JSON, UTF-8; what has its usual value is left out."""
    body = json.dumps(_body(order), ensure_ascii=False, indent=1)
    return f"{body}\n".encode()


def write_toml(order: JobOrder) -> bytes:
    """A job as TOML, UTF-8: its own figures, then its coat and every ply as a table."""
    body = _body(order)
    coat, plies = body.pop("surface_coat", None), body.pop("plies")
    parts = [_toml_lines(body)]
    if coat:
        parts.append(["[surface_coat]", *_toml_lines(coat)])
    parts += [["[[plies]]", *_toml_lines(ply)] for ply in plies]
    return ("\n\n".join("\n".join(lines) for lines in parts) + "\n").encode()


def _body(one: Any) -> dict[str, Any]:
    """Fields of a table and of those within it, without what has its usual value."""
    body: dict[str, Any] = {}
    for field in fields(one):
        value = getattr(one, field.name)
        if field.name == "plies":
            body[field.name] = [_body(ply) for ply in value]
        elif field.name == "surface_coat" and value is not None:
            body[field.name] = _body(value)
        elif _is_needed(field) or value != field.default:
            body[field.name] = value
    return body


def _toml_lines(body: Mapping[str, Any]) -> list[str]:
    return [f"{name} = {_toml(value)}" for name, value in body.items()]


def _toml(value: object) -> str:
    if not isinstance(value, str):
        return repr(value)
    # Strings of both formats are escaped alike, but for the one control character above space.
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def _shown(value: object) -> str:
    text = "null" if value is None else str(value)
    return text if len(text) <= _LONGEST_TEXT else f"{text[:_LONGEST_TEXT]}…"
