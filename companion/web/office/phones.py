"""Phones and what they sent: their logs, and the rows that were set aside."""

from flask import Blueprint, render_template

from ...records.aside import Stray, all_strays
from ...records.phones import LogSummary, all_logs
from ...trade.numbers import fixed
from ...trade.phone_clock import is_pointed_out, minutes_fast
from ..state import state
from . import words
from .context import AsideLine, AsidePage, PhoneLine
from .figures import figure, moment
from .phrases import _

blueprint = Blueprint("phones", __name__)

_MOST_SHOWN = 200


@blueprint.get("/phones")
def listing() -> str:
    """Every log that has been in contact."""
    logs = tuple(_phone_line(summary) for summary in all_logs(state().store))
    return render_template("office/phones.html", phones=logs)


@blueprint.get("/aside")
def aside() -> str:
    """Rows a person should look at."""
    strays = all_strays(state().store)
    page = AsidePage(
        lines=tuple(_aside_line(stray) for stray in strays[:_MOST_SHOWN]), total=len(strays)
    )
    return render_template("office/aside.html", page=page)


def _phone_line(summary: LogSummary) -> PhoneLine:
    return PhoneLine(
        log_id=summary.log_id,
        last_contact_at=summary.last_contact_at,
        app_version=summary.app_version,
        rows=summary.rows,
        missing=tuple(
            str(low) if low == high else _("%(low)s to %(high)s", low=low, high=high)
            for low, high in summary.missing
        ),
        clock=_clock(summary.clock_offset_ms),
        clock_is_off=is_pointed_out(summary.clock_offset_ms),
    )


def _clock(offset_ms: int | None) -> str:
    if offset_ms is None:
        return ""
    if not is_pointed_out(offset_ms):
        return _("right to within 2 min")
    fast_min = minutes_fast(offset_ms)
    minutes = figure(fixed(abs(fast_min), 0))
    return (
        _("%(minutes)s min fast: set the clock of this phone", minutes=minutes)
        if fast_min > 0
        else _("%(minutes)s min slow: set the clock of this phone", minutes=minutes)
    )


def _aside_line(stray: Stray) -> AsideLine:
    return AsideLine(
        anchor=f"row-{stray.number}",
        log_id=stray.log_id,
        seq=str(stray.seq or ""),
        status=words.status(stray.status),
        reason=words.aside_reason(stray.status, stray.reason),
        raw=stray.raw,
        at=moment(stray.received_at),
    )
