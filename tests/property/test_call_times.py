"""Laws of call times."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from fractions import Fraction
from itertools import pairwise
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.call_times import Allowances, CallGroup, call_times, check_call, check_pick_up
from handbook.domain.run_of_show import ItemKind, ShowItem, later, run_of_show

NEW_YEAR = datetime(2026, 1, 1, tzinfo=ZoneInfo("America/New_York"))
DOWNBEATS = st.integers(0, 2 * 365 * 86_400).map(lambda seconds: later(NEW_YEAR, seconds))
MINUTES = st.integers(0, 120)
ALLOWANCES = st.builds(Allowances, *[MINUTES] * 9)
PIECES = st.lists(
    st.builds(
        ShowItem,
        kind=st.just(ItemKind.PIECE),
        seconds=st.fractions(0, 1800, max_denominator=97),
        ensembles=st.sampled_from([("a",), ("b",), ("a", "b")]),
    ),
    min_size=1,
    max_size=6,
)


@given(
    downbeat=DOWNBEATS,
    pieces=PIECES,
    allowances=ALLOWANCES,
    ensemble=st.sampled_from(["a", "b", None]),
    stays=st.booleans(),
)
def test_an_evening_runs_forward(
    downbeat: datetime,
    pieces: list[ShowItem],
    allowances: Allowances,
    ensemble: str | None,
    *,
    stays: bool,
) -> None:
    """Backward times never lie after the first note, forward times never before the last."""
    times = call_times(run_of_show(downbeat, pieces), CallGroup(allowances, ensemble, stays=stays))
    if times is None:
        assert not any(ensemble in piece.ensembles for piece in pieces)
        return
    moments = (
        times.call, times.duties, times.unpack, times.warm_up, times.walk, times.in_place,
        times.first_note, times.last_note, times.off_stage, times.packing, times.packed, times.ready, times.pick_up,
    )  # fmt: skip
    assert all(a.astimezone(UTC) <= b.astimezone(UTC) for a, b in pairwise(moments))
    five = timedelta(minutes=5)
    assert times.duties.astimezone(UTC) - times.call.astimezone(UTC) < five
    assert times.pick_up.astimezone(UTC) - times.ready.astimezone(UTC) < five
    assert times.call.minute % 5 == times.pick_up.minute % 5 == 0
    assert times.call.second == times.pick_up.second == 0


@given(downbeat=DOWNBEATS, allowances=ALLOWANCES, late=st.integers(-300, 300))
def test_a_stated_call_is_short_by_just_what_is_missing(
    downbeat: datetime, allowances: Allowances, late: int
) -> None:
    show = run_of_show(downbeat, [ShowItem(ItemKind.PIECE, Fraction(60), ensembles=("a",))])
    times = call_times(show, CallGroup(allowances, "a"))
    assert times is not None
    assert check_call(times, later(times.duties, late * 60)).shortfall == max(0, late)
    assert check_pick_up(times, later(times.ready, late * 60)).shortfall == max(0, -late)
    assert check_call(times, times.call).shortfall == 0
    assert check_pick_up(times, times.pick_up).shortfall == 0
