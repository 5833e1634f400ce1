"""Phones: their logs, what is held of them, and how far their clocks are off."""

from flask import Blueprint, render_template

from ...records.phones import LogSummary, all_logs
from ...trade.numbers import fixed
from ...trade.phone_clock import is_pointed_out, minutes_fast
from ..state import state
from .context import PhoneLine
from .figures import figure
from .phrases import _

blueprint = Blueprint("phones", __name__)


@blueprint.get("/phones")
def listing() -> str:
    """Every log that has been in contact."""
    logs = tuple(_phone_line(summary) for summary in all_logs(state().store))
    return render_template("office/phones.html", phones=logs)


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
