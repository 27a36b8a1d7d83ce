"""The season while it is planned: what each rehearsal holds, and what its passages still lack."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.domain.season import Law, MusicBlock, MusicKind, SeasonNeed, block_bound
from handbook.domain.season_laws import Windows, requirements

_WEIGHT: dict[Law, int] = {law: 1000 ** (max(Law) - law) for law in Law}
_EACH_WINDOW = _WEIGHT[Law.RETURN]

_Wanted = tuple[int, int, int, int, int]
"""A requirement: its law's weight, the visits that count as bits, how many of them, first, last."""


_Lack = tuple[list[tuple[int, int, int]], list[tuple[int, int]]]
"""Spans with the visits they lack; and where windows in a row without a visit end, first and last."""


class _Laws:
    """What each passage requires, and which of it each place counts for; whether it has to return."""

    def __init__(self, need: SeasonNeed) -> None:
        self.all: list[list[_Wanted]] = [
            [(_WEIGHT[one.law], one.mask, one.count, one.first, one.last) for one in wanted]
            for wanted in requirements(need)
        ]
        self.at = [
            [[one for one in wanted if one[1] >> place & 1] for place in range(len(need.days))]
            for wanted in self.all
        ]
        self.windows = Windows(need)
        self.returns = [not passage.dropped for passage in need.passages]


