"""All a phone needs of the records to work alone."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import timedelta
from typing import Any

from ..trade.cards import (
    Additive,
    Cloth,
    Container,
    CupType,
    Job,
    Lot,
    ReleaseAgent,
    ScaleCard,
    SystemCard,
)
from ..trade.chain import label
from ..trade.rows import COLUMNS, Row
from ..trade.times import format_utc, parse_utc
from . import catalogue, labels, lay_up_sheets, parts, plans, scale_checks
from .store import Store
from .trace import mixes, open_cups, shared_cups, started_codes


@dataclass(frozen=True, slots=True)
class Bundle:
    """Contents of the bundle; every list in a fixed order, so that equal contents are equal."""

    identity: catalogue.ServerIdentity
    systems: list[dict[str, Any]]
    scales: list[dict[str, Any]]
    cup_types: list[dict[str, Any]]
    lots: list[dict[str, Any]]
    containers: list[dict[str, Any]]
    cloths: list[dict[str, Any]]
    release_agents: list[dict[str, Any]]
    additives: list[dict[str, Any]]
    jobs: list[dict[str, Any]]
    #: lay-up sheets of the jobs that are not done: job with its revision, and its steps.
    sheets: list[dict[str, Any]]
    #: rows of no cup that a phone folds: steps of those jobs, and the latest of air and mould.
    shop_rows: list[dict[str, Any]]
    people: dict[str, str]
    planned_cups: list[dict[str, Any]]
    open_cups: list[dict[str, Any]]
    parts: list[dict[str, str]]
    #: codes of labels that wait on a shelf to be bound to whatever they are put on.
    blank_labels: list[str]
    #: when each scale was checked last: its code -> RFC 3339.
    scale_checks: dict[str, str]
    #: end of the certificate the server shows, RFC 3339; empty where it has none of its own.
    certificate_until: str


#: How long the end of a cup that several phones wrote to is told to all of them.
SHARED_FOR = timedelta(days=60)


def gather(
    store: Store, identity: catalogue.ServerIdentity, now_utc: str, certificate_until: str = ""
) -> Bundle:
    """Collect the bundle: newest cards, revisions in use, planned and open cups."""
    open_groups = open_cups(store)
    plans_made = plans.every(store)
    systems_in_use = {group[0].system for group in open_groups}
    systems_in_use |= {plan.system for plan in plans_made}
    sheets = lay_up_sheets.open_sheets(store)
    ended = started_codes(store) - {group[0].cup for group in open_groups}
    return Bundle(
        identity=identity,
        systems=_cards(catalogue.every(store, SystemCard), systems_in_use),
        scales=_cards(catalogue.every(store, ScaleCard), {group[0].scale for group in open_groups}),
        cup_types=[asdict(card) for card in catalogue.latest(store, CupType)],
        lots=[asdict(card) for card in catalogue.latest(store, Lot)],
        containers=[asdict(card) for card in catalogue.latest(store, Container)],
        cloths=[asdict(card) for card in catalogue.latest(store, Cloth)],
        release_agents=[asdict(card) for card in catalogue.latest(store, ReleaseAgent)],
        additives=[asdict(card) for card in catalogue.latest(store, Additive)],
        jobs=[asdict(card) for card in catalogue.latest(store, Job)],
        sheets=[
            {"job": sheet.job, "steps": [asdict(step) for step in sheet.steps]} for sheet in sheets
        ],
        shop_rows=[_fields(row) for row in lay_up_sheets.shop_rows(store, sheets, now_utc)],
        people=catalogue.all_people(store),
        # The plan of an open cup still tells its cup type.
        planned_cups=[asdict(cup) for cup in plans_made if cup.code not in ended],
        open_cups=[
            {"code": label(group), "rows": [_fields(row) for row in group]}
            for group in _told_to_phones(store, open_groups, now_utc)
        ],
        parts=[
            {"code": part.code, "job": part.job, "serial": part.serial}
            for part in sorted(parts.every(store), key=lambda part: part.code)
        ],
        blank_labels=labels.blank(store),
        scale_checks=_last_checks(store),
        certificate_until=certificate_until,
    )


def _last_checks(store: Store) -> dict[str, str]:
    newest_last = reversed(scale_checks.every(store))
    return {check.scale: check.row.recorded_at for check in newest_last}


def _told_to_phones(
    store: Store, open_groups: Sequence[list[Row]], now_utc: str
) -> list[list[Row]]:
    """Open cups, those that ended elsewhere, and the mixes that shares among them came from."""
    groups = [*open_groups, *_ended_elsewhere(store, open_groups, now_utc)]
    return [*groups, *mixes(store, groups)]


def _ended_elsewhere(
    store: Store, open_groups: Sequence[Sequence[Row]], now_utc: str
) -> list[list[Row]]:
    known = {group[0].event_id for group in open_groups}
    since = format_utc(parse_utc(now_utc) - SHARED_FOR)
    return [group for group in shared_cups(store, since) if group[0].event_id not in known]


def _cards(every: Sequence[SystemCard | ScaleCard], in_use: set[str]) -> list[dict[str, Any]]:
    """The newest revisions, marked as such, and the older ones that open cups still use."""
    newest = {card.code: card.revision for card in every}
    return [
        {**asdict(card), "newest": card.revision == newest[card.code]}
        for card in every
        if card.revision == newest[card.code] or card.name in in_use
    ]


def _fields(row: Row) -> dict[str, Any]:
    fields: dict[str, Any] = {name: getattr(row, name) for name in COLUMNS}
    return {**fields, "extra": [list(pair) for pair in row.extra]}
