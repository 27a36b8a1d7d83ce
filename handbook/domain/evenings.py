"""What a player practices at home each evening: one exercise and two to four passages, in whole minutes.

`site_templates/assets/tonight.js` reckons the same in the browser, where it is known what was
done; a test compares the two. Numbers here are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import field

from handbook.domain.apportion import largest_remainder
from handbook.records import dataclass

_FEWEST, _MOST = 2, 4  # passages of an evening
_MINUTES_EACH = 4  # of a passage, before there is another one
_SHORTEST = 2  # minutes of a passage
_EXERCISE = 5  # one minute in so many is for the exercise
_TICKS_HOLD = 7  # evenings for which who ticks is taken to tick
_NEVER = -1


@dataclass(frozen=True, slots=True)
class Evening:
    """One evening with `minutes` to practice, five at least; places count from 0.

    `since` is the place of the first evening after the last rehearsal, `plays` are the passages
    that the next one plays. `needs` has each passage that is practiced now, with how many
    percent of its goal it still lacks. One exercise of the `exercises` is practiced. On a
    `resting` evening, in a break from school, there are two passages at most.
    """

    minutes: int
    since: int
    needs: Mapping[str, int]
    plays: Collection[str] = frozenset()
    exercises: Sequence[str] = ()
    resting: bool = False


@dataclass(frozen=True, slots=True)
class HomeShare:
    """An exercise or a passage with its minutes; `next` if the next rehearsal plays it, `left` from last evening."""

    id: str
    minutes: int
    exercise: bool = False
    next: bool = False
    left: bool = False


@dataclass(frozen=True, slots=True)
class _LastEvenings:
    """What was practiced when: the place of the last evening of each thing."""

    last: dict[str, int] = field(default_factory=dict)

    def of(self, name: str) -> int:
        return self.last.get(name, _NEVER)


def plan_evenings(
    evenings: Sequence[Evening],
    priorities: Mapping[str, int],
    done: Mapping[int, Collection[str]] | None = None,
) -> tuple[tuple[HomeShare, ...], ...]:
    """Share out the minutes of each evening.

    `priorities` has all passages in their order, 3 being the most urgent. Half of an evening's
    passages (rounded down, one at least) are those that were practiced longest ago, so that each
    comes back within `longest_wait` evenings. The others are those that the next rehearsal
    plays and that were not practiced since the last one, then the most urgent; in either case
    those of last evening go last. Among equals more urgent ones go first, then those that lack
    more, then those listed earlier.

    `done` has what was really practiced, by the place of the evening. Who did anything in the
    seven evenings before and nothing in one has not practiced then; else what was planned counts
    as done. What was left over last evening comes first, though a place is kept for what the next
    rehearsal plays.
    """
    order = {name: (-priority, place) for place, (name, priority) in enumerate(priorities.items())}
    told, state = done or {}, _LastEvenings()
    planned: list[tuple[HomeShare, ...]] = []
    left: frozenset[str] = frozenset()
    for place, evening in enumerate(evenings):
        shares = tuple(_evening(place, evening, order, state, left))
        planned.append(shares)
        names = [share.id for share in shares]
        practiced = _practiced(place, told, names)
        left = frozenset(names) - frozenset(practiced)
        state.last.update(dict.fromkeys(practiced, place))
    return tuple(planned)


def longest_wait(passages: int, minutes: Iterable[int], *, exercise: bool = True) -> int:
    """Give within how many evenings each passage comes back, if evenings have these minutes."""
    fewest = min(_turns(passages, one - _for_exercise(one, exercise=exercise)) for one in minutes)
    return -(-passages // max(1, fewest // 2))


def resting_minutes(minutes: int) -> int:
    """Give the minutes of an evening in a break from school: half, rounded up, but five at least."""
    return max(5, -(-minutes // 2))


def _practiced(
    place: int, told: Mapping[int, Collection[str]], planned: Sequence[str]
) -> Collection[str]:
    if told.get(place):
        return told[place]
    ticks = any(told.get(one) for one in range(max(0, place - _TICKS_HOLD), place))
    return () if ticks else planned


def _evening(
    place: int,
    evening: Evening,
    order: Mapping[str, tuple[int, int]],
    state: _LastEvenings,
    left: Collection[str],
) -> Iterator[HomeShare]:
    first = _for_exercise(evening.minutes, exercise=bool(evening.exercises))
    if evening.exercises:
        first = first if evening.needs else evening.minutes
        name = min(evening.exercises, key=state.of)
        yield HomeShare(name, first, exercise=True, left=name in left)
    if not evening.needs:
        return
    minutes = evening.minutes - first

    def rank(name: str) -> tuple[int, int, int]:
        priority, listed = order[name]
        return priority, -evening.needs[name], listed

    chosen = _chosen(place, evening, state, sorted(evening.needs, key=rank), left, minutes)
    chosen.sort(key=lambda name: (name not in left, name not in evening.plays, *rank(name)))
    weights = [4 + 2 * (name in evening.plays) + evening.needs[name] // 10 for name in chosen]
    shares = largest_remainder(minutes - _SHORTEST * len(chosen), weights)
    for name, share in zip(chosen, shares, strict=True):
        yield HomeShare(name, _SHORTEST + share, next=name in evening.plays, left=name in left)


def _chosen(
    place: int,
    evening: Evening,
    state: _LastEvenings,
    ranked: Sequence[str],
    left: Collection[str],
    minutes: int,
) -> list[str]:
    """Choose the passages of an evening; `ranked` has those that may be, the most urgent first."""
    turns = _turns(len(ranked), minutes)
    if evening.resting:
        turns = min(turns, _FEWEST)
    over = [name for name in ranked if name in left]
    oldest = sorted(ranked, key=lambda name: (state.of(name), name not in evening.plays))
    others = sorted(ranked, key=lambda name: state.of(name) == place - 1)
    pressing = [name for name in others if name in evening.plays and state.of(name) < evening.since]
    if over:
        kept = any(name not in left for name in pressing)
        queue = [*over[: max(1, turns - kept)], *pressing, *oldest]
    else:
        queue = [*oldest[: max(1, turns // 2)], *pressing, *others]
    return list(dict.fromkeys(queue))[:turns]


def _turns(passages: int, minutes: int) -> int:
    """Give how many passages an evening with so many minutes for them has."""
    return min(passages, max(_FEWEST, min(_MOST, minutes // _MINUTES_EACH)))


def _for_exercise(minutes: int, *, exercise: bool) -> int:
    return max(1, minutes // _EXERCISE) if exercise else 0
