"""Deciding what becomes of a row set aside: left out, or taken into the records.

Nothing is edited. A row that is taken in becomes a row of the office's own log: with its own id
where that is free, so that rows that follow it in a cup still do; else as a new row that stands in
the place of the stored one.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from sqlalchemy.exc import IntegrityError

from ..errors import OutOfRange
from ..trade.chain import cups
from ..trade.codes import is_label
from ..trade.rows import COLUMNS, FORMAT, Row
from ..wire.log_csv import read_fields
from ..wire.row_check import row_problem
from . import office_log
from .aside import LEFT_OUT, SETTLED, TAKEN_IN, Decision, Stray, stray, strays
from .catalogue import all_people
from .log import QUARANTINED, row_with_id, rows_of_cups
from .store import Store

#: Longest reason; a row may hold 1000 characters a field.
LONGEST_REASON = 500
#: What the office log gives a row itself, and what a person therefore cannot change.
OWN_COLUMNS = ("format", "log_id", "seq", "event_id", "after", "app_version")
#: An id for checking a row that will get its own only when it is kept.
_NO_ID = "00000000-0000-7000-8000-000000000000"


class WrongField(OutOfRange):
    """A column of the corrected row is not what it should be; ``field`` is its name."""


def leave_out(store: Store, number: int, decision: Decision) -> None:
    """Keep a row out for good reason; it may still be taken in later.

    :raises NotKnown: no such row is set aside.
    :raises OutOfRange: it was taken in already, or person or reason are missing.
    """
    found = _to_decide(store, number, decision)
    _keep(store, found, [_settled(store, found, replace(decision, outcome=LEFT_OUT))], decision.at)


def take_in(store: Store, number: int, decision: Decision, changed: Mapping[str, str]) -> None:
    """Take a row into the records.

    :param changed: columns of a quarantined row as a person corrected them; the others stay.
    :raises NotKnown: no such row is set aside.
    :raises WrongField: the row is still not what a row should be.
    :raises OutOfRange: it was taken in already, or person or reason are missing, or the row began a
        cup that is stored otherwise.
    """
    found = _to_decide(store, number, decision)
    row = corrected(found, changed)
    if found.status == QUARANTINED and row_with_id(store, row.event_id):
        # Another row has its id: this one is an observation of its own all the same.
        row = replace(row, event_id="")
    settled = _settled(store, found, replace(decision, outcome=TAKEN_IN))
    _keep(store, found, [*_taken(store, row, decision), settled], decision.at)


def corrected(found: Stray, changed: Mapping[str, str]) -> Row:
    """The row set aside, with the columns a person corrected.

    :raises WrongField: it is still not what a row should be.
    """
    fields = read_fields(found.raw, found.header)
    if found.status == QUARANTINED:
        fields |= {name: changed[name] for name in changed if name not in OWN_COLUMNS}
        # The office log numbers the row itself; an id that is none is replaced.
        fields |= {"format": FORMAT, "log_id": _NO_ID, "seq": "1"}
        fields["event_id"] = fields["event_id"] if _fits("event_id", fields) else ""
        fields["after"] = fields["after"] if _fits("after", fields) else ""
    name = row_problem({**fields, "event_id": fields["event_id"] or _NO_ID})
    if name:
        raise WrongField(name, fields.get(name, ""), "what the log holds in this column")
    known = {name: fields[name] for name in COLUMNS if name != "seq"}
    extra = tuple((name, value) for name, value in fields.items() if name not in COLUMNS)
    return Row(**known, seq=int(fields["seq"]), extra=extra)


def _fits(name: str, fields: Mapping[str, str]) -> bool:
    """Whether one column is right, the others being beyond doubt."""
    sound = {
        **dict.fromkeys(COLUMNS, ""),
        **{"format": FORMAT, "log_id": _NO_ID, "seq": "1", "event_id": _NO_ID},
        **{"recorded_at": "2026-01-01T00:00:00.000Z", "utc_offset_min": "0", "kind": "note"},
    }
    return row_problem({**sound, name: fields[name]}) != name


def _to_decide(store: Store, number: int, decision: Decision) -> Stray:
    found = stray(store, number)
    if found.decision and found.decision.outcome == TAKEN_IN:
        raise OutOfRange("row set aside", number, "a row that was not taken in yet")
    people = all_people(store)
    if decision.person not in people:
        raise OutOfRange("person", decision.person, ", ".join(sorted(people)))
    if not 0 < len(decision.reason) <= LONGEST_REASON:
        raise OutOfRange("reason", decision.reason, f"1 to {LONGEST_REASON} characters")
    return found


def _taken(store: Store, row: Row, decision: Decision) -> Sequence[Row]:
    """Rows of the office log that stand for the row taken in."""
    if row.kind == SETTLED:
        raise OutOfRange("kind", row.kind, "what happened at the bench, no decision")
    held = row_with_id(store, row.event_id) if row.event_id else None
    if held is None:
        return [row if row.after else replace(row, after=_last_of_cup(store, row))]
    if replace(row, log_id=held.log_id, seq=held.seq) == held:
        raise OutOfRange("row set aside", row.event_id, "a row that says more than the stored one")
    if held.kind == "cup_started" or row.kind == "cup_started":
        raise OutOfRange("kind", row.kind, "any row but the one that starts a cup")
    same = (row.kind, row.cup, row.component) == (held.kind, held.cup, held.component)
    if same and row.kind == "weighed":
        # It stands in the place of the stored reading, and a reading taken again later in its own.
        return [replace(row, event_id="", after=held.event_id, refers_to=held.event_id)]
    copy = replace(row, event_id="", after=_last_of_cup(store, row))
    if row.kind != "weighed":
        copy = replace(copy, refers_to=row.refers_to or held.event_id)
    strike = Row(
        kind="voided",
        cup=held.cup,
        after=_last_of_cup(store, held),
        refers_to=held.event_id,
        person=decision.person,
        note=decision.reason,
    )
    return [strike, copy]


def _settled(store: Store, found: Stray, decision: Decision) -> Row:
    fields = read_fields(found.raw, found.header)
    cup = fields["cup"] if is_label(fields["cup"]) else ""
    last = _last_of_cup(store, Row(cup=cup, event_id=fields["event_id"], after=fields["after"]))
    return Row(
        kind=SETTLED,
        # A cup nobody weighed must not seem to begin with this row.
        cup=cup if last else "",
        after=last,
        target=found.raw_sha256,
        shown=decision.outcome,
        refers_to=fields["event_id"] if _fits("event_id", fields) else "",
        person=decision.person,
        note=decision.reason,
    )


def _last_of_cup(store: Store, row: Row) -> str:
    """Last row of the cup as known here; empty if none is.

    Where several cups carried the label it is the one the row belongs to, else the latest.
    """
    known = cups(rows_of_cups(store, [row.cup])) if row.cup else []
    near = {row.event_id, row.after, row.refers_to} - {""}
    own = [group for group in known if any(one.event_id in near for one in group)]
    return [*known, *own][-1][-1].event_id if known else ""


def _keep(store: Store, found: Stray, drafts: Sequence[Row], at: str) -> None:
    """Keep the decision, unless somebody else decided since it was looked at."""
    with store.write() as connection:
        (now,) = strays(connection, found.number)
        if now.decision != found.decision:
            raise OutOfRange("row set aside", found.number, "a row nobody decided on meanwhile")
        try:
            office_log.append(connection, drafts, at)
        except IntegrityError as error:
            raise OutOfRange("row set aside", found.number, "a row not stored meanwhile") from error
