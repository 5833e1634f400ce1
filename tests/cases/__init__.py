"""Cases that the server and the phone both run: one file per module of ``companion.trade``.

A case names a ``call`` with its ``args`` and ``options`` in plain JSON, and either what to
``expect`` (``expect_part``: only these fields, ``expect_steps``: fields of steps by name) or what
it ``raises``. ``rel`` and ``abs`` allow for the digits its source gives. Three forms stand for
values that are not plain:

- ``{"$shared": "S1"}`` is the value of that name in the file's ``shared``;
- ``{"$rows": [...]}`` are rows of the log, every column not given being empty;
- ``{"$call": {...}}`` is the result of another call, ``$get`` one field of it.
"""

import dataclasses
import json
import math
import types
import typing
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from enum import Enum
from importlib import import_module
from pathlib import Path
from typing import Any

from companion.trade import cards, numbers
from companion.trade.cup import Cup
from companion.trade.cup.additive import PlannedAdditive
from companion.trade.errors import OutOfRange
from companion.trade.rows import Row

CASES = Path(__file__).parent
MODULES = {
    "cup": tuple(
        f"cup.{name}"
        for name in ("fold advice window state additive pot_clock progress mixing waiting").split()
    ),
    **{
        name: (name,)
        for name in (
            "ratio weighing codes numbers reading times clocks chain cards identity climate warmth "
            "climate_reading auto_off finding".split()
        )
    },
    "unidentified": ("cup.unidentified",),
    # A cup is folded before its clocks are asked for.
    "running": ("running", "cup.fold"),
    "air": ("air", "cup.temperature"),
    "lay_up": ("lay_up", "lay_up_rows", "lay_up_clocks", "lay_up_warmth"),
}
#: Modules whose figures only the office shows so far.
OFFICE = "stoichiometry laminate cloth stock repeatability scale_check".split()
#: Check values of no module of the trade.
OTHERS = ("calendar",)
#: Properties of a value here that are functions of a plain object on the phone.
PROPERTIES: dict[str, tuple[type, str]] = {
    "system_ratio": (cards.SystemCard, "ratio"),
    "system_tolerance": (cards.SystemCard, "tolerance"),
    "system_name": (cards.SystemCard, "name"),
    "require_system_card": (cards.SystemCard, ""),
    "scale_name": (cards.ScaleCard, "name"),
    "scale_readability_g": (cards.ScaleCard, "readability_g"),
    "scale_decimals": (cards.ScaleCard, "decimals"),
    "require_scale_card": (cards.ScaleCard, ""),
    "job_name": (cards.Job, "name"),
    "cup_usable": (Cup, "usable"),
    "poured_pct": (PlannedAdditive, "poured_pct"),
    "entry_number": (numbers.Entry, "number"),
    "entry_decimals": (numbers.Entry, "decimals"),
}

Case = dict[str, Any]


def load_cases(name: str) -> list[Case]:
    """Cases of one file, each with the module it belongs to and its shared values filled in."""
    document = json.loads((CASES / f"{name}.json").read_text(encoding="utf-8"))
    shared = document.get("shared", {})
    return [
        {"module": document["module"], **fill_shared(case, shared)} for case in document["cases"]
    ]


def case_files() -> list[str]:
    """Names of all files of cases that the phone runs, too."""
    left_out = {*OFFICE, *OTHERS}
    return sorted(path.stem for path in CASES.glob("*.json") if path.stem not in left_out)


def fill_shared(value: Any, shared: dict[str, Any]) -> Any:
    if isinstance(value, list):
        return [fill_shared(item, shared) for item in value]
    if isinstance(value, dict):
        if set(value) == {"$shared"}:
            return fill_shared(shared[value["$shared"]], shared)
        return {key: fill_shared(item, shared) for key, item in value.items()}
    return value


def run(case: Case) -> Any:
    """Carry out a call; values come back as the trade gives them."""
    function, hints = _callable(case["module"], case["call"])
    args = [resolve(arg, case["module"]) for arg in case["args"]]
    built = [build(hint, arg) for hint, arg in zip(hints, args, strict=False)]
    options = case.get("options", {})
    result = function(*built, *args[len(hints) :], **options)
    return getattr(result, case["$get"]) if "$get" in case else result


def outcome(case: Case) -> dict[str, Any]:
    """What a call gives, as the phone reports it: the plain value, or what was refused."""
    try:
        return {"value": plain(run(case))}
    except OutOfRange as refused:
        return {"raises": "OutOfRange", "field": refused.field}


