"""What was known of a cycle when: a lost day changes the days ahead of it, never those behind."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import TypeVar

from handbook.domain.meetings import RehearsalKind
from handbook.domain.rehearsals import RehearsalCalendar
from handbook.plan.dates import DatedCycle
from handbook.plan.events_model import AwayRow
from handbook.plan.players import Players
from handbook.plan.school_days import YearEntry, days_of, first_day
from handbook.records import dataclass
from handbook.schema.cycle import Cancellation, Cycle, ExtraMeeting
from handbook.schema.handbook import CycleContent
from handbook.schema.year import MakeUp, Year

Entry = YearEntry | Cancellation | ExtraMeeting | AwayRow
EntryT = TypeVar("EntryT", bound=Entry)
_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Known:
    """A cycle as it was known from the day `since` on; None: from the beginning.

    It holds what was known `by` that day, None for all there is to know.
    """

    since: date | None
    dated: DatedCycle
    by: date | None = None


def known_states(
    dated: DatedCycle, players: Players, rehearsals: Sequence[date], apart: Sequence[date]
) -> tuple[Known, ...]:
    """Give the cycle as it was known from its beginning, and after each piece of news, in order.

    News is an entry of the calendar, or an event that takes a rehearsal away, with a date under `told`, and each day that comes `apart` from
    these: from which a piece is not rehearsed, or on which a concert's move became known. With `held_until` an entry that says nothing is news of the day after, if no rehearsal
    (`rehearsals` are the dates of those that are held) lies between. The last state knows
    all; without news it is the only one.
    """
    cycle, year = dated.cycle.item, dated.year.item
    told = {
        id(entry): day
        for entry in (*_entries(year, cycle, players), *(one for one in dated.away if one.whole))
        if (day := _told(entry, year, cycle.held_until, rehearsals)) is not None
    }
    told |= _told_with_their_losses(dated, players, told)
    days = {*told.values(), *apart}
    news = sorted(day for day in days if dated.first < day <= dated.last)
    if not news:
        return (Known(None, dated),)
    begin = news[0] - _ONE_DAY
    states = [Known(None, _as_known(dated, told, begin), begin)]
    states += [Known(day, _as_known(dated, told, day), day) for day in news[:-1]]
    return (*states, Known(news[-1], dated))


def with_effect(
    states: Sequence[Known], calendars: Sequence[RehearsalCalendar], over: Sequence[date]
) -> list[tuple[Known, RehearsalCalendar]]:
    """Leave out the states that no news of these players begins: their rehearsals stay as they were.

    `calendars` are those of the states. A day of `over` is news in itself, and so is another last day.
    """
    found: list[tuple[Known, RehearsalCalendar]] = []
    for state, calendar in zip(states, calendars, strict=True):
        if found and state.since not in over:
            before, earlier = found[-1]
            if before.dated.last == state.dated.last and _times(earlier) == _times(calendar):
                found[-1] = replace(state, since=before.since), calendar
                continue
        found.append((state, calendar))
    return found


def _times(calendar: RehearsalCalendar) -> list[tuple[datetime, datetime, RehearsalKind]]:
    return [(one.start, one.end, one.kind) for one in calendar.rehearsals]


def as_announced(content: CycleContent, by: date | None) -> CycleContent:
    """Put concerts on the days they were on as far as it was known by a day; None: as they are."""
    if by is None:
        return content
    concerts = (
        replace(one, item=one.item.model_copy(update={"date": one.item.moved_from[-1]}))
        if one.item.moved_from and one.item.told and one.item.told > by
        else one
        for one in content.concerts
    )
    in_order = sorted(concerts, key=lambda one: (one.item.date, one.item.downbeat))
    return replace(content, concerts=tuple(in_order))


def first_day_of(entry: Entry, year: Year) -> date:
    """Give the first day that an entry is about."""
    if isinstance(entry, AwayRow):
        return min((entry.day.first, *entry.day.moved_from[-1:]))
    if isinstance(entry, ExtraMeeting):
        return min(entry.date, entry.instead_of or entry.date)
    return entry.date if isinstance(entry, Cancellation) else first_day(entry, year)


def _entries(year: Year, cycle: Cycle, players: Players) -> Iterator[Entry]:
    yield from year.closures
    yield from year.altered
    yield from year.make_up
    yield from (one for one in cycle.cancelled if players.named_by(one))
    yield from (one for one in cycle.extra if players.named_by(one))


def _told(
    entry: Entry, year: Year, held_until: date | None, rehearsals: Sequence[date]
) -> date | None:
    adds = isinstance(entry, MakeUp) or (
        isinstance(entry, ExtraMeeting) and entry.instead_of is None
    )
    if entry.told is not None or held_until is None or adds:
        return entry.told
    day = first_day_of(entry, year)
    if day <= held_until or any(held_until < held < day for held in rehearsals):
        return None
    return held_until + _ONE_DAY


def _told_with_their_losses(
    dated: DatedCycle, players: Players, told: Mapping[int, date]
) -> Mapping[int, date]:
    """Give the day for each rehearsal that makes up for a loss, and does not say when it became known."""
    cycle, year = dated.cycle.item, dated.year.item
    found = {}
    for extra in cycle.extra:
        lost = extra.make_up_for
        if lost is None or extra.told is not None or not players.named_by(extra):
            continue
        losses = [
            told[id(entry)]
            for entry in (*_entries(year, cycle, players), *dated.away)
            if id(entry) in told and _is_about(entry, lost, year)
        ]
        if losses:
            found[id(extra)] = max(losses)
    return found


def _is_about(entry: Entry, day: date, year: Year) -> bool:
    if isinstance(entry, AwayRow):
        return entry.day.first <= day <= entry.day.last
    if isinstance(entry, Cancellation):
        return entry.date == day
    return not isinstance(entry, ExtraMeeting) and day in days_of(entry, year)


def _as_known(dated: DatedCycle, told: dict[int, date], by: date) -> DatedCycle:
    """Leave out what was told after a day."""

    def known(entries: Sequence[EntryT]) -> tuple[EntryT, ...]:
        return tuple(entry for entry in entries if told.get(id(entry), date.min) <= by)

    year, cycle = dated.year, dated.cycle
    return replace(
        dated,
        away=tuple(
            one if told.get(id(one), date.min) <= by else one.before_its_move
            for one in dated.away
            if told.get(id(one), date.min) <= by or one.day.moved_from
        ),
        year=replace(
            year,
            item=year.item.model_copy(
                update={
                    "closures": known(year.item.closures),
                    "altered": known(year.item.altered),
                    "make_up": known(year.item.make_up),
                }
            ),
        ),
        cycle=replace(
            cycle,
            item=cycle.item.model_copy(
                update={
                    "cancelled": known(cycle.item.cancelled),
                    "extra": known(cycle.item.extra),
                }
            ),
        ),
    )
