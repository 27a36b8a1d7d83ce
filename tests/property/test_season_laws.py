"""What is found from the visits alone: windows without one, and what a change of a season mends and breaks."""

from __future__ import annotations

from hypothesis import assume, given
from hypothesis import strategies as st

from handbook.domain.season import SeasonDay, SeasonNeed
from handbook.domain.season_board import Board
from handbook.domain.season_laws import Windows
from tests.property.test_season import needs

OPEN = st.lists(st.booleans(), min_size=1, max_size=12)


def windows_of(opened: list[bool], length: int) -> Windows:
    days = tuple(SeasonDay(20 * is_open, 0, 3, 10) for is_open in opened)
    return Windows(SeasonNeed(days, (), (), (), window=length))


def each_window(opened: list[bool], length: int) -> list[tuple[int, int]]:
    """List the first and last place of every window: so many open days in a row."""
    places = [place for place, is_open in enumerate(opened) if is_open]
    rows = [places[first : first + length] for first in range(len(places))]
    return [(row[0], row[-1]) for row in rows if len(row) == length]


def visited(seen: int, first: int, last: int) -> bool:
    return any(seen >> place & 1 for place in range(first, last + 1))


@given(OPEN, st.integers(1, 5), st.integers(0, 2**12 - 1))
def test_windows_without_a_visit_are_found_in_order(
    opened: list[bool], length: int, seen: int
) -> None:
    windows, seen = windows_of(opened, length), seen % 2 ** len(opened)
    found = [
        windows.span(window)
        for first, last in windows.empty_runs(seen)
        for window in range(first, last + 1)
    ]
    assert found == [
        (first, last)
        for first, last in each_window(opened, length)
        if not visited(seen, first, last)
    ]


@given(OPEN, st.integers(1, 5), st.integers(0, 2**12 - 1), st.integers(0, 11))
def test_windows_around_a_place_without_another_visit_are_counted(
    opened: list[bool], length: int, seen: int, place: int
) -> None:
    windows, seen = windows_of(opened, length), seen % 2 ** len(opened)
    place %= len(opened)
    others = seen & ~(1 << place)
    assert windows.empty_at(seen, place) == sum(
        first <= place <= last and not visited(others, first, last)
        for first, last in each_window(opened, length)
    )


@given(needs() | needs(steered=True), st.data())
def test_what_changes_of_a_board_mend_and_break_is_what_its_passages_lack_less_and_more(
    need: SeasonNeed, data: st.DataObject
) -> None:
    board = Board(need)
    board.place_visits()
    chosen = [(passage, place) for place, row in enumerate(board.chosen) for passage in row]
    assume(chosen)
    passage, place = data.draw(st.sampled_from(sorted(chosen)))
    before, gains = board.lacks(passage), board.gains(passage)
    losses, loss = board.move_losses(passage, place, gains), board.loss(passage, place)
    for elsewhere in range(len(need.days)):
        if not board.comes(passage, elsewhere):
            board.choose(elsewhere, passage)
            assert before - board.lacks(passage) == gains[elsewhere]
            board.drop(place, passage)
            assert board.lacks(passage) - before == losses[elsewhere]
            board.drop(elsewhere, passage)
            assert board.lacks(passage) - before == loss
            board.choose(place, passage)
