"""Laws of bus travel."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.run_of_show import later
from handbook.domain.travel import Bus, RideMinutes, homebound, outbound

NEW_YEAR = datetime(2026, 1, 1, tzinfo=ZoneInfo("America/New_York"))
MOMENTS = st.integers(0, 2 * 365 * 86_400).map(lambda seconds: later(NEW_YEAR, seconds))
RIDES = st.builds(RideMinutes, st.integers(0, 90), st.integers(0, 240), st.integers(0, 60))
BUSES = st.lists(
    st.builds(Bus, st.just("bus"), st.integers(10, 80), st.integers(0, 10)), max_size=6
)
RIDERS = st.integers(0, 400)


@given(moment=MOMENTS, ride=RIDES)
def test_both_ways_run_forward_and_take_as_long(moment: datetime, ride: RideMinutes) -> None:
    there, back = outbound(moment, ride), homebound(moment, ride)
    for way in (
        (there.report, there.load, there.depart, there.arrive, there.call),
        (back.load, back.depart, back.arrive, back.unloaded, back.pick_up),
    ):
        assert all(a.astimezone(UTC) <= b.astimezone(UTC) for a, b in pairwise(way))
    whole = timedelta(minutes=ride.load + ride.drive + ride.unload)
    assert there.call.astimezone(UTC) - there.load.astimezone(UTC) == whole
    assert back.unloaded.astimezone(UTC) - back.load.astimezone(UTC) == whole
