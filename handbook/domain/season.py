"""A season: which music comes in which rehearsal, and the laws that a sane one keeps.

A visit of a passage is a rehearsal in which it is played: in a block of its own, in a join
of neighbors that holds it, or in a run of its piece. All laws speak of visits, whole
minutes and places of rehearsals, from 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field
from enum import IntEnum, StrEnum
from math import log1p

from handbook.records import dataclass

LEAST_AT_GOAL = 2  # rehearsals in which each passage is played at its goal


class MusicKind(StrEnum):
    """What a block of music plays."""

    PASSAGE = "passage"
    JOIN = "join"  # two neighbors and what lies between them, or from an end of the piece
    RUN = "run"  # a whole piece


class Law(IntEnum):
    """What a season keeps; where the hours do not suffice the last of them gives way first.

    Sums of minutes, bounds of blocks and the leap from visit to visit never give way.
    """

    COVERAGE = 1  # every measure is played in each stage
    GOAL = 2  # enough visits to climb to the goal, and a second one at it
    SETTLED = 3  # at the goal by its date
    RETURN = 4  # a visit in every window of rehearsals


@dataclass(frozen=True, slots=True)
class MusicBlock:
    """Whole minutes of music; `index` is that of the passage, or of the stretch of a join or run."""

    kind: MusicKind
    index: int
    minutes: int


@dataclass(frozen=True, slots=True)
class SeasonDay:
    """One rehearsal's music: whole `minutes`, and what the director has ordered for it.

    `runs` are stretches with their minutes, played in that order, first; `passages` have blocks, of stated
    minutes or (None) of whatever falls to them. `held` are the blocks of a rehearsal that
    has been, and stay as they were. `shortest` and `longest` bound a passage's block.
    """

    minutes: int
    stage: int
    shortest: int
    longest: int
    runs: tuple[tuple[int, int], ...] = ()
    passages: tuple[tuple[int, int | None], ...] = ()
    held: tuple[MusicBlock, ...] | None = None


@dataclass(frozen=True, slots=True)
class PassageNeed:
    """What a passage needs of the season.

    `visits` are those of the steepest sane climb, first and goal included; at the place
    `settled`, or before, it is at its goal; `due` pairs other places with the visits up to there
    that a tempo on the way needs. `weight` is its urgency: minutes fall to it in
    proportion. One that is `dropped` keeps what it had in held rehearsals, and needs nothing.
    """

    visits: int
    settled: int
    weight: int
    dropped: bool = False
    due: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Stretch:
    """A join or a run: the passages it holds, the gaps between passages that it covers.

    `minutes` has one whole number a stage: what it takes at that stage's tempo. One of a
    piece that is `dropped` comes no more, and its gaps need no cover.
    """

    kind: MusicKind
    piece: int
    passages: tuple[int, ...]
    gaps: frozenset[int]
    minutes: tuple[int, ...]
    dropped: bool = False


@dataclass(frozen=True, slots=True)
class Mix:
    """Shares of a stage's music minutes: passages, joins and runs."""

    passages: int
    joins: int
    runs: int


@dataclass(frozen=True, slots=True)
class Unmet:
    """A law that a passage (or, for COVERAGE alone, a gap) does not keep: `lack` visits too few."""

    law: Law
    lack: int
    passage: int | None = None
    gap: int | None = None
    first: int = 0
    last: int = 0


@dataclass(frozen=True, slots=True)
class SeasonNeed:
    """All that a season is planned from; `window` is the k of Law.RETURN, in rehearsals with music."""

    days: tuple[SeasonDay, ...]
    passages: tuple[PassageNeed, ...]
    stretches: tuple[Stretch, ...]
    mixes: tuple[Mix, ...]
    window: int
    gaps: int = 0


@dataclass(frozen=True, slots=True)
class Season:
    """The planned blocks of each rehearsal, and the laws that gave way."""

    blocks: tuple[tuple[MusicBlock, ...], ...]
    unmet: tuple[Unmet, ...] = field(default=())


def stage_places(days: Sequence[SeasonDay]) -> list[list[int]]:
    """List, for each stage that has music, the places of its rehearsals that have some."""
    by_stage: dict[int, list[int]] = {}
    for place, day in enumerate(days):
        if day.minutes:
            by_stage.setdefault(day.stage, []).append(place)
    return list(by_stage.values())


def visits(need: SeasonNeed, blocks: Sequence[Sequence[MusicBlock]]) -> tuple[tuple[int, ...], ...]:
    """Give the places at which each passage is played, by itself, in a join or in a run."""
    places: list[list[int]] = [[] for _ in need.passages]
    for place, row in enumerate(blocks):
        for passage in sorted({one for block in row for one in held_by(need.stretches, block)}):
            places[passage].append(place)
    return tuple(map(tuple, places))


def held_by(stretches: Sequence[Stretch], block: MusicBlock) -> tuple[int, ...]:
    """Give the passages that a block plays."""
    if block.kind is MusicKind.PASSAGE:
        return (block.index,)
    return stretches[block.index].passages


def worth(need: SeasonNeed, blocks: Sequence[Sequence[MusicBlock]]) -> float:
    """Give what the minutes of passages are worth: the objective, once the laws are kept.

    The sum over passages and stages of weight x ln(1 + useful minutes): a further minute is
    worth the more the more urgent the passage is, and the less the more it has had in the
    stage, so that the best shares go by urgency. The first minute of a passage's block
    finds the place and is not useful, so that a few blocks are better than many. Our own
    choice.
    """
    useful: dict[tuple[int, int], int] = {}
    for day, row in zip(need.days, blocks, strict=True):
        own: dict[int, int] = {}
        for block in row:
            if block.kind is MusicKind.PASSAGE:
                own[block.index] = own.get(block.index, 0) + block.minutes
        for passage, minutes in own.items():
            key = (passage, day.stage)
            useful[key] = useful.get(key, 0) + minutes - 1
    return sum(
        need.passages[passage].weight * log1p(minutes) for (passage, _), minutes in useful.items()
    )


def block_bound(need: SeasonNeed, place: int) -> int:
    """Give the most minutes of one passage on a day: its longest block, unless too few could fill it.

    Where all passages together cannot fill the day with one block each, they come in
    several blocks, none over the longest.
    """
    day = need.days[place]
    count = max(1, sum(not passage.dropped for passage in need.passages))
    return day.longest * max(1, -(-day.minutes // (day.longest * count)))
