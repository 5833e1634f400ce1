"""Lists of scales and of their checks."""

from collections.abc import Sequence

from ...records import catalogue, scale_checks
from ...records.scale_checks import Check
from ...records.store import Store
from ...trade.card_forms.typed import plain
from ...trade.cards import ScaleCard
from ...trade.numbers import fixed, is_wire_number
from ...wire.people_csv import Cell, Figure, Moment
from .card_context import CardLine, CardTable
from .card_words import new_words
from .phrases import _
from .shop import open_shop

SCALES, CHECKS = "scale", "checks"


def scales(store: Store) -> CardTable:
    """The newest revision of each scale, with its last check."""
    found = scale_checks.every(store)
    return CardTable(
        kind=SCALES,
        title=_("Scales"),
        caption=_("The newest revision of each. Cups keep the revision they were weighed on."),
        new=new_words(SCALES),
        headings=(
            _("Scale"),
            _("Step, g"),
            _("Largest load, g"),
            _("Off after, s"),
            _("Repeatability, g"),
            _("Last check (UTC)"),
            _("To look at"),
        ),
        lines=tuple(
            CardLine(card.code, card.revision, _scale(card, _of(found, card)))
            for card in catalogue.latest(store, ScaleCard)
        ),
        look=5,
    )


def checks(store: Store) -> CardTable:
    """Every check, the newest first."""
    people = open_shop(store).people
    return CardTable(
        kind=CHECKS,
        title=_("Checks"),
        caption=_(
            "The display may be off by two steps, or by the uncertainty of reading it and what "
            "the weight itself may be off, whichever is more."
        ),
        new="",
        headings=(
            _("Checked (UTC)"),
            _("Scale"),
            _("Check weight, g"),
            _("Class"),
            _("Display, g"),
            _("Off by, g"),
            _("Allowed, g"),
            _("Person"),
            _("Verdict"),
        ),
        lines=tuple(
            _check(one, people.get(one.row.person, one.row.person))
            for one in scale_checks.every(store)
        ),
    )


def _of(found: Sequence[Check], card: ScaleCard) -> Check | None:
    return next((one for one in found if one.scale == card.code), None)


def _scale(card: ScaleCard, last: Check | None) -> tuple[Cell, ...]:
    return (
        Figure(card.readability),
        Figure(plain(card.capacity_g)),
        Figure(plain(card.auto_off_s)),
        Figure(plain(card.repeatability_g)),
        _moment(last.row.recorded_at) if last else _("never"),
        _look(last),
    )


def _look(last: Check | None) -> str:
    if last and last.judgement and not last.judgement.within:
        return _("beyond its limit: clean, level, fresh battery, then check it again")
    return ""


def _check(one: Check, person: str) -> CardLine:
    row, judged = one.row, one.judgement
    decimals = len(row.value.partition(".")[2])
    return CardLine(
        _moment(row.recorded_at),
        0,
        (
            row.scale,
            _recorded(row.target),
            row.note or _("not known"),
            _recorded(row.value),
            Figure(fixed(judged.error_g, decimals) if judged else ""),
            Figure(fixed(judged.limit_g, decimals + 1) if judged else ""),
            person,
            verdict(one),
        ),
    )


def _moment(utc: str) -> Moment:
    """A moment as a spreadsheet reads it; the heading says that it is UTC."""
    return Moment(utc[:19].replace("T", " "))


def _recorded(text: str) -> Cell:
    return Figure(text) if is_wire_number(text) else text


def verdict(check: Check) -> str:
    """A check in words."""
    if check.judgement is None:
        return _("cannot be judged: scale or weight is not on record")
    return _("within the limit") if check.judgement.within else _("beyond the limit")
