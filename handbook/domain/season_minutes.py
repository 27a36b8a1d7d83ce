"""Sharing the minutes of a season's rehearsals among their passages, by what they are worth."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import inf, log1p

from handbook.domain.season import MusicBlock, MusicKind, stage_places
from handbook.domain.season_board import Board

_ROUNDS = 4  # of exchange; later ones hardly find anything
_LEAST_WORTH = 1e-9  # what a change must be worth, so that floats cannot turn in a circle
_LN = [log1p(minutes) for minutes in range(20_000)]  # more than a year of rehearsals holds
_STEP = [later - sooner for sooner, later in pairwise(_LN)]  # what one more minute adds


def share_minutes(board: Board) -> tuple[tuple[MusicBlock, ...], ...]:
    """Give each rehearsal its blocks: what is fixed, then the chosen passages with their minutes.

    Every chosen passage has at least the shortest block; each further minute goes where it
    is worth most (see `worth`). Then minutes and whole blocks are exchanged, within one
    rehearsal at a time, as long as that is worth more and breaks no law of visits. The sum
    of each rehearsal is exact; what no passage can hold goes to the last join or run. In the
    end no passage has more of a day than those that the director has ordered for it.
    """
    blocks: list[tuple[MusicBlock, ...]] = [tuple(row) for row in board.fixed]
    for places in stage_places(board.need.days):
        shares = _StageShares(board, places)
        for place in places:
            shares.fill(place)
        for _ in range(_ROUNDS):
            if not sum(shares.improve(place) for place in places):
                break
        for place in places:
            shares.prefer_ordered(place)
            blocks[place] = shares.blocks(place)
    return tuple(blocks)


class _StageShares:
    """The minutes of one stage's rehearsals while they are shared."""

    def __init__(self, board: Board, places: Sequence[int]) -> None:
        self.board, self.need = board, board.need
        self.useful = [0] * len(self.need.passages)
        self.weights = [passage.weight for passage in self.need.passages]
        self.minutes: dict[int, dict[int, int]] = {}
        self.changes = 0
        self.settled: dict[int, int] = {}  # where nothing was left to improve after so many changes
        for place in places:
            day = self.need.days[place]
            for block in board.fixed[place]:
                if block.kind is MusicKind.PASSAGE:
                    self.useful[block.index] += block.minutes - 1
            self.minutes[place] = dict.fromkeys(sorted(board.chosen[place]), day.shortest)
            for passage in board.chosen[place]:
                self.useful[passage] += day.shortest - 1

    def _worth(self, passage: int, minutes: int) -> float:
        """Give what so many more useful minutes of a passage add to the worth."""
        have = self.useful[passage]
        return self.weights[passage] * (_LN[have + minutes] - _LN[have])

    def _give(self, row: dict[int, int], passage: int, minutes: int) -> None:
        row[passage] += minutes
        self.useful[passage] += minutes

    def fill(self, place: int) -> None:
        """Give out every minute of a rehearsal, each where it is worth most."""
        row = self.minutes[place]
        for _ in range(self.board.free[place] - sum(row.values())):
            taker = self._taker(place)
            if taker is None:
                break
            self._give(row, taker, 1)

    def _taker(self, place: int) -> int | None:
        """Name whom one more minute is worth most, of a tie the first."""
        bound, best, most = self.board.bound[place], None, 0.0
        for passage, minutes in self.minutes[place].items():
            gain = self.weights[passage] * _STEP[self.useful[passage]] if minutes < bound else 0.0
            if gain > most or (gain == most and best is not None and passage < best):
                best, most = passage, gain
        return best

    def _giver(self, place: int) -> int | None:
        """Name who misses a minute least, of a tie the first."""
        shortest, best, least = self.need.days[place].shortest, None, inf
        for passage, minutes in self.minutes[place].items():
            if minutes > shortest:
                loss = self.weights[passage] * _STEP[self.useful[passage] - 1]
                if loss < least or (loss == least and best is not None and passage < best):
                    best, least = passage, loss
        return best

    def improve(self, place: int) -> bool:
        """Exchange minutes, then try other blocks; tell whether anything changed."""
        if self.settled.get(place) == self.changes:
            return False
        changed = self._exchange(place)
        while self._improve_once(place):
            changed = True
        if changed:
            self.changes += 1
        else:
            self.settled[place] = self.changes
        return changed

    def _improve_once(self, place: int) -> bool:
        spare = self._spare(place)
        return self._swap(place, spare) or self._add(place) or self._drop(place, spare)

    def _exchange(self, place: int) -> bool:
        row, moved = self.minutes[place], False
        while True:
            taker, giver = self._taker(place), self._giver(place)
            if taker is None or giver is None or taker == giver:
                return moved
            if self._worth(taker, 1) + self._worth(giver, -1) <= _LEAST_WORTH:
                return moved
            self._give(row, taker, 1)
            self._give(row, giver, -1)
            moved = True

    def _spare(self, place: int) -> list[int]:
        """Name the passages whose block no law needs, the least urgent first."""
        return sorted(
            (
                passage
                for passage in self.board.chosen[place] - self.board.ordered[place]
                if not self.board.loss(passage, place)
            ),
            key=lambda one: (self.weights[one], one),
        )

    def _worthiest(self, passages: Sequence[int], minutes: int) -> int | None:
        """Name the one to which so many more useful minutes are worth most, of a tie the first."""
        useful, weights, best, most = self.useful, self.weights, None, -inf
        for passage in passages:
            have = useful[passage]
            gain = weights[passage] * (_LN[have + minutes] - _LN[have])
            if gain > most:
                best, most = passage, gain
        return best

    def _others(self, place: int) -> list[int]:
        """Name the passages without a block that day, in order."""
        return [
            passage
            for passage in range(len(self.need.passages))
            if passage not in self.minutes[place] and self.board.allows(place, passage)
        ]

    def _swap(self, place: int, spare: Sequence[int]) -> bool:
        """Give a block with all its minutes to another passage, if that is worth more."""
        row = self.minutes[place]
        others = self._others(place) if spare else []
        for passage in spare:
            useful = row[passage] - 1
            best = self._worthiest(others, useful)
            if best is None:
                return False
            if self._worth(best, useful) + self._worth(passage, -useful) > _LEAST_WORTH:
                self._close(place, passage)
                self._open(place, best, useful + 1)
                self._exchange(place)
                return True
        return False

    def _open(self, place: int, passage: int, minutes: int) -> None:
        self.minutes[place][passage] = minutes
        self.useful[passage] += minutes - 1
        self.board.choose(place, passage)

    def _close(self, place: int, passage: int) -> int:
        minutes = self.minutes[place].pop(passage)
        self.useful[passage] -= minutes - 1
        self.board.drop(place, passage)
        return minutes

    def _add(self, place: int) -> bool:
        """Open a block of one more passage with the minutes that others miss least."""
        row, shortest = self.minutes[place], self.need.days[place].shortest
        if len(row) >= self.board.most(place):
            return False
        if sum(row.values()) - shortest * len(row) < shortest:
            return False
        best = self._worthiest(self._others(place), shortest - 1)
        if best is None:
            return False
        gain, giver = self._worth(best, shortest - 1), self._giver(place)
        if giver is None or gain + shortest * self._worth(giver, -1) <= 0:  # later ones miss more
            return False
        before = dict(row)
        for _ in range(shortest):
            giver = self._giver(place)
            if giver is None:
                break
            gain += self._worth(giver, -1)
            self._give(row, giver, -1)
        if gain > _LEAST_WORTH:
            self._open(place, best, shortest)
            return True
        for passage, minutes in before.items():
            self._give(row, passage, minutes - row[passage])
        return False

    def _drop(self, place: int, spare: Sequence[int]) -> bool:
        """Close a block and give its minutes to the rest, if the minute it saves is worth more."""
        row = self.minutes[place]
        bound = self.board.bound[place]
        for passage in spare:
            room = sum(bound - minutes for one, minutes in row.items() if one != passage)
            if room < row[passage]:
                continue
            gain = self._worth(passage, 1 - row[passage])
            most = max((self._worth(one, 1) for one in row if one != passage), default=0.0)
            if gain + row[passage] * most <= 0:  # later minutes are worth less
                continue
            before = dict(row)
            for _ in range(self._close(place, passage)):
                taker = self._taker(place)
                if taker is not None:
                    gain += self._worth(taker, 1)
                    self._give(row, taker, 1)
            if gain > _LEAST_WORTH:
                return True
            for one, minutes in list(row.items()):
                self._give(row, one, before[one] - minutes)
            self._open(place, passage, before[passage])
        return False

    def prefer_ordered(self, place: int) -> None:
        """Take minutes from what fills a day up until nothing of it has more than what is ordered."""
        row = self.minutes[place]
        ordered = sorted(self.board.ordered[place] & row.keys())
        others = sorted(row.keys() - self.board.ordered[place])
        while ordered and others:
            least, most = min(ordered, key=row.__getitem__), max(others, key=row.__getitem__)
            if row[least] >= row[most]:
                return
            self._give(row, least, 1)
            self._give(row, most, -1)

    def blocks(self, place: int) -> tuple[MusicBlock, ...]:
        """Give a rehearsal's blocks; what no passage holds lengthens the last fixed one."""
        fixed, row = list(self.board.fixed[place]), self.minutes[place]
        left = self.board.free[place] - sum(row.values())
        if left > 0 and fixed:
            last = fixed[-1]
            fixed[-1] = MusicBlock(last.kind, last.index, last.minutes + left)
        longest = self.need.days[place].longest
        own = [
            MusicBlock(MusicKind.PASSAGE, passage, minutes)
            for passage, whole in sorted(row.items())
            for minutes in _parted(whole, longest)
        ]
        return (*fixed, *own)


def _parted(minutes: int, longest: int) -> list[int]:
    """Break minutes up into the fewest equal blocks, none over the longest."""
    count = -(-minutes // longest)
    return [minutes // count + (turn < minutes % count) for turn in range(count)]
