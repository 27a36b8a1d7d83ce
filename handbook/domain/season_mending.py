"""Mending a season's visits: blocks are added, changed and moved where that mends more than it breaks."""

from __future__ import annotations

from handbook.domain.season_board import Board


def mend(board: Board) -> bool:
    """Add, change and move blocks as long as that mends more than it breaks; tell if it did."""
    mending = _Mending(board)
    return sum(mending.mend(passage) for passage in range(len(board.need.passages))) > 0


class _Mending:
    """One round of mending a board, with what was reckoned of its blocks as long as that holds.

    A season that lacks hours has few changes that mend, and very many that do not. What a
    passage loses depends on its own visits alone, so that each change leaves nearly all of
    it as it was.
    """

    def __init__(self, board: Board) -> None:
        self.board, self.most = board, [board.most(place) for place in range(len(board.need.days))]
        self.losses: dict[int, dict[int, list[tuple[int, int]]]] = {}  # of passages and places
        self.least: dict[int, tuple[int, int] | None] = {}
        self.vain: dict[int, int] = {}  # the gain for which no room was found at a place

    def mend(self, passage: int) -> int:
        """Give a passage the visits that mend more than they break, and count them."""
        board, count = self.board, 0
        if not board.lacks(passage):
            return 0
        for place, most in enumerate(self.most):
            if most and not board.comes(passage, place):
                gain = board.gain(passage, place)
                if gain > self.vain.get(place, 0):
                    if self._make_room(place, gain):
                        self._choose(place, passage)
                        count += 1
                    else:
                        self.vain[place] = gain
        return count

    def _make_room(self, place: int, gain: int) -> bool:
        """Free one block of a day, at less than the gain; False where that cannot be."""
        board = self.board
        if len(board.chosen[place]) < self.most[place]:
            return True
        cheapest = self._cheapest(place)
        if cheapest is None:
            return False
        if cheapest[0] < gain:
            self._drop(place, cheapest[1])
            return True
        others = sorted(board.chosen[place] - board.ordered[place])
        return any(self._move_away(place, other, gain) for other in others)

    def _move_away(self, place: int, other: int, gain: int) -> bool:
        """Move a passage's block to another day, where need be in place of a third."""
        for loss, elsewhere in self._moves(place, other):
            if loss >= gain:
                continue
            if len(self.board.chosen[elsewhere]) >= self.most[elsewhere]:
                third = self._cheapest(elsewhere)
                if third is None or loss + third[0] >= gain:
                    continue
                self._drop(elsewhere, third[1])
            self._drop(place, other)
            self._choose(elsewhere, other)
            return True
        return False

    def _moves(self, place: int, other: int) -> list[tuple[int, int]]:
        """Give what moving a passage's block to each other day breaks, the days in order."""
        moves = self.losses.setdefault(other, {})
        if place not in moves:
            moves[place] = [
                (self.board.loss(other, place, elsewhere), elsewhere)
                for elsewhere, most in enumerate(self.most)
                if most and not self.board.comes(other, elsewhere)
            ]
        return moves[place]

    def _cheapest(self, place: int) -> tuple[int, int] | None:
        """Give what is broken least by a day's giving a block up, and whose it is."""
        if place not in self.least:
            board = self.board
            others = board.chosen[place] - board.ordered[place]
            self.least[place] = min(((board.loss(one, place), one) for one in others), default=None)
        return self.least[place]

    def _choose(self, place: int, passage: int) -> None:
        self.board.choose(place, passage)
        self._forget(place, passage)

    def _drop(self, place: int, passage: int) -> None:
        self.board.drop(place, passage)
        self._forget(place, passage)

    def _forget(self, place: int, passage: int) -> None:
        """Forget what was reckoned of a passage that has come or gone, and of its days."""
        self.vain.clear()
        self.losses.pop(passage, None)
        self.least.pop(place, None)
        for one, chosen in enumerate(self.board.chosen):
            if passage in chosen:
                self.least.pop(one, None)
