"""The forms of what was bought: a maker's lot, and our one opened can of it."""

from collections.abc import Collection, Mapping, Sequence

from ..cards import Container, Lot
from .typed import LONGEST_CODE, Reader, Span, plain

LONGEST_REASON = 300
LOT_FIELDS = ("code", "material", "expires_on", "quarantined", "quarantine_reason")
#: What no can goes beyond; common practice, no source.
CAN_SPANS = {"content_g": Span(1, 300_000), "empty_g": Span(1, 50_000)}
CAN_FIELDS = ("lot", "reason", "material", "opened_on", "content_g", "empty_g")
YES = "yes"


def read_lot(reader: Reader, before: Lot | None, cans: Mapping[str, Sequence[str]]) -> Lot | None:
    """A lot as typed; None where something is wrong with it.

    :param cans: codes of the cans of each lot. While there are any, its material stays.
    """
    code = before.code if before else reader.code()
    material = reader.text("material", needed=True, most=LONGEST_CODE)
    if before and material != before.material and cans.get(before.code):
        reader.refuse("material", "of_cans", before.material, ", ".join(cans[before.code]))
    expires_on = reader.day("expires_on")
    quarantined = reader.raw("quarantined") == YES
    reason = reader.text("quarantine_reason", needed=quarantined, most=LONGEST_REASON)
    if reason and not quarantined:
        reader.refuse("quarantine_reason", "no_quarantine")
    if reader.found:
        return None
    return Lot(code, before.revision if before else 0, material, expires_on, quarantined, reason)


def write_lot(card: Lot) -> dict[str, str]:
    """A lot as the text of its form."""
    return {
        "code": card.code,
        "material": card.material,
        "expires_on": card.expires_on,
        "quarantined": YES if card.quarantined else "",
        "quarantine_reason": card.quarantine_reason,
    }


def read_container(
    reader: Reader,
    before: Container | None,
    lots: Mapping[str, Lot],
    used: Collection[str] = (),
) -> Container | None:
    """A can as typed; None where something is wrong with it.

    :param lots: the lots there are, by code. A can holds the material of its lot.
    :param used: codes of cans that cups have drawn from: such a can changes its lot for a reason.
    """
    lot = reader.raw("lot")
    if lot and lot not in lots and not (before and before.lot == lot):
        reader.refuse("lot", "unknown")
    reason = _reason(reader, before, used)
    material = reader.text("material", most=LONGEST_CODE) or (
        lots[lot].material if lot in lots else ""
    )
    if not material and lot not in lots:
        reader.refuse("material", "empty")
    elif lot in lots and material != lots[lot].material:
        reader.refuse("material", "of_lot", lots[lot].material, lot)
    opened_on = reader.day("opened_on")
    content_g, empty_g = reader.figure("content_g"), reader.figure("empty_g")
    if reader.found:
        return None
    code, revision = (before.code, before.revision) if before else ("", 0)
    return Container(code, revision, material, lot, opened_on, content_g, empty_g, reason)


def _reason(reader: Reader, before: Container | None, used: Collection[str]) -> str:
    """Why the lot is another one now; what was written for an earlier change is no reason."""
    reason = reader.text("reason", most=LONGEST_REASON)
    changes = before is not None and before.code in used and reader.raw("lot") != before.lot
    if changes and before and reason in ("", before.reason):
        reader.refuse("reason", "lot_of_used", high=before.code)
    return reason


def write_container(card: Container) -> dict[str, str]:
    """A can as the text of its form."""
    return {
        "lot": card.lot,
        "reason": card.reason,
        "material": card.material,
        "opened_on": card.opened_on,
        "content_g": plain(card.content_g),
        "empty_g": plain(card.empty_g),
    }
