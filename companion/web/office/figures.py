"""Figures and times as the reader's language writes them.

Recorded figures keep their digits: only the decimal sign and the minus follow the language. Times
are shown as they were at the bench, with the offset the phone recorded.
"""

from datetime import datetime, timedelta, timezone

from babel import Locale
from flask_babel import format_date, format_datetime, get_locale

from ... import translations
from ...trade.errors import OutOfRange
from ...trade.numbers import fixed, to_step
from ...trade.times import parse_utc
from .phrases import _

#: Step of planned masses; the bench rounds them to the step of the scale it weighs on.
_OFFICE_STEP_G = 0.1


def figure(text: str) -> str:
    """A recorded figure, digit for digit; anything else as it is."""
    return translations.figure(text, _locale())


def grams(mass_g: float, decimals: int = 1) -> str:
    """A mass that was worked out, rounded for reading."""
    rounded_g = to_step(mass_g, _OFFICE_STEP_G) if decimals == 1 else mass_g
    return figure(fixed(rounded_g, decimals))


def percent(share: float, decimals: int = 1) -> str:
    """A share in per cent, without the sign of the unit."""
    return figure(fixed(share * 100, decimals))


def signed_percent(share: float) -> str:
    """A ratio error in per cent: + for too much hardener, minus for too little."""
    text = fixed(share * 100, 1)
    plus = "" if text.startswith("-") or not text.strip("0.") else "+"
    return f"{plus}{figure(text)}"


def local(utc: str, offset_min: str = "0") -> datetime | None:
    """A recorded moment in the local time of the phone; None if it is no time."""
    try:
        moment_utc = parse_utc(utc)
        return moment_utc.astimezone(timezone(timedelta(minutes=int(offset_min or "0"))))
    except (OutOfRange, ValueError, OverflowError):
        return None


def day_and_time(utc: str, offset_min: str = "0") -> str:
    """Day and time of day, without the offset, for lists."""
    found = local(utc, offset_min)
    return utc if found is None else _join(found, "HH:mm")


def day(iso: str) -> str:
    """A day of the calendar, ISO 8601; anything else as it is."""
    return translations.day(iso, _locale())


def moment(utc: str, offset_min: str = "0") -> str:
    """Day and time to the second, with the offset."""
    found = local(utc, offset_min)
    if found is None:
        return utc
    return _("%(time)s, %(offset)s", time=_join(found, "HH:mm:ss"), offset=found.tzname())


def time_of_day(utc: str, offset_min: str = "0") -> str:
    """Time of day to the second."""
    found = local(utc, offset_min)
    return utc if found is None else _written(found, "HH:mm:ss")


def day_and_offset(utc: str, offset_min: str = "0") -> str:
    """Day and offset, to stand beside a time of day."""
    found = local(utc, offset_min)
    if found is None:
        return ""
    return _("%(time)s, %(offset)s", time=_day(found), offset=found.tzname())


def _join(found: datetime, time_form: str) -> str:
    # The month as a word and 24 hours: read alike on both sides of every ocean.
    return _("%(day)s, %(time)s", day=_day(found), time=_written(found, time_form))


def _day(found: datetime) -> str:
    return str(format_date(found, "medium", rebase=False))


def _written(found: datetime, form: str) -> str:
    return str(format_datetime(found, form, rebase=False))


def _locale() -> Locale | str:
    return get_locale() or translations.SOURCE_LANGUAGE