def mismatch(case: Case, got: dict[str, Any]) -> str:
    """How an outcome differs from what a case expects; empty if it does not."""
    if "raises" in case:
        wanted = {"raises": case["raises"], "field": case["field"]}
        return "" if got == wanted else f"wanted {wanted}, got {got}"
    if "value" not in got:
        return f"refused: {got}"
    value = got["value"]
    if "expect_steps" in case:
        wanted_steps = case["expect_steps"]
        return difference(wanted_steps, _of_steps(value, wanted_steps), rel=0.0, abs_=0.0)
    if "each" in case:
        value = pick(value, case["each"])
    if "expect_part" in case:
        value = {key: value[key] for key in case["expect_part"]}
    wanted = case.get("expect", case.get("expect_part"))
    return difference(wanted, value, rel=case.get("rel", 0.0), abs_=case.get("abs", 0.0))


def _of_steps(sheet: dict[str, Any], wanted: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """Steps of a lay-up sheet by name, each with the fields that are asked for."""
    states = {state["step"]["name"]: state for state in sheet["steps"]}
    return {name: {field: states[name][field] for field in wanted[name]} for name in wanted}


def difference(wanted: Any, got: Any, *, rel: float, abs_: float, at: str = "value") -> str:
    """Where two plain values differ first; numbers may differ by the tolerances."""
    if isinstance(wanted, dict) and isinstance(got, dict):
        if wanted.keys() != got.keys():
            return f"{at} has fields {sorted(got)}, wanted {sorted(wanted)}"
        pairs = [(f"{at}.{key}", wanted[key], got[key]) for key in wanted]
    elif isinstance(wanted, list) and isinstance(got, list):
        if len(wanted) != len(got):
            return f"{at} has {len(got)} items, wanted {len(wanted)}"
        pairs = [(f"{at}[{i}]", w, g) for i, (w, g) in enumerate(zip(wanted, got, strict=True))]
    else:
        return "" if _equal(wanted, got, rel, abs_) else f"{at} is {got!r}, wanted {wanted!r}"
    found = (difference(w, g, rel=rel, abs_=abs_, at=place) for place, w, g in pairs)
    return next((text for text in found if text), "")


def _equal(wanted: Any, got: Any, rel: float, abs_: float) -> bool:
    if _is_number(wanted) and _is_number(got):
        return wanted == got or math.isclose(wanted, got, rel_tol=rel, abs_tol=abs_)
    return type(wanted) is type(got) and wanted == got


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def pick(value: Any, field: str) -> Any:
    """One field of each object in nested lists."""
    if isinstance(value, list):
        return [pick(item, field) for item in value]
    return value[field]


def resolve(value: Any, module: str) -> Any:
    """Fill in the forms that stand for values that are not plain."""
    if isinstance(value, list):
        return [resolve(item, module) for item in value]
    if isinstance(value, dict):
        if "$call" in value:
            return run({"module": module, **value["$call"]})
        if "$rows" in value:
            return [build(Row, row) for row in value["$rows"]]
    return value


def plain(value: Any) -> Any:
    """A value of the trade as plain JSON."""
    if isinstance(value, Enum):
        return value.value
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    return value


def build(hint: Any, value: Any) -> Any:
    """A plain value as the type its parameter or field asks for."""
    if value is None or isinstance(value, datetime) or dataclasses.is_dataclass(value):
        return value
    origin, inner = typing.get_origin(hint), typing.get_args(hint)
    if origin in (typing.Union, types.UnionType):
        return build(next(part for part in inner if part is not type(None)), value)
    if origin in (list, Iterable, Sequence):
        return [build(inner[0], item) for item in value]
    if origin is tuple:
        kinds = (inner[0],) * len(value) if inner[1:] == (...,) else inner
        return tuple(build(kind, item) for kind, item in zip(kinds, value, strict=True))
    if isinstance(hint, type) and dataclasses.is_dataclass(hint):
        hints = typing.get_type_hints(hint)
        return hint(**{name: build(hints[name], item) for name, item in value.items()})
    return hint(value) if isinstance(hint, type) and issubclass(hint, Enum) else value


def _callable(module: str, call: str) -> tuple[Callable[..., Any], list[Any]]:
    if call in PROPERTIES:
        owner, attribute = PROPERTIES[call]
        return (lambda own: getattr(own, attribute) if attribute else own), [owner]
    for name in MODULES.get(module, (module,)):
        function = getattr(import_module(f"companion.trade.{name}"), call, None)
        if isinstance(function, types.FunctionType):
            hints = typing.get_type_hints(function)
            hints.pop("return", None)
            return function, list(hints.values())
    raise LookupError(f"companion.trade.{module} has no function {call}")
