from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.trade.errors import OutOfRange
from companion.trade.times import format_utc, parse_utc, seconds_between
from tests.cases import load_cases, mismatch, outcome

zones = st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
moments = st.datetimes(datetime(1900, 1, 1), datetime(2200, 1, 1), timezones=zones)


@pytest.mark.parametrize("case", load_cases("times"), ids=lambda case: case["name"])
def test_it_agrees_with_the_shared_cases(case):
    assert mismatch(case, outcome(case)) == ""


@given(moment=moments)
def test_it_reads_what_it_writes_to_the_millisecond(moment):
    text = format_utc(moment)
    cut = moment.astimezone(UTC)
    assert parse_utc(text) == cut.replace(microsecond=cut.microsecond // 1000 * 1000)


@given(one=moments, other=moments)
def test_it_orders_written_times_as_the_moments_lie(one, other):
    texts = format_utc(one), format_utc(other)
    if texts[0] < texts[1]:
        assert one < other
    assert seconds_between(*texts) == -seconds_between(*reversed(texts))


def test_it_refuses_a_moment_without_an_offset():
    with pytest.raises(OutOfRange) as caught:
        format_utc(datetime(2026, 3, 7, 10, 14))
    assert caught.value.field == "moment"
