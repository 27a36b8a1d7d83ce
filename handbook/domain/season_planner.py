"""Planning a season: stretches first, then visits by due date, then what is left by urgency."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from handbook.domain.season import (
    Law,
    MusicBlock,
    MusicKind,
    Season,
    SeasonNeed,
    stage_places,
    worth,
)
from handbook.domain.season_board import Board
from handbook.domain.season_changes import changed
from handbook.domain.season_laws import unmet_laws
from handbook.domain.season_mending import mend
from handbook.domain.season_minutes import share_minutes
from handbook.domain.stretch_choice import chosen_stretches

_ROUNDS = 6  # of mending
_TRIES = 2400  # of moving a join or run to mend a law, over days times passages
_TRIES_FOR_WORTH = 20_000  # of single changes, over the square of the same: in small seasons
_LOOKS = 60  # at changes of visits, which cost little, for each of those
_LEAST_GAIN = 1e-6  # relative; what a move must be worth, so that floats cannot turn in a circle

_Placed = tuple[int, tuple[int, ...]]  # a join or run, and where it may come, the best place first
Blocks = tuple[tuple[MusicBlock, ...], ...]


def plan_season(need: SeasonNeed) -> Season:
    """Plan the music of every rehearsal, and say which laws the hours do not suffice for.

    Joins and runs (`chosen_stretches`) are spread evenly over their stage. Passages then
    come by due date, the latest at which their next visit still keeps each law at an even
    pace; what does not fit is mended by adding, changing and moving blocks, the weightier
    law first, and where that does not do by moving joins and runs. Each rehearsal has as
    few blocks as hold its minutes and the laws, since each change costs a minute; the
    minutes go to the urgent by `worth`. In a small season single joins, runs and
    blocks are then moved as long as that is worth more and breaks nothing. Deterministic.
    """
    board = _filled(need, _spread(need))
    tries = _TRIES // max(1, len(need.days) * len(need.passages))
    while board.broken and tries > 0:
        better, tries = _better(board, tries)
        if better is None:
            break
        board = better
    blocks = _worthiest(board)
    return Season(blocks, unmet_laws(need, blocks))


def broken_at_first(need: SeasonNeed) -> frozenset[Law]:
    """Give the laws that the first plan of a season breaks, before joins and runs are moved.

    Its minutes are not shared, which never breaks a law: what it keeps `plan_season` keeps.
    """
    board = _filled(need, _spread(need))
    blocks = [
        (*fixed, *(MusicBlock(MusicKind.PASSAGE, passage, 1) for passage in chosen))
        for fixed, chosen in zip(board.fixed, board.chosen, strict=True)
    ]
    return frozenset(unmet.law for unmet in unmet_laws(need, blocks))


def _spread(need: SeasonNeed) -> tuple[_Placed, ...]:
    """Spread each stage's stretches evenly over its rehearsals, the pieces by turns."""
    by_stage = {need.days[places[0]].stage: places for places in stage_places(need.days)}
    found: list[_Placed] = []
    for stage, stretches in chosen_stretches(need).items():
        places = [place for place in by_stage[stage] if need.days[place].held is None]
        for turn, index in enumerate(stretches):
            middle = (2 * turn + 1) * len(places) // (2 * len(stretches))
            nearest = sorted(range(len(places)), key=lambda one: (abs(one - middle), one))
            found.append((index, tuple(places[one] for one in nearest)))
    return tuple(found)


def _filled(need: SeasonNeed, stretches: Sequence[_Placed], like: Board | None = None) -> Board:
    board = Board(need, like)
    board.placed = tuple(
        (index, places, board.place_stretch(index, places)) for index, places in stretches
    )
    board.place_visits()
    mend(board, _ROUNDS)
    return board


def _moved(board: Board) -> Iterator[tuple[_Placed, ...]]:
    """Give every way to move one join or run within its stage, then to exchange two of them."""
    stretches = [(index, places) for index, places, _ in board.placed]
    for turn, (_, places, now) in enumerate(board.placed):
        for place in places:
            if place != now:
                yield _put_first(stretches, {turn: place})
    for (turn, one), (other, two) in combinations(enumerate(board.placed), 2):
        there, here = one[2], two[2]
        if None not in {there, here} and there != here and one[1].count(here) and one[0] != two[0]:
            yield _put_first(stretches, {turn: here, other: there})


def _put_first(
    stretches: Sequence[_Placed], wished: Mapping[int, int | None]
) -> tuple[_Placed, ...]:
    """Put the wished ones before all others, each with its wished place before all others."""
    first = [
        (index, tuple(sorted(places, key=lambda one: one != wished[turn])))
        for turn, (index, places) in enumerate(stretches)
        if turn in wished
    ]
    return (*first, *(one for turn, one in enumerate(stretches) if turn not in wished))


def _better(board: Board, tries: int) -> tuple[Board | None, int]:
    """Move one join or run within its stage, or exchange two, so that less is broken."""
    for stretches in _moved(board):
        if tries <= 0:
            break
        tries -= 1
        other = _filled(board.need, stretches, board)
        if other.broken < board.broken:
            return other, tries
    return None, tries


def _worthiest(board: Board) -> Blocks:
    """Share the minutes; in a small season change it as long as that mends or is worth more."""
    size = max(1, len(board.need.days) * len(board.need.passages))
    tries = _TRIES_FOR_WORTH // size**2
    looks = _LOOKS * tries
    blocks, value = _shared(board)
    broken, others = board.broken, _others(board)
    while tries > 0 and looks > 0 and (other := next(others, None)):
        looks -= 1
        left = other.broken
        if other.placed is not board.placed:
            tries -= 1
        if left > broken or other.unplaced > board.unplaced:
            continue
        shared, worthier = _shared(other)
        tries -= 1
        if left < broken or worthier > value * (1 + _LEAST_GAIN):
            board, blocks, value = other, shared, worthier
            broken, others = left, _others(other)
    return blocks


def _others(board: Board) -> Iterator[Board]:
    """Give the plans with one change each: of joins and runs, then of visits; then with two of visits."""
    for stretches in _moved(board):
        yield _filled(board.need, stretches, board)
    yield from changed(board)
    for other in changed(board):
        yield from changed(other)


def _shared(board: Board) -> tuple[Blocks, float]:
    board.thin()
    blocks = share_minutes(board)
    return blocks, worth(board.need, blocks)
