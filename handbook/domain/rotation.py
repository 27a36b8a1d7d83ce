"""Which strands of the fundamentals come in which rehearsal, with which exercise and for how long."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import lcm

from handbook.domain.apportion import within_bounds
from handbook.domain.fundamentals import LeveledExercise, exercises_due


@dataclass(frozen=True, slots=True)
class StrandShare:
    """A strand, its weight in the rotation, and its exercises from level `start` on.

    Without exercises its minutes are free. Raises ValueError for a weight below 1.
    """

    id: str
    weight: int
    exercises: tuple[LeveledExercise, ...] = ()
    start: int = 1

    def __post_init__(self) -> None:
        if self.weight < 1:
            raise ValueError(f"the weight of {self.id} is below 1")


@dataclass(frozen=True, slots=True)
class SharedTime:
    """Whole minutes of one rehearsal for fundamentals and for music, and the bounds of a block.

    `exact` minutes of fundamentals were set by the director: music neither lends nor takes,
    as long as the upper bounds allow it.
    """

    fundamentals: int
    music: int
    shortest: int
    longest: int
    exact: bool = False

    @property
    def attainable(self) -> int:
        """The most that fundamentals can have: their own, and half of the music's."""
        return self.fundamentals + (0 if self.exact else self.music // 2)


@dataclass(frozen=True, slots=True)
class StrandTurn:
    """Whole minutes on one strand; `exercise` is the id of the one due then, None for none."""

    strand: str
    exercise: str | None
    minutes: int


@dataclass(frozen=True, slots=True)
class FundamentalsDay:
    """A rehearsal's fundamentals in order, and the whole minutes left for music.

    `unfilled` minutes have neither: every exercise is at its upper bound and there is no music.
    """

    turns: tuple[StrandTurn, ...]
    music: int
    unfilled: int = 0


def strand_turns(
    strands: Sequence[StrandShare], days: Sequence[SharedTime], *, has_music: bool
) -> tuple[FundamentalsDay, ...]:
    """Choose the strands, exercises and minutes of each rehearsal's fundamentals.

    The strand furthest behind its weight comes first (least of turns had plus a half,
    over the weight; a tie in the order given), then the next that fits, so that none
    starves. An exercise has its stated minutes; those without share what is left, each
    between the day's shortest and longest block and near midway. Within a rehearsal the
    strands stand in the order given.

    Minutes that no due exercise fits go to music, and are owed to the fundamentals of the
    next rehearsals (music lends at most half of its own, up to one longest block); an
    exercise that is longer than even so there is time for has what is left. Where
    music has no block's worth to take them, this gives way, in order: a stated number of
    minutes is stretched, up to the longest block; strands come again in a second round;
    a block is shorter than stated or than the shortest. `most_minutes` of an exercise
    and the longest block never give way: a strand with such an exercise has one turn a
    rehearsal, and what is left goes to music, or stays unfilled where there is none.
    A later rehearsal never changes an earlier one. Our own rules.
    """
    whole = lcm(*(strand.weight for strand in strands))
    courses = [
        _Course(place, strand, whole // strand.weight) for place, strand in enumerate(strands)
    ]
    owed = 0
    found: list[FundamentalsDay] = []
    for day in days:
        lent = _lent(day, owed)
        time = day.fundamentals + lent
        blocks = _fitting(courses, time, day)
        kept = day.music - lent
        rest = time - sum(block.minutes for block in blocks)
        if rest and (day.exact or not has_music or kept + rest < day.shortest):
            blocks = _forced(courses, blocks, time, day)
            rest = time - sum(block.minutes for block in blocks)
        if day.fundamentals and not day.exact:
            owed = max(0, min(day.longest, owed + rest - lent))
        for block in blocks:
            block.course.given += 1
        ordered = sorted(blocks, key=lambda block: (block.round, block.course.place))
        found.append(
            FundamentalsDay(
                tuple(block.turn() for block in ordered),
                kept + rest if has_music else 0,
                0 if has_music else rest,
            )
        )
    return tuple(found)


@dataclass(slots=True)
class _Course:
    """A strand on its way through the cycle: turns had, and the exercises seen so far.

    A turn counts for `length`, the longer the lighter the strand: a multiple of 1 / weight.
    """

    place: int
    strand: StrandShare
    length: int
    given: int = 0
    seen: list[LeveledExercise] = field(default_factory=list)
    ahead: Iterator[LeveledExercise] | None = None

    @property
    def claim(self) -> int:
        """The least is due first (the divisors of Webster's method, so that turns keep the weights)."""
        return (2 * self.given + 1) * self.length

    def exercise(self, turn: int) -> LeveledExercise | None:
        """Give the exercise of a turn, from 0."""
        if not self.strand.exercises:
            return None
        if self.ahead is None:
            self.ahead = exercises_due(self.strand.exercises, self.strand.start)
        while len(self.seen) <= turn:
            self.seen.append(next(self.ahead))
        return self.seen[turn]


@dataclass(slots=True)
class _Block:
    """A strand's turn in the making, with its lowest and highest minutes."""

    course: _Course
    exercise: LeveledExercise | None
    round: int
    stated: int | None
    low: int
    high: int
    minutes: int = 0

    @property
    def twice_midway(self) -> int:
        return self.low + self.high

    def turn(self) -> StrandTurn:
        exercise = self.exercise.id if self.exercise else None
        return StrandTurn(self.course.strand.id, exercise, self.minutes)


def _block(course: _Course, day: SharedTime, round_: int = 0) -> _Block:
    exercise = course.exercise(course.given + round_)
    most = exercise.most_minutes if exercise else None
    high = min(day.longest, most) if most else day.longest
    stated = min(exercise.minutes, high) if exercise and exercise.minutes else None
    if stated is not None and stated > day.attainable:
        high, stated = stated, None
    low = stated or min(day.shortest, high)
    return _Block(course, exercise, round_, stated, low, high)


def _lent(day: SharedTime, owed: int) -> int:
    lent = min(owed, day.music // 2) if day.fundamentals and not day.exact else 0
    return lent if day.music - lent >= day.shortest else 0


def _fitting(courses: Sequence[_Course], time: int, day: SharedTime) -> list[_Block]:
    """Take the strands furthest behind whose exercises fit, and give them their minutes."""
    left = time
    blocks: list[_Block] = []
    free: list[_Block] = []
    for course in sorted(courses, key=lambda course: course.claim):
        block = _block(course, day)
        twice_wanted = sum(one.twice_midway for one in free)
        if block.stated is not None:
            if 2 * (left - block.stated) >= twice_wanted:
                block.minutes = block.stated
                left -= block.stated
                blocks.append(block)
        elif left >= block.low + sum(one.low for one in free) and (
            not free
            or left > sum(one.high for one in free)
            or 4 * left >= 2 * twice_wanted + block.twice_midway
        ):
            free.append(block)
            blocks.append(block)
    _share(free, left)
    return blocks


def _forced(
    courses: Sequence[_Course], blocks: list[_Block], time: int, day: SharedTime
) -> list[_Block]:
    """Fill the time where no music can take the rest, as far as the upper bounds allow."""
    blocks = list(blocks)
    while sum(block.high for block in blocks) < time:
        more = _again(courses, blocks, day)
        if more is None:
            break
        blocks.append(more)
    if blocks:  # only the last one can be too much, since the others left time
        others = sum(block.low for block in blocks[:-1])
        blocks[-1].low = min(blocks[-1].low, time - others)
    _share(blocks, time)
    return blocks


def _again(courses: Sequence[_Course], blocks: Sequence[_Block], day: SharedTime) -> _Block | None:
    """Give one more turn: to a strand not yet there today, else a further one where no bound forbids."""
    for course in sorted(courses, key=lambda course: course.claim):
        if all(block.course is not course for block in blocks):
            return _block(course, day)
    rounds = {course.place: sum(block.course is course for block in blocks) for course in courses}
    for course in sorted(courses, key=lambda course: (rounds[course.place], course.place)):
        turns = [course.exercise(course.given + at) for at in range(rounds[course.place] + 1)]
        if not any(exercise and exercise.most_minutes for exercise in turns):
            return _block(course, day, rounds[course.place])
    return None


def _share(blocks: Sequence[_Block], minutes: int) -> None:
    """Share minutes within the bounds: stated ones in proportion, the others alike."""
    if not blocks:
        return
    total = min(minutes, sum(block.high for block in blocks))
    weights = [2 * block.stated if block.stated else block.twice_midway for block in blocks]
    bounds = [(block.low, block.high) for block in blocks]
    for block, share in zip(blocks, within_bounds(total, weights, bounds), strict=True):
        block.minutes = share
