"""Mends of a season whose hours do not suffice: single changes, each planned anew to see what it does."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from enum import StrEnum

from handbook.domain.season import Law, Season, SeasonNeed
from handbook.domain.season_planner import broken_at_first
from handbook.records import dataclass

MOST_TRIES = 30  # plans of one season; fewer where one takes long
_WORK = 4000  # rehearsals times passages, over all tries


class MendKind(StrEnum):
    """What is changed, the cheapest first: our own order."""

    WINDOW = "window"  # passages come back so many rehearsals later: only where nothing else lacks
    MUSIC = "music"  # so many more minutes of music in each rehearsal, from its fundamentals
    REHEARSALS = "rehearsals"  # so many more rehearsals of the usual length in a stage
    GOALS = "goals"  # lower goals, so that visits are saved: 1 a few, 3 all that lack
    LEAVE_OUT = "leave out"  # so many passages less, the least urgent first
    MIX = "mix"  # joins and runs have half of their share (1) or none (2)


LARGEST = {
    MendKind.WINDOW: 4,
    MendKind.MUSIC: 10,
    MendKind.REHEARSALS: 2,
    MendKind.GOALS: 3,
    MendKind.LEAVE_OUT: 3,
    MendKind.MIX: 2,
}


@dataclass(frozen=True, slots=True)
class Change:
    """A single change of some size, at least 1; more REHEARSALS are those of a stage."""

    kind: MendKind
    size: int
    stage: int | None = None


@dataclass(frozen=True, slots=True)
class Mend:
    """A change that mends, of the smallest size found, and laws that are surely kept with it.

    These are all laws, or the weightiest ones up to the first that still gives way.
    """

    change: Change
    keeps: frozenset[Law]


Changed = Callable[[Change], SeasonNeed | None]
"""What a season needs after a change; None where the change cannot be made."""


def season_mends(need: SeasonNeed, season: Season, changed: Changed) -> tuple[Mend, ...]:
    """Find the smallest single changes that restore laws, in order of what they cost.

    A change counts if it breaks no law that was kept, and restores the weightiest that
    was not; of the sizes that restore as many laws as the largest does, the smallest is
    sought by halving. Trials leave out what makes a failing plan slow: what they promise
    holds in `plan_season` too, and now and then a smaller change would do. A season of
    many rehearsals and passages has fewer tries, or none. Nothing is tried where no law
    gave way.
    """
    if not season.unmet:
        return ()
    search = _Search(need, season, changed)
    return tuple(mend for kind, stage in _kinds(need, season) for mend in search.mends(kind, stage))


def tries_for(need: SeasonNeed) -> int:
    """Say how many plans may be tried for a season."""
    return min(MOST_TRIES, _WORK // max(1, len(need.days) * len(need.passages)))


def _kinds(need: SeasonNeed, season: Season) -> Iterator[tuple[MendKind, int | None]]:
    for kind in MendKind:
        if kind is MendKind.REHEARSALS:
            yield from ((kind, stage) for stage in _stages_that_lack(need, season))
        elif kind is not MendKind.WINDOW or _broken(season) == {Law.RETURN}:
            yield kind, None


def _stages_that_lack(need: SeasonNeed, season: Season) -> Sequence[int]:
    """Give at most two stages: those in which the time of the weightiest unmet laws ends."""
    stages = dict.fromkeys(need.days[unmet.last].stage for unmet in season.unmet)
    return list(stages)[:2]


def _broken(season: Season) -> frozenset[Law]:
    return frozenset(unmet.law for unmet in season.unmet)


def _surely_kept(broken: frozenset[Law]) -> frozenset[Law]:
    """Give the laws before the first broken one: a longer search gives up lighter ones for these."""
    return frozenset(law for law in Law if all(law < other for other in broken))


class _Search:
    """The plans tried for one season, each once, as far as its tries go."""

    def __init__(self, need: SeasonNeed, season: Season, changed: Changed) -> None:
        self.changed = changed
        self.broken = _broken(season)
        self.kept = _surely_kept(self.broken)
        self.left = tries_for(need)
        self.tried: dict[Change, frozenset[Law]] = {}

    def mends(self, kind: MendKind, stage: int | None) -> Iterator[Mend]:
        """Give the mend of a kind, if there is one."""
        low, high = 1, LARGEST[kind]
        wanted = self._keeps(Change(kind, high, stage))
        while not wanted > self.kept and high > 1:  # a large change may be more than there is
            high = high // 2
            wanted = self._keeps(Change(kind, high, stage))
        if not wanted > self.kept:
            return
        best = Change(kind, high, stage)
        while low < high:
            middle = (low + high) // 2
            change = Change(kind, middle, stage)
            if self._keeps(change) >= wanted:
                best, high = change, middle
            else:
                low = middle + 1
        yield Mend(best, self.tried[best])

    def _keeps(self, change: Change) -> frozenset[Law]:
        """Give the laws that are kept with a change; none where it breaks others or cannot be tried."""
        if change in self.tried:
            return self.tried[change]
        if self.left <= 0:
            return frozenset()
        need = self.changed(change)
        if need is None:
            self.tried[change] = frozenset()
            return frozenset()
        self.left -= 1
        broken = broken_at_first(need)
        self.tried[change] = _surely_kept(broken) if broken <= self.broken else frozenset()
        return self.tried[change]
