"""Small changes of a season's visits: blocks that two passages trade, or that one gives to another."""

from __future__ import annotations

from collections.abc import Iterator
from copy import copy
from itertools import combinations

from handbook.domain.season_board import Board


def changed(board: Board) -> Iterator[Board]:
    """Give boards with one change each: a block given away, one traded, two passages' parts exchanged."""
    count = len(board.need.passages)
    for place, chosen in enumerate(board.chosen):
        for passage in sorted(chosen - board.ordered[place]):
            for other in range(count):
                if other not in chosen and board.allows(place, other):
                    given = _copied(board)
                    _give(given, place, passage, other)
                    yield given
    for passage in range(count):
        for here, there, other in _trades(board, passage):
            if passage < other:
                traded = _copied(board)
                _move(traded, passage, here, there)
                _move(traded, other, there, here)
                yield traded
    for one, other in combinations(range(count), 2):
        yield _exchanged(board, one, other)


def _trades(board: Board, passage: int) -> Iterator[tuple[int, int, int]]:
    """Give places with a block of the passage, places without, and what it could trade with there."""
    free = [
        []
        if board.comes(passage, place) or not board.allows(place, passage)
        else sorted(chosen - board.ordered[place])
        for place, chosen in enumerate(board.chosen)
    ]
    for here, chosen in enumerate(board.chosen):
        if passage not in chosen or passage in board.ordered[here]:
            continue
        for there, others in enumerate(free):
            for other in others:
                if not board.comes(other, here) and board.allows(here, other):
                    yield here, there, other


def _exchanged(board: Board, one: int, other: int) -> Board:
    """Give each of two passages the other's blocks, wherever only one of them has any."""
    exchanged = _copied(board)
    for place, chosen in enumerate(board.chosen):
        if len((chosen - board.ordered[place]) & {one, other}) == len(chosen & {one, other}) == 1:
            has, gets = (one, other) if one in chosen else (other, one)
            if board.allows(place, gets):
                _give(exchanged, place, has, gets)
    return exchanged


def _give(board: Board, place: int, passage: int, other: int) -> None:
    board.drop(place, passage)
    board.choose(place, other)


def _move(board: Board, passage: int, here: int, there: int) -> None:
    board.drop(here, passage)
    board.choose(there, passage)


def _copied(board: Board) -> Board:
    new = copy(board)
    new.chosen = [set(row) for row in board.chosen]
    new.own = list(board.own)
    return new
