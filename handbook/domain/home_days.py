"""The evenings of one band in a cycle, with the dates that they follow from."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta

from handbook.domain.evenings import Evening, HomeShare, plan_evenings, resting_minutes
from handbook.records import dataclass

_ONE_DAY = timedelta(days=1)
_BREAK = 4  # days in a row without school: longer than a long weekend (common practice, no source)


@dataclass(frozen=True, slots=True)
class Meet:
    """A day on which the band rehearses or plays a concert: what is played, and practiced before it.

    `minutes` are those of each evening before it, 0 for none; `exercises` are those that may be
    practiced then.
    """

    day: date
    minutes: int
    plays: frozenset[str]
    exercises: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HomePassage:
    """A passage that is practiced before meets from the day `opens` on, until the day `closes`.

    `lacks` pairs Mondays, in order, with the percent of the goal that the week's target lacks.
    """

    id: str
    priority: int
    opens: date
    closes: date
    lacks: tuple[tuple[date, int], ...]


@dataclass(frozen=True, slots=True)
class HomeDays:
    """All from which a band's evenings follow; meets are in order, one a day, the last ends the cycle.

    There is no evening on the days `off`; on `resting` ones little is practiced.
    """

    meets: tuple[Meet, ...]
    passages: tuple[HomePassage, ...]
    off: frozenset[date] = frozenset()
    resting: frozenset[date] = frozenset()


@dataclass(frozen=True, slots=True)
class HomeEvening:
    """What one player practices on an evening; `meet` is the place of the meet that it is before."""

    day: date
    minutes: int
    meet: int
    resting: bool = False
    shares: tuple[HomeShare, ...] = ()


def home_evenings(
    days: HomeDays,
    passages: Collection[str],
    exercises: Collection[str],
    done: Mapping[date, Collection[str]] | None = None,
) -> tuple[HomeEvening, ...]:
    """Plan the evenings of a player who has these passages and exercises.

    From the day of the first meet to the day before the last one; without those that have no
    minutes, or nothing to practice. `done` has what was really practiced; see `plan_evenings`.
    """
    own = [one for one in days.passages if one.id in passages]
    found: list[tuple[HomeEvening, Evening]] = []
    meet_before, since = 0, 0
    for day, place in _evening_days(days):
        if place != meet_before:
            meet_before, since = place, len(found)
        meet = days.meets[place]
        needs = {one.id: _lack(one, day) for one in _there(own, meet, day)}
        may = [one for one in meet.exercises if one in exercises]
        if not needs and not may:
            continue
        resting = day in days.resting
        minutes = resting_minutes(meet.minutes) if resting else meet.minutes
        found.append(
            (
                HomeEvening(day, minutes, place, resting),
                Evening(minutes, since, needs, meet.plays, may, resting),
            )
        )
    places = {evening.day: place for place, (evening, _) in enumerate(found)}
    told = {places[day]: names for day, names in (done or {}).items() if day in places}
    planned = plan_evenings(
        [evening for _, evening in found], {one.id: one.priority for one in own}, told
    )
    return tuple(
        HomeEvening(one.day, one.minutes, one.meet, one.resting, shares)
        for (one, _), shares in zip(found, planned, strict=True)
    )


def _there(passages: Iterable[HomePassage], meet: Meet, day: date) -> Iterator[HomePassage]:
    """Give the passages that are practiced on the evening of a day, before a meet."""
    return (one for one in passages if one.opens <= meet.day and day < one.closes)


def _evening_days(days: HomeDays) -> Iterator[tuple[date, int]]:
    """Give each evening that has minutes, with the place of the next meet."""
    for place in range(1, len(days.meets)):
        before, meet = days.meets[place - 1], days.meets[place]
        if meet.minutes:
            for n in range((meet.day - before.day).days):
                day = before.day + n * _ONE_DAY
                if day not in days.off:
                    yield day, place


def _lack(passage: HomePassage, day: date) -> int:
    place = bisect_right(passage.lacks, day, key=lambda week: week[0]) - 1
    return passage.lacks[max(0, place)][1]


def breaks(without_school: Iterable[date]) -> frozenset[date]:
    """Find the days of breaks among the days without school, given in order.

    A break has four days in a row or more; its last day is the eve of school, and no part of it.
    """
    found: set[date] = set()
    run: list[date] = []
    for day in (*without_school, date.max):
        if run and day - run[-1] != _ONE_DAY:
            found.update(run[:-1] if len(run) >= _BREAK else ())
            run = []
        run.append(day)
    return frozenset(found)


def first_and_last(days: Sequence[date]) -> tuple[tuple[date, date], ...]:
    """Put days that follow one another into spans, both ends included."""
    spans: list[tuple[date, date]] = []
    for day in days:
        if spans and day - spans[-1][1] == _ONE_DAY:
            spans[-1] = (spans[-1][0], day)
        else:
            spans.append((day, day))
    return tuple(spans)
