"""Words of shipping: where a part went, what speaks against it, what was struck."""

from collections.abc import Mapping

from ...records.ship_concerns import (
    EXPIRED,
    IN_MOULD,
    NO_CUP,
    OUT,
    QUARANTINED,
    UNKNOWN,
    Concern,
)
from ...records.shipping import Shipment, StruckShipment
from .figures import day, day_and_time
from .phrases import _


def shipped(found: Shipment, names: Mapping[str, str]) -> str:
    """To whom a part went, and when; the code where the name was erased."""
    said = {"customer": names.get(found.customer, found.customer), "day": day(found.day)}
    if not found.reason:
        return _("to %(customer)s on %(day)s", **said)
    return _(
        "to %(customer)s on %(day)s, in spite of cautions: “%(reason)s”",
        reason=found.reason,
        **said,
    )


def struck(found: StruckShipment, names: Mapping[str, str]) -> str:
    """A shipping that was struck."""
    return _(
        "%(shipping)s: struck on %(time)s (UTC): “%(reason)s”",
        shipping=shipped(found.shipment, names),
        time=day_and_time(found.at),
        reason=found.reason,
    )


def concern(found: Concern) -> str:
    """What speaks against shipping."""
    codes = ", ".join(found.codes)
    return {
        NO_CUP: _("No cup was poured for this job by the records."),
        OUT: _("Out of tolerance, and no deviation is written: cups %(codes)s.", codes=codes),
        UNKNOWN: _("Ratio not known: cups %(codes)s.", codes=codes),
        QUARANTINED: _("Lots in quarantine are in its cups: %(codes)s.", codes=codes),
        EXPIRED: _(
            "Lots that had expired when they were used are in its cups: %(codes)s.", codes=codes
        ),
        IN_MOULD: _("The lay-up sheet has not come to demould."),
    }[found.name]
