"""Mending a season's visits: blocks are added, changed, moved and traded where that mends more than it breaks."""

from __future__ import annotations

from itertools import product
from operator import add

from handbook.domain.season_board import Board

_NEVER = 10**18  # more than all laws together weigh


def mend(board: Board, rounds: int) -> None:
    """Mend a board in at most so many rounds; what one moves may let the next one mend."""
    mending = _Mending(board)
    for _ in range(rounds):
        if not mending.mend() and not mending.trade():
            break


class _Mending:
    """A board while it is mended, with what was reckoned of its blocks as long as that holds.

    A season that lacks hours has few changes that mend, and very many that do not. What a
    passage gains and loses depends on its own visits alone, so that each change leaves
    nearly all of it as it was.
    """

    def __init__(self, board: Board) -> None:
        self.board, self.most = board, [board.most(place) for place in range(len(board.need.days))]
        self.gains: dict[int, list[int]] = {}  # of passages, at each place
        self.moves: dict[int, dict[int, list[int]]] = {}  # losses of passages, from places to each
        self.least: dict[int, tuple[int, int] | None] = {}
        self.room: list[int] | None = None
        self.vain: dict[int, int] = {}  # the gain for which no room was found at a place

    def mend(self) -> bool:
        """Give each passage the visits that mend more than they break; tell if any came."""
        count = 0
        for passage in range(len(self.board.need.passages)):
            if not self.board.lacks(passage):
                continue
            for place in range(len(self.most)):
                gain = self._gains(passage)[place]
                if gain > self.vain.get(place, 0):
                    if self._make_room(place, gain):
                        self._choose(place, passage)
                        count += 1
                    else:
                        self.vain[place] = gain
        return count > 0

    def trade(self) -> bool:
        """Let each passage that lacks visits trade one rehearsal, if that mends; tell if any did."""
        passages = range(len(self.board.need.passages))
        lacking = [passage for passage in passages if self.board.lacks(passage)]
        return sum(self._trade_one(passage) for passage in lacking) > 0

    def _trade_one(self, passage: int) -> bool:
        """Move a block to a day whose block moves the other way, the first pair of days that mends."""
        board, places = self.board, range(len(self.most))
        mine = [place for place in places if passage in self._spare(place)]
        free = [place for place in places if board.allows(place, passage)]
        for here, there in product(mine, free):
            lost = self._moves(passage, here)[there]
            for other in self._spare(there) if lost < _NEVER else ():
                if board.allows(here, other) and lost + self._moves(other, there)[here] < 0:
                    self._drop(here, passage)
                    self._choose(there, passage)
                    self._drop(there, other)
                    self._choose(here, other)
                    return True
        return False

    def _make_room(self, place: int, gain: int) -> bool:
        """Free one block of a day, at less than the gain; False where that cannot be."""
        if len(self.board.chosen[place]) < self.most[place]:
            return True
        if self._room_losses()[place] < gain:
            self._drop_cheapest(place)
            return True
        return any(self._move_away(place, other, gain) for other in self._spare(place))

    def _move_away(self, place: int, other: int, gain: int) -> bool:
        """Move a passage's block to another day, where need be in place of a third."""
        losses = list(map(add, self._moves(other, place), self._room_losses()))
        if min(losses) >= gain:
            return False
        elsewhere = next(elsewhere for elsewhere, loss in enumerate(losses) if loss < gain)
        if len(self.board.chosen[elsewhere]) >= self.most[elsewhere]:
            self._drop_cheapest(elsewhere)
        self._drop(place, other)
        self._choose(elsewhere, other)
        return True

    def _room_losses(self) -> list[int]:
        """Give what is broken at least to have room for one more block, at each place."""
        if self.room is None:
            self.room = [
                0
                if len(chosen) < most
                else cheapest[0]
                if (cheapest := self._cheapest(place))
                else _NEVER
                for place, (chosen, most) in enumerate(
                    zip(self.board.chosen, self.most, strict=True)
                )
            ]
        return self.room

    def _spare(self, place: int) -> list[int]:
        """Name the passages with a block that is not ordered, in order."""
        return sorted(self.board.chosen[place] - self.board.ordered[place])

    def _gains(self, passage: int) -> list[int]:
        """Give how much a visit would mend at each place; nothing where there is one or can be none."""
        if passage not in self.gains:
            seen = self.board.seen(passage)
            self.gains[passage] = [
                gain if most and not seen >> place & 1 else 0
                for place, (most, gain) in enumerate(
                    zip(self.most, self.board.gains(passage), strict=True)
                )
            ]
        return self.gains[passage]

    def _moves(self, passage: int, place: int) -> list[int]:
        """Give how much moving a passage's block to each other place breaks."""
        moves = self.moves.setdefault(passage, {})
        if place not in moves:
            losses = self.board.move_losses(passage, place, self._gains(passage))
            seen = self.board.seen(passage)
            moves[place] = [
                loss if most and not seen >> elsewhere & 1 else _NEVER
                for elsewhere, (most, loss) in enumerate(zip(self.most, losses, strict=True))
            ]
        return moves[place]

    def _cheapest(self, place: int) -> tuple[int, int] | None:
        """Give what is broken least by a day's giving a block up, and whose it is."""
        if place not in self.least:
            losses = ((self.board.loss(one, place), one) for one in self._spare(place))
            self.least[place] = min(losses, default=None)
        return self.least[place]

    def _drop_cheapest(self, place: int) -> None:
        cheapest = self._cheapest(place)
        if cheapest is not None:
            self._drop(place, cheapest[1])

    def _choose(self, place: int, passage: int) -> None:
        self.board.choose(place, passage)
        self._forget(passage)

    def _drop(self, place: int, passage: int) -> None:
        self.board.drop(place, passage)
        self._forget(passage)

    def _forget(self, passage: int) -> None:
        """Forget what was reckoned of a passage that has come or gone, and of its days.

        The day that it is gone from is forgotten as another comes there, in the same change.
        """
        self.vain.clear()
        self.room = None
        self.gains.pop(passage, None)
        self.moves.pop(passage, None)
        for one, chosen in enumerate(self.board.chosen):
            if passage in chosen:
                self.least.pop(one, None)