class Board:
    """The season while it is planned: `chosen` passages a day, and what each has free for them.

    Visits are kept as bits, a place of a rehearsal each, so that counting is quick.
    """

    def __init__(self, need: SeasonNeed, like: Board | None = None) -> None:
        """`like` is a board of the same need, which spares reckoning its laws again."""
        self.need = need
        count = len(need.passages)
        self.laws: _Laws = like.laws if like else _Laws(need)
        gone = {place for place, passage in enumerate(need.passages) if passage.dropped}
        self.playing = count - len(gone)
        self.closed = [set(gone) for _ in need.days]  # passages that have no block to choose
        self.bound: list[int] = (
            like.bound if like else [block_bound(need, place) for place in range(len(need.days))]
        )
        self.placed: tuple[tuple[int, tuple[int, ...], int | None], ...] = ()
        self.fixed: list[list[MusicBlock]] = [[] for _ in need.days]
        self.chosen: list[set[int]] = [set() for _ in need.days]
        self.given = [0] * count  # visits by stretches and by what has been
        self.own = [0] * count  # visits in blocks of the passage's own
        self.free = [0] * len(need.days)
        self.ordered: list[set[int]] = [set() for _ in need.days]
        for place, day in enumerate(need.days):
            self._order(place, day.minutes if day.held is None else 0)

    def _order(self, place: int, free: int) -> None:
        need = self.need
        day = need.days[place]
        for block in day.held or ():
            self._fix(place, block)
        if day.held is None:
            for index, stated in day.runs:
                minutes = min(free, stated)
                if minutes:
                    self._fix(place, MusicBlock(need.stretches[index].kind, index, minutes))
                free -= minutes
            for passage, wished in day.passages:
                if wished is None:
                    continue
                minutes = min(free, wished)
                if minutes:
                    self._fix(place, MusicBlock(MusicKind.PASSAGE, passage, minutes))
                free -= minutes
        self.free[place] = free
        for passage, wished in day.passages if day.held is None else ():
            if wished is None and len(self.chosen[place]) < self.most(place):
                self.ordered[place].add(passage)
                self.choose(place, passage)

    def _fix(self, place: int, block: MusicBlock) -> None:
        self.fixed[place].append(block)
        held = (
            (block.index,)
            if block.kind is MusicKind.PASSAGE
            else self.need.stretches[block.index].passages
        )
        if block.kind is MusicKind.PASSAGE:
            self.closed[place].add(block.index)
        for passage in held:
            self.given[passage] |= 1 << place

    def most(self, place: int) -> int:
        """Give the most blocks of passages that a day holds, none under the shortest."""
        return min(self.playing, self.free[place] // self.need.days[place].shortest)

    def least(self, place: int) -> int:
        """Give the fewest that can fill a day."""
        return min(self.most(place), -(-self.free[place] // self.bound[place]))

    def choose(self, place: int, passage: int) -> None:
        """Give a passage a block of its own."""
        self.chosen[place].add(passage)
        self.own[passage] |= 1 << place

    def allows(self, place: int, passage: int) -> bool:
        """Whether a passage may have a block on that day beside what is fixed there."""
        return passage not in self.closed[place]

    def drop(self, place: int, passage: int) -> None:
        """Take it away."""
        self.chosen[place].discard(passage)
        self.own[passage] &= ~(1 << place)

    def place_stretch(self, index: int, places: Sequence[int]) -> int | None:
        """Put a join or run on the first of the places that has room; None if none has."""
        place = next((place for place in places if self._fits(index, place)), None)
        if place is None:
            return None
        stretch, day = self.need.stretches[index], self.need.days[place]
        minutes = stretch.minutes[day.stage]
        left = self.free[place] - minutes
        extra = left if left < day.shortest else 0
        self._fix(place, MusicBlock(stretch.kind, index, minutes + extra))
        self.free[place] = left - extra
        return place

    def _fits(self, index: int, place: int) -> bool:
        stretch = self.need.stretches[index]
        room = self.free[place] - self._held_back(place)
        return room >= stretch.minutes[self.need.days[place].stage] and not any(
            block.index == index and block.kind is stretch.kind for block in self.fixed[place]
        )

    def _held_back(self, place: int) -> int:
        return len(self.ordered[place]) * self.need.days[place].shortest

    # Visits

    def place_visits(self) -> None:
        """Go through the rehearsals in order: what is due comes, then what is due next fills up."""
        lacks = [self._lack(passage) for passage in range(len(self.need.passages))]
        weights = [-passage.weight for passage in self.need.passages]
        for place in range(len(self.need.days)):
            most, least = self.most(place), self.least(place)
            if not most:
                continue
            due = sorted(
                (self._due(passage, place, lack), weights[passage], passage)
                for passage, lack in enumerate(lacks)
                if self.allows(place, passage) and passage not in self.chosen[place]
            )
            for when, _, passage in due:
                taken = len(self.chosen[place])
                if taken >= most or (when > place and taken >= least):
                    break
                self.choose(place, passage)
                lacks[passage] = self._lack(passage)

    def _lack(self, passage: int) -> _Lack:
        """Find what a passage still lacks."""
        seen, windows = self.seen(passage), self.laws.windows
        spans = [
            (first, last, lack)
            for _, mask, count, first, last in self.laws.all[passage]
            if (lack := count - (seen & mask).bit_count()) > 0
        ]
        runs = windows.empty_runs(seen) if self.laws.returns[passage] else ()
        return spans, [(windows.span(first)[1], windows.span(last)[1]) for first, last in runs]

    def _due(self, passage: int, place: int, lacks: _Lack) -> int:
        """Give the place by which the next visit of a passage has to come, at an even pace."""
        due = len(self.need.days)
        for first, last, lack in lacks[0]:
            if place <= last and first < due:
                begins = max(place, first)
                due = min(due, begins + (last - begins) // lack if lack > 1 else last)
        for first_end, last_end in lacks[1]:
            if place <= last_end:
                due = min(due, max(place, first_end))
                break
        return max(due, place + 1) if self.given[passage] >> place & 1 else due

    # Mending

    def lacks(self, passage: int) -> int:
        """Weigh the visits that a passage lacks: any law outweighs all that give way before it."""
        seen = self.seen(passage)
        lack = sum(
            weight * (count - have)
            for weight, mask, count, _, _ in self.laws.all[passage]
            if (have := (seen & mask).bit_count()) < count
        )
        if self.laws.returns[passage]:
            for first, last in self.laws.windows.empty_runs(seen):
                lack += _EACH_WINDOW * (last - first + 1)
        return lack

    def comes(self, passage: int, place: int) -> bool:
        """Whether a rehearsal plays a passage, in whatever block."""
        return bool(self.seen(passage) >> place & 1)

    def seen(self, passage: int) -> int:
        """Give the visits of a passage as bits, in whatever block."""
        return self.own[passage] | self.given[passage]

    def gains(self, passage: int) -> list[int]:
        """How much a visit at each place would mend, if there is none."""
        seen, windows = self.seen(passage), self.laws.windows
        gains = [0] * len(self.need.days)
        for weight, mask, count, first, last in self.laws.all[passage]:
            if (seen & mask).bit_count() < count:
                for place in range(first, last + 1):
                    gains[place] += weight
        for run in windows.empty_runs(seen) if self.laws.returns[passage] else ():
            for place in windows.places(*run):
                gains[place] += _EACH_WINDOW * windows.count_holding(place, *run)
        return gains

    def loss(self, passage: int, place: int) -> int:
        """How much is broken if a passage gives its block up."""
        if self.given[passage] >> place & 1:
            return 0
        seen = self.seen(passage)
        lost = 0
        for weight, mask, count, _, _ in self.laws.at[passage][place]:
            if (seen & mask).bit_count() <= count:
                lost += weight
        if self.laws.returns[passage]:
            lost += _EACH_WINDOW * self.laws.windows.empty_at(seen, place)
        return lost

    def move_losses(self, passage: int, place: int, gains: Sequence[int]) -> list[int]:
        """How much is broken if a passage gives its block up for one at each other place.

        `gains` are those of visits there. What a visit there keeps, since both places count
        for it, is not broken.
        """
        loss = self.loss(passage, place)
        if self.given[passage] >> place & 1:
            return [loss - gain for gain in gains]
        seen, windows = self.seen(passage), self.laws.windows
        losses = [loss - gain for gain in gains]
        for weight, mask, count, first, last in self.laws.at[passage][place]:
            if (seen & mask).bit_count() == count:
                for elsewhere in range(first, last + 1):
                    losses[elsewhere] -= weight
        if self.laws.returns[passage]:
            around = windows.around(seen, place)
            for elsewhere in windows.places(*around):
                losses[elsewhere] -= _EACH_WINDOW * windows.count_holding(elsewhere, *around)
        return losses

    @property
    def broken(self) -> int:
        """What all passages lack, weighed."""
        return sum(map(self.lacks, range(len(self.need.passages))))

    @property
    def unplaced(self) -> int:
        """How many joins and runs have found no room."""
        return sum(now is None for _, _, now in self.placed)

    def thin(self) -> None:
        """Take out blocks that no law needs, where the rest can fill the day."""
        for place in range(len(self.need.days)):
            for other in sorted(
                self.chosen[place] - self.ordered[place],
                key=lambda one: (self.need.passages[one].weight, one),
            ):
                if len(self.chosen[place]) <= self.least(place):
                    break
                if not self.loss(other, place):
                    self.drop(place, other)
