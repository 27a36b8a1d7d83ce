"""The laws of a season: what each passage requires, the windows in which it returns, and what is not kept.

The visits of a passage are kept as bits here, one a place of a rehearsal, so that counting is quick.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate

from handbook.domain.season import (
    LEAST_AT_GOAL,
    Law,
    MusicBlock,
    MusicKind,
    SeasonNeed,
    Unmet,
    stage_places,
    visits,
)
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class Requirement:
    """At least `count` visits at the places `first` to `last`, both included; `mask` has their bits."""

    law: Law
    first: int
    last: int
    count: int
    mask: int


class Windows:
    """The windows of Law.RETURN: so many rehearsals with music in a row, in each of which a passage comes.

    A season has about as many windows as rehearsals, the same for every passage. Those
    without a visit are found from the visits themselves, and none is looked at by itself.
    """

    def __init__(self, need: SeasonNeed) -> None:
        opened = [bool(day.minutes) for day in need.days]
        self.length = need.window
        self.open_days = [place for place, is_open in enumerate(opened) if is_open]
        self.last = len(self.open_days) - self.length  # window, from 0; below that there is none
        self.before = [0, *accumulate(opened)]  # rehearsals with music before each place

    def around(self, seen: int, place: int) -> tuple[int, int]:
        """Give the first and the last window that holds a place and no visit at another one.

        The first is after the last where there is none.
        """
        below, above = seen & ((1 << place) - 1), seen >> (place + 1)
        first = max(self.before[place] - self.length + 1, self.before[below.bit_length()])
        last = min(self.before[place + 1] - 1, self.last)
        if above:
            last = min(last, self.before[place + _lowest(above)] - self.length)
        return first, last

    def empty_at(self, seen: int, place: int) -> int:
        """Count the windows that hold a place, and no visit at another one."""
        first, last = self.around(seen, place)
        return max(0, last - first + 1)

    def places(self, first: int, last: int) -> range:
        """Give the places from the begin of one window to the end of a later one."""
        if first > last:
            return range(0)
        return range(self.open_days[first], self.open_days[last + self.length - 1] + 1)

    def count_holding(self, place: int, first: int, last: int) -> int:
        """Count those of windows in a row that hold a place."""
        last = min(last, self.before[place + 1] - 1)
        return max(0, last - max(first, self.before[place] - self.length + 1) + 1)

    def empty_runs(self, seen: int) -> Iterator[tuple[int, int]]:
        """Give the first and last of windows in a row without a visit, in order."""
        first = 0
        while first <= self.last:
            after = seen >> self.open_days[first]
            if not after:
                yield first, self.last
                return
            visit = self.open_days[first] + _lowest(after) - 1
            last = self.before[visit] - self.length
            if last >= first:
                yield first, last
            first = self.before[visit + 1]

    def span(self, window: int) -> tuple[int, int]:
        """Give the first and the last place of a window."""
        return self.open_days[window], self.open_days[window + self.length - 1]


def requirements(need: SeasonNeed) -> tuple[tuple[Requirement, ...], ...]:
    """List what each passage requires beside the windows, the weightiest law first."""
    open_days = [place for place, day in enumerate(need.days) if day.minutes]
    if not open_days:
        return tuple(() for _ in need.passages)
    last_stage = [place for place in open_days if need.days[place].stage == need.days[-1].stage]
    stages = [_required(Law.COVERAGE, places[0], places[-1]) for places in stage_places(need.days)]
    end = len(need.days) - 1
    found: list[tuple[Requirement, ...]] = []
    for passage in need.passages:
        if passage.dropped:
            found.append(())
            continue
        settled = [_required(Law.SETTLED, 0, passage.settled, passage.visits)]
        if last_stage and last_stage[0] <= passage.settled:
            settled.append(_required(Law.SETTLED, last_stage[0], passage.settled))
        settled += [_required(Law.SETTLED, 0, place, count) for place, count in passage.due]
        goal = _required(Law.GOAL, 0, end, passage.visits + LEAST_AT_GOAL - 1)
        after = _required(Law.GOAL, passage.settled + 1, end, LEAST_AT_GOAL - 1)
        found.append((*stages, goal, after, *settled))
    return tuple(found)


def unmet_laws(need: SeasonNeed, blocks: Sequence[Sequence[MusicBlock]]) -> tuple[Unmet, ...]:
    """List every law of visits that the blocks do not keep, the weightiest first."""
    found, windows = [*_uncovered(need, blocks)], Windows(need)
    for passage, (places, wanted) in enumerate(
        zip(visits(need, blocks), requirements(need), strict=True)
    ):
        seen = sum(1 << place for place in places)
        for one in wanted:
            lack = one.count - (seen & one.mask).bit_count()
            if lack > 0:
                found.append(Unmet(one.law, lack, passage=passage, first=one.first, last=one.last))
        if not need.passages[passage].dropped:
            for run_first, run_last in windows.empty_runs(seen):
                for window in range(run_first, run_last + 1):
                    first, last = windows.span(window)
                    found.append(Unmet(Law.RETURN, 1, passage=passage, first=first, last=last))
    return tuple(sorted(found, key=lambda unmet: unmet.law))


def _required(law: Law, first: int, last: int, count: int = 1) -> Requirement:
    mask = (1 << (last + 1)) - (1 << first) if last >= first else 0
    return Requirement(law, first, last, count, mask)


def _uncovered(need: SeasonNeed, blocks: Sequence[Sequence[MusicBlock]]) -> Iterator[Unmet]:
    for places in stage_places(need.days):
        covered = {
            gap
            for place in places
            for block in blocks[place]
            if block.kind is not MusicKind.PASSAGE
            for gap in need.stretches[block.index].gaps
        }
        gone = {gap for stretch in need.stretches if stretch.dropped for gap in stretch.gaps}
        for gap in range(need.gaps):
            if gap not in covered | gone:
                yield Unmet(Law.COVERAGE, 1, gap=gap, first=places[0], last=places[-1])


def _lowest(bits: int) -> int:
    """Give the place of the lowest bit, from 1."""
    return (bits & -bits).bit_length()
