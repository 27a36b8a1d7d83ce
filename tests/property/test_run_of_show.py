"""Laws of the run of show."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from fractions import Fraction
from itertools import pairwise
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.run_of_show import ItemKind, ShowItem, later, run_of_show, shown, with_pauses

NEW_YEAR = datetime(2026, 1, 1, tzinfo=ZoneInfo("America/New_York"))
DOWNBEATS = st.integers(0, 2 * 365 * 86_400).map(lambda seconds: later(NEW_YEAR, seconds))
SECONDS = st.fractions(0, 3600, max_denominator=997)
ITEMS = st.lists(
    st.builds(
        ShowItem,
        kind=st.sampled_from(ItemKind),
        seconds=SECONDS,
        ensembles=st.sampled_from([("a",), ("b",), ("a", "b")]),
    ),
    max_size=12,
)


@given(downbeat=DOWNBEATS, items=ITEMS)
def test_items_never_overlap_and_leave_no_hole(downbeat: datetime, items: list[ShowItem]) -> None:
    show = run_of_show(downbeat, items)
    for before, after in pairwise(show.items):
        assert before.end_offset <= after.end_offset
        assert before.end.astimezone(UTC) == after.start.astimezone(UTC)


@given(downbeat=DOWNBEATS, items=ITEMS)
def test_the_show_is_as_long_as_its_items(downbeat: datetime, items: list[ShowItem]) -> None:
    show = run_of_show(downbeat, items)
    assert show.seconds == sum(item.seconds for item in items)
    elapsed = show.end.astimezone(UTC) - downbeat.astimezone(UTC)
    assert abs(Fraction(elapsed / timedelta(microseconds=1)) - show.seconds * 1_000_000) <= 1


@given(downbeat=DOWNBEATS, items=ITEMS)
def test_turns_cover_every_piece_once(downbeat: datetime, items: list[ShowItem]) -> None:
    show = run_of_show(downbeat, items)
    for timed in show.items:
        if timed.item.kind is ItemKind.PIECE:
            holders = [
                turn
                for turn in show.turns()
                if turn.ensembles == timed.item.ensembles
                and turn.start.astimezone(UTC) <= timed.start.astimezone(UTC)
                and timed.end.astimezone(UTC) <= turn.end.astimezone(UTC)
            ]
            assert holders


@given(items=ITEMS, gap=SECONDS, changeover=SECONDS)
def test_pauses_leave_the_written_items_in_order(
    items: list[ShowItem], gap: Fraction, changeover: Fraction
) -> None:
    filled = with_pauses(items, gap, changeover)
    rest = iter(filled)
    assert all(item in rest for item in items)
    if gap and changeover:
        assert not any(
            before.kind is after.kind is ItemKind.PIECE for before, after in pairwise(filled)
        )


@given(moment=DOWNBEATS, step=st.sampled_from([5, 60, 300]))
def test_a_shown_time_is_at_most_half_a_step_off(moment: datetime, step: int) -> None:
    off = shown(moment, step).astimezone(UTC) - moment.astimezone(UTC)
    assert abs(off) <= timedelta(seconds=step) / 2
    assert shown(shown(moment, step), step) == shown(moment, step)


@given(moment=DOWNBEATS, seconds=st.integers(-100_000, 100_000))
def test_there_and_back(moment: datetime, seconds: int) -> None:
    back = later(later(moment, seconds), -seconds)
    assert back.astimezone(UTC) == moment.astimezone(UTC)
