"""Limits of a lay-up against readings that come later: none moves to the unsafe side."""

from hypothesis import given
from hypothesis import strategies as st

from companion.trade.cards import Cure, SystemCard, TackWindow
from companion.trade.lay_up_clocks import cure_limits, full_cure_at, tack_limits
from companion.trade.lay_up_warmth import Reading
from companion.trade.times import milliseconds

DONE_AT = "2026-03-07T09:45:00.000Z"
CARD = SystemCard(
    code="RES-L+HRD-S",
    revision=1,
    resin="RES-L",
    hardener="HRD-S",
    hardener_word="SLOW",
    part_b_pbw=30,
    tolerance_pct=2,
    largest_cup_g=150,
    tack=TackWindow(120, 360, 20),
    cure=Cure(1440, 10080, 20),
)
READINGS = st.lists(
    st.builds(
        Reading,
        st.integers(-48 * 60, 48 * 60).map(lambda minute: milliseconds(DONE_AT) + minute * 60000),
        st.floats(0, 50),
    ),
    max_size=8,
).map(lambda found: sorted(found, key=lambda one: one.at_ms))


@given(READINGS, st.data())
def test_a_reading_after_the_clock_began_moves_no_limit_to_the_unsafe_side(readings, data):
    count = data.draw(st.integers(0, len(readings)))
    before = [one for one in readings if one.at_ms <= milliseconds(DONE_AT)]
    since = [one for one in readings if one.at_ms > milliseconds(DONE_AT)]
    fewer, more = [*before, *since[:count]], [*before, *since]
    at_first = tack_limits(CARD, DONE_AT, DONE_AT, fewer)
    later = tack_limits(CARD, DONE_AT, DONE_AT, more)
    assert later.opens_at >= at_first.opens_at
    assert later.closes_at <= at_first.closes_at
    assert cure_limits(CARD, DONE_AT, more).opens_at >= cure_limits(CARD, DONE_AT, fewer).opens_at
    assert full_cure_at(CARD, DONE_AT, more) >= full_cure_at(CARD, DONE_AT, fewer)


@given(READINGS)
def test_no_limit_is_wider_than_the_sheet(readings):
    sheet, found = (tack_limits(CARD, DONE_AT, DONE_AT, given) for given in ((), readings))
    assert found.opens_at >= sheet.opens_at
    assert found.closes_at <= sheet.closes_at
    assert cure_limits(CARD, DONE_AT, readings).opens_at >= cure_limits(CARD, DONE_AT, ()).opens_at
