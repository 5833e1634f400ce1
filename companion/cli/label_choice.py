"""Which labels a command is asked for: cups, cans or parts by code, or the cups of one job."""

import argparse
from collections.abc import Sequence

from ..errors import NotKnown, OutOfRange
from ..paper.asked import MOST_LABELS
from ..paper.labels import Label, Words, container_label, cup_label, part_label
from ..records import catalogue, parts, plans
from ..records.store import Store
from ..trade.cards import Container, Job, Lot, SystemCard
from ..trade.codes import forgive


def named(store: Store, options: argparse.Namespace, words: Words) -> list[Label]:
    """Labels asked for by name; none where blank ones are.

    :raises OutOfRange: a code is none, or no cup of the job waits, or there are too many.
    :raises NotKnown: a code is not on record.
    """
    if options.plan is not None:
        return _cups(store, "--plan", _of_job(store, options.plan), words)
    if options.cups:
        return _cups(store, "--cups", _codes("--cups", options.cups), words)
    if options.parts:
        return _parts(store, _codes("--parts", options.parts), words)
    return _cans(store, _codes("--containers", options.containers or []), words)


def _codes(option: str, typed: Sequence[str]) -> list[str]:
    _require_few(option, len(typed))
    read = [forgive(text) for text in typed]
    for text, found in zip(typed, read, strict=True):
        if found.problem:
            near = f"; meant may be {' or '.join(found.proposals)}" if found.proposals else ""
            raise OutOfRange(option, text, f"a code of six characters{near}")
    return list(dict.fromkeys(found.code for found in read))


def _require_few(option: str, count: int) -> None:
    if count > MOST_LABELS:
        raise OutOfRange(option, f"{count} labels", f"at most {MOST_LABELS}")


def _of_job(store: Store, job: str) -> list[str]:
    """Cups of a job that nobody has started; without a revision, those of all its revisions."""
    waiting = [cup for cup in plans.waiting(store) if cup.job]
    found = [cup.code for cup in waiting if job in (cup.job, cup.job.partition("@")[0])]
    if not found:
        jobs = ", ".join(sorted({cup.job for cup in waiting})) or "none just now"
        raise OutOfRange("--plan", job, f"a job with planned cups that nobody has started: {jobs}")
    _require_few("--plan", len(found))
    return found


def _cups(store: Store, option: str, codes: Sequence[str], words: Words) -> list[Label]:
    planned = {plan.code: plan for plan in plans.every(store)}
    systems = {card.name: card for card in catalogue.every(store, SystemCard)}
    made: list[Label] = []
    products = _products(store)
    for code in codes:
        if code not in planned:
            raise NotKnown(option, code)
        plan = planned[code]
        job = (products.get(plan.job, plan.job), plan.step)
        system, paste = systems.get(plan.system), (plan.additive, plan.additive_pct)
        made.append(cup_label(code, system, plan.total, job, words, paste))
    return made


def _parts(store: Store, codes: Sequence[str], words: Words) -> list[Label]:
    known, products = {part.code: part for part in parts.every(store)}, _products(store)
    made: list[Label] = []
    for code in codes:
        if code not in known:
            raise NotKnown("--parts", code)
        one = known[code]
        made.append(part_label(code, one.serial, one.job, products.get(one.job, one.job), words))
    return made


def _products(store: Store) -> dict[str, str]:
    return {job.name: job.part for job in catalogue.every(store, Job)}


def _cans(store: Store, codes: Sequence[str], words: Words) -> list[Label]:
    cans = {can.code: can for can in catalogue.latest(store, Container)}
    expires_on = {lot.code: lot.expires_on for lot in catalogue.latest(store, Lot)}
    made: list[Label] = []
    for code in codes:
        if code not in cans:
            raise NotKnown("--containers", code)
        can = cans[code]
        made.append(container_label(can, expires_on.get(can.lot, ""), words))
    return made
