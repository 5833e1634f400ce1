"""Codes of the records in words."""

from ...records.aside import LEFT_OUT, TAKEN_IN
from ...records.log import CONFLICT, DUPLICATE, QUARANTINED, STORED
from ...trade.cup import Cup, CupState
from .phrases import _


def verdict_key(cup: Cup) -> str:
    """Which verdict a cup has: one of the four states, ``unknown``, or nothing yet."""
    return "unknown" if cup.unknown else str(cup.verdict or "")


def verdict(key: str) -> str:
    """A verdict in words; an unknown word as it was recorded."""
    return {
        "in": _("In"),
        "in_unproven": _("In, unproven"),
        "out_unproven": _("Out, unproven"),
        "out": _("Out"),
        "unknown": _("Ratio unknown"),
        "pot_life_over": _("Past its pot life"),
        "mixed_early": _("Mixed before its time"),
    }.get(key, key)


def shape(key: str, error: float | None) -> str:
    """Shape that stands for a verdict: arrows closing on a band, or one above or below it."""
    if key.startswith("out"):
        return f"{key}-{'rich' if (error or 0) > 0 else 'lean'}"
    return key


def direction(error: float | None) -> str:
    """Which way a ratio is off."""
    if error is None or abs(error) < 0.0005:
        return ""
    return _("hardener-rich") if error > 0 else _("hardener-lean")


def state(cup: Cup) -> str:
    """Where a cup stands."""
    if cup.state is CupState.CLOSED:
        return {
            "scrapped": _("scrapped"),
            "sampled": _("kept as a sample"),
            "leftover": _("used, leftover weighed"),
            "divided": _("divided into other cups"),
        }.get(cup.ending, cup.ending)
    return {
        CupState.STARTED: _("started"),
        CupState.EMPTY_READ: _("empty cup read"),
        CupState.A_WAITING: _("A weighed, waiting"),
        CupState.B_OPEN: _("hardener open"),
        CupState.JUDGED: _("weighed, not mixed"),
        CupState.MIXING: _("mixing"),
        CupState.MIXED: _("mixed"),
        CupState.IN_USE: _("in use"),
        CupState.UNIDENTIFIED: _("unidentified"),
        CupState.SETTING: _("left to set, in view"),
    }[cup.state]


def component(code: str) -> str:
    """What was poured."""
    known = {"a": _("part A (resin)"), "b": _("part B (hardener)"), "cup": _("empty cup")}
    return known.get(code) or (_("additive %(code)s", code=code) if code else "")


def unknown_reason(code: str) -> str:
    """Why the ratio of a cup is unknown."""
    return {
        "reading_missing": _(
            "a reading between two parts is missing, so how much went into each is not known"
        ),
        "no_first_reading": _("the cup was not read before the first part was poured"),
        "falling_reading": _("a reading is lower than the one before it"),
        "restart_without_cup": _(
            "the scale was restarted, and the mass of the empty cup is not on record"
        ),
        "mix_missing": _("it is a share of a mix that is not on record here"),
        "divided_unmixed": _("its mix was divided before it was mixed"),
    }.get(code, code)


def flag(code: str) -> str:
    """What a person should look at."""
    return {
        "double_fill": _(
            "Double fill: two phones filled this cup without knowing of each other. "
            "Both sets of readings are kept."
        ),
        "hardener_opened_twice": _("The hardener was opened for this cup more than once."),
        "other_scale": _("A row names another scale than the one the cup was started on."),
        "start_missing": _("The row that started this cup has not arrived yet."),
        "verdict_changed": _("The verdict changed after the cup was poured."),
    }.get(code, code)


def kind(code: str, part: str) -> str:
    """What a row of the log reports."""
    if code == "weighed":
        return _weighed(part)
    return {
        "cup_started": _("cup started"),
        "labelled": _("another label put on"),
        "scraped": _("scraped half way through mixing"),
        "divided": _("divided into labelled cups"),
        "covered": _("covered"),
        "uncovered": _("cover taken off"),
        "setting": _("left to set in view"),
        "away": _("the app was away in the middle of the cup"),
        "unidentified": _("label not readable, fits no cup: unidentified"),
        "disposed": _("cold and hard, disposed of"),
        "rezeroed": _("display set to zero"),
        "scale_restarted": _("scale restarted, cup set back on"),
        "lot_used": _("container taken: %(part)s", part=component(part)),
        "pour_opened": _("hardener opened"),
        "mix_started": _("mixing began"),
        "mixed": _("mixed"),
        "poured": _("poured into the part"),
        "leftover": _("leftover weighed"),
        "scrapped": _("scrapped"),
        "sampled": _("kept as a sample"),
        "felt_warm": _("cup felt warm"),
        "climate": _("air and mould measured"),
        "scale_checked": _("scale checked"),
        "tack_tested": _("tack tested"),
        "deviation": _("deviation written"),
        "note": _("note"),
        "voided": _("row struck"),
        "aside_settled": _("a row set aside was decided on"),
    }.get(code) or _("recorded as “%(kind)s”", kind=code)


def _weighed(part: str) -> str:
    known = {"cup": _("empty cup read"), "a": _("part A read"), "b": _("hardener read")}
    return known.get(part) or _("additive %(code)s read", code=part)


def unit(code: str) -> str:
    """A UCUM unit as people write it."""
    return {"Cel": "°C"}.get(code, code)


def status(code: str) -> str:
    """What became of a row that was sent or brought."""
    return {
        STORED: _("stored"),
        DUPLICATE: _("already here"),
        CONFLICT: _("in conflict"),
        QUARANTINED: _("quarantined"),
    }.get(code, code)


def outcome(code: str) -> str:
    """What was decided of a row set aside."""
    return {LEFT_OUT: _("left out"), TAKEN_IN: _("taken in")}.get(code, code)


def aside_reason(of_status: str, reason: str) -> str:
    """Why a row was set aside."""
    if of_status == CONFLICT:
        return {
            "seq": _("another row of this log already has this running number"),
            "content": _("a row with this id is stored with other content"),
        }.get(reason, reason)
    return {
        "field_count": _("it has more or fewer fields than the header"),
        "cut_off": _("it is cut off: the line has no end"),
        "field_too_long": _("a field is longer than 1000 characters"),
        "control_character": _("a field holds a control character"),
        "log_id": _("its log id is missing or belongs to another log"),
    }.get(reason) or _("the column “%(column)s” does not hold what it should", column=reason)
