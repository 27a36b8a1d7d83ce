"""The calendar: every date of every ensemble, in order; in a long one old months have own pages."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime

from handbook.outputs import addresses
from handbook.outputs.components.calls_by_place import calls_by_place
from handbook.outputs.components.crew_bands import crew_bands, crew_lines
from handbook.outputs.components.event_words import EventLine, be_there_from, capital, event_lines
from handbook.outputs.components.rain_words import rain_line
from handbook.outputs.components.rehearsal_names import anchors, missed_words, what_it_is
from handbook.outputs.components.school_dates import year_date_views
from handbook.outputs.components.section_rooms import room_words
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.outputs.sheets.kinds.month import has_month_sheet, month_sheet
from handbook.outputs.sheets.making import sheets_are_made
from handbook.plan.model import ConcertPlan, ConcertRain, CyclePlan, EnsemblePlan
from handbook.plan.players import everyone
from handbook.records import dataclass

_SCHOOL_WORDS = {
    "closed": "no school closed day off vacation holiday break",
    "altered": "bells schedule late start early release",
    "made-up": "make-up day school",
}
SHOWS_EVENTS = True
_MOST_DATES = 480  # on one page, some 165 kB; a month is never parted


@dataclass(frozen=True, slots=True)
class EventView:
    """One date; `who` are ensemble ids for the filter; `path` is empty where no page tells more.

    `last` is the day on which it is over, `anchor` its place on the page if search leads there.
    `note` is what of the `detail` sets it apart from others like it; `readers` whom an event is
    for; `call` says from when players are there, where that is before it `starts`; `place` is that
    of a concert or an event; `calls` say of a concert which bands are where from when.
    `kind` is rehearsal, concert, apart (an event beside them), cancelled, closed, altered or
    made-up.
    """

    day: date
    last: date
    date: str
    time: str
    title: str
    detail: str
    path: str
    who: tuple[str, ...]
    kind: str
    sort: datetime
    anchor: str = ""
    note: str = ""
    readers: str = ""
    call: str = ""
    starts: datetime | None = None
    place: str = ""
    calls: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CycleDates:
    """The dates of one cycle, and the days within it that have no school or run otherwise."""

    events: tuple[EventView, ...]
    school: tuple[EventView, ...]


@dataclass(frozen=True, slots=True)
class CalendarMonth:
    """The dates of a month; `path` is its own page, once it has one, `sheet` what is printed of it."""

    name: str
    path: str
    last: date
    events: tuple[EventView, ...]
    sheet: str = ""

    @property
    def first(self) -> date:
        """The day of its first date."""
        return self.events[0].day


@dataclass(frozen=True, slots=True)
class CalendarView:
    """A page of dates; `lead` says of what they are.

    `earlier` are the months that have their own pages, by year; on such a page `around`
    leads to the months before and after it.
    """

    title: str
    lead: str
    ensembles: tuple[tuple[str, str], ...]
    months: tuple[CalendarMonth, ...]
    earlier: tuple[tuple[int, tuple[Link, ...]], ...] = ()
    around: tuple[Link, ...] = ()
    subscribe: str = addresses.SUBSCRIBE

    @property
    def last(self) -> date:
        """The day after which nothing on the page is left."""
        return max(month.last for month in self.months)


def share(context: Context, cycle: CyclePlan) -> CycleDates:
    """Give what the calendar shows of a cycle."""
    return CycleDates(tuple(_events(context, cycle)), tuple(_school(context, cycle)))


def pages(context: Context, cycles: Sequence[CycleDates]) -> Iterator[Page]:
    """Make the calendar: a page of the latest months, as many as it holds, and one of each before.

    What is said of the school's days is shown once for all cycles.
    """
    plan = context.plan
    events = sorted(
        (
            *(event for cycle in cycles for event in cycle.events),
            *dict.fromkeys(event for cycle in cycles for event in cycle.school),
            *(one for line in event_lines(context, plan.events) for one in _apart(line)),
        ),
        key=lambda event: (event.sort, event.title),
    )
    by_month: dict[str, list[EventView]] = {}
    for event in _each_its_anchor(events):
        by_month.setdefault(formatting.month_heading(event.day), []).append(event)
    months = [
        CalendarMonth(
            capital(name),  # where it heads a page or a list, in languages that write months small
            addresses.calendar_month(rows[0].day.year, rows[0].day.month),
            max(row.last for row in rows),
            tuple(rows),
        )
        for name, rows in by_month.items()
    ]
    sheets = {
        month.path: month_sheet(context, month, events)
        for month in months
        if sheets_are_made(context) and has_month_sheet(month)
    }
    months = [
        replace(one, sheet=sheets[one.path].path if one.path in sheets else "") for one in months
    ]
    first = _first_shown(months)
    ensembles = tuple(
        (ensemble.id, context.say(ensemble.name)) for ensemble in everyone(plan.program.ensembles)
    )
    links = [Link(month.name, month.path) for month in months[:first]]
    years = [month.events[0].day.year for month in months[:first]]
    of_events = bool(plan.events)
    lead = (
        gettext("Every rehearsal, concert and event.")
        if of_events
        else gettext("Every rehearsal and concert.")
    )
    view = CalendarView(
        gettext("Calendar"),
        lead,
        ensembles,
        tuple(months[first:]),
        earlier=tuple(
            (year, tuple(link for link, of in zip(links, years, strict=True) if of == year))
            for year in dict.fromkeys(years)
        ),
    )
    yield Page(
        path=addresses.CALENDAR,
        kind="calendar",
        title=gettext("Calendar"),
        description=gettext(
            "Every rehearsal, concert and event, by ensemble, and the days without school."
        )
        if of_events
        else gettext("Every rehearsal and concert, by ensemble, and the days without school."),
        section="calendar",
        view=view,
        search=(
            SearchEntry(
                gettext("Calendar"),
                gettext("Every rehearsal, concert and event, by ensemble.")
                if of_events
                else gettext("Every rehearsal and concert, by ensemble."),
                keywords="dates schedule when",
            ),
            *(entry for month in months[first:] for entry in _school_entries(month)),
        ),
        sheets=tuple(sheets[one.path] for one in months[first:] if one.sheet),
    )
    all_dates = Link(gettext("Calendar"), addresses.CALENDAR)
    for place, month in enumerate(months[:first]):
        summary, by_ensemble = _of_month(formatting.month(month.first), of_events)
        around = (*links[max(0, place - 1) : place], *links[place + 1 : place + 2])
        yield Page(
            path=month.path,
            kind="calendar",
            title=month.name,
            description=by_ensemble,
            section="calendar",
            view=CalendarView(month.name, lead, ensembles, (month,), around=(*around, all_dates)),
            crumbs=(all_dates,),
            search=(
                SearchEntry(month.name, summary),
                *_school_entries(month),
            ),
            sheets=(sheets[month.path],) if month.sheet else (),
        )


def _of_month(month: str, of_events: bool) -> tuple[str, str]:
    """Say what the page of a month holds, without and with how it can be chosen."""
    if of_events:
        return (
            gettext("Every rehearsal, concert and event in %(month)s.", month=month),
            gettext("Every rehearsal, concert and event in %(month)s, by ensemble.", month=month),
        )
    return (
        gettext("Every rehearsal and concert in %(month)s.", month=month),
        gettext("Every rehearsal and concert in %(month)s, by ensemble.", month=month),
    )


def _apart(line: EventLine) -> Iterator[EventView]:
    """Show an event that is neither rehearsal nor concert."""
    now = EventView(
        day=line.day,
        last=line.last,
        date=line.date,
        time=line.time,
        title=line.title,
        detail=formatting.dotted((line.detail, line.call)),
        path=line.path,
        who=line.who,
        kind="apart cancelled" if line.cancelled else "apart",
        sort=line.sort,
        readers=line.readers,
        call=line.call,
        starts=line.starts,
        place=line.place,
    )
    yield now
    for day in _left_behind(line.day, line.left):
        yield _moved_away(now, day, line.title, line.day)


def _each_its_anchor(events: Iterable[EventView]) -> Iterator[EventView]:
    """Tell places of the page apart that would be called the same."""
    seen: Counter[str] = Counter()
    for event in events:
        seen[event.anchor] += 1
        again = event.anchor and seen[event.anchor] > 1
        yield replace(event, anchor=f"{event.anchor}-{seen[event.anchor]}") if again else event


def _school_entries(month: CalendarMonth) -> Iterator[SearchEntry]:
    """Offer the days without school and those that run otherwise to search."""
    for event in month.events:
        if event.kind in _SCHOOL_WORDS:
            ended = pgettext("stop behind words", "%(words)s.", words=event.date)
            yield SearchEntry(
                event.title,
                " ".join(filter(None, (ended, event.detail))),
                anchor=event.anchor,
                keywords=_SCHOOL_WORDS[event.kind],
                day=event.day,
                answer=gettext("%(what)s: %(words)s", what=event.title, words=event.date),
            )


def _first_shown(months: Sequence[CalendarMonth]) -> int:
    """Give the place of the first month that stands on the first page: the last months fill it."""
    held = 0
    for place in range(len(months) - 1, -1, -1):
        held += len(months[place].events)
        if held > _MOST_DATES and place + 1 < len(months):
            return place + 1
    return 0


def _events(context: Context, cycle: CyclePlan) -> Iterator[EventView]:
    for ensemble in cycle.ensembles:
        yield from _rehearsals(context, cycle, ensemble)
        yield from _cancelled(context, cycle, ensemble)
    for concert in cycle.concerts:
        yield from _concert(context, cycle, concert)


def _concert(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> Iterator[EventView]:
    """Show a concert on its day, and on those it was moved from where it is now."""
    item, name = concert.item, context.say(concert.item.name)
    bands = (*item.players, *crew_bands(concert))
    reports = [group.report for group in concert.day.groups if group.ensemble and group.report]
    call = be_there_from(min(reports)) if reports else ""
    now = EventView(
        day=item.date,
        last=item.date,
        date=formatting.short_day(item.date),
        time=formatting.clock(concert.downbeat),
        title=name,
        detail=formatting.dotted(
            (
                context.say(concert.venue.name),
                call,
                rain_line(context, concert),
                *crew_lines(context, concert),
            )
        ),
        path=addresses.concert(cycle.id, concert.id),
        who=tuple(one.item.id for band in bands for one in cycle.of_band(band)),
        kind="concert",
        sort=concert.downbeat.replace(tzinfo=None),
        call=call,
        place=context.say(concert.venue.name),
        calls=tuple(calls_by_place(context, concert)),
    )
    if item.cancelled:
        yield replace(
            now,
            time="",
            title=gettext("Cancelled: %(what)s", what=name),
            detail=context.say(item.cancelled),
            call="",
            place="",
            calls=(),
            kind="concert cancelled",
        )
        return
    yield now
    for day in _left_behind(item.date, item.moved_from):
        yield _moved_away(now, day, name, item.date)
    if concert.rain and concert.rain.item.date:
        yield _rain_date(context, cycle, concert, concert.rain)


def _left_behind(now: date, before: Sequence[date]) -> Iterator[date]:
    """Give the days on which something was to be, each once."""
    return (day for day in dict.fromkeys(before) if day != now)


def _moved_away(now: EventView, day: date, name: str, to: date) -> EventView:
    """Show on the day on which something was to be where it is now."""
    return replace(
        now,
        day=day,
        last=day,
        date=formatting.short_day(day),
        time="",
        title=gettext("Moved: %(what)s", what=name),
        detail=gettext("now %(day)s", day=formatting.short_day(to)),
        readers="",
        call="",
        place="",
        calls=(),
        kind="cancelled",
        sort=_midnight(day),
    )


def _midnight(day: date) -> datetime:
    return datetime(day.year, day.month, day.day)  # noqa: DTZ001 - for order only


def _rain_date(
    context: Context, cycle: CyclePlan, concert: ConcertPlan, rain: ConcertRain
) -> EventView:
    """Show the day on which a concert is if the weather does not allow it on its own."""
    day = rain.downbeat.date()
    return EventView(
        day=day,
        last=day,
        date=formatting.short_day(day),
        time=formatting.clock(rain.downbeat),
        title=gettext("Rain date: %(what)s", what=context.say(concert.item.name)),
        detail=gettext(
            "only if it cannot be on %(day)s", day=formatting.short_day(concert.item.date)
        ),
        path=addresses.concert(cycle.id, concert.id),
        who=tuple(
            one.item.id
            for band in (*concert.item.players, *crew_bands(concert))
            for one in cycle.of_band(band)
        ),
        kind="concert",
        sort=rain.downbeat.replace(tzinfo=None),
    )


def _rehearsals(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[EventView]:
    path = addresses.ensemble(cycle.id, ensemble.item.id)
    for row, anchor in zip(ensemble.rehearsals, anchors(ensemble), strict=True):
        rehearsal = row.rehearsal
        yield EventView(
            day=rehearsal.day,
            last=rehearsal.day,
            date=formatting.short_day(rehearsal.day),
            time=formatting.span(rehearsal.start, rehearsal.end),
            title=context.say(ensemble.item.name),
            detail=formatting.dotted(
                (
                    what_it_is(context, row),
                    *room_words(context, ensemble, row),
                    gettext("rehearsal %(n)s of %(of)s", n=rehearsal.n, of=rehearsal.of),
                )
            ),
            path=f"{path}#{anchor}",
            who=(ensemble.item.id,),
            kind="rehearsal",
            sort=rehearsal.start.replace(tzinfo=None),
            note=what_it_is(context, row),
        )


def _cancelled(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[EventView]:
    """Show the rehearsals that are lost or moved; those on days without school go without saying."""
    for missed in ensemble.missed:
        told = missed_words(context, context.say(ensemble.item.name), missed)
        if told:
            yield EventView(
                day=missed.day,
                last=missed.day,
                date=formatting.short_day(missed.day),
                time="",
                title=told[0],
                detail=told[1],
                path=addresses.ensemble(cycle.id, ensemble.item.id),
                who=(ensemble.item.id,),
                kind="cancelled",
                sort=_midnight(missed.day),
            )


def _school(context: Context, cycle: CyclePlan) -> Iterator[EventView]:
    """Show the days of a cycle's school year that have no school, run otherwise or are made up."""
    who = tuple(one.id for one in everyone(context.plan.program.ensembles))
    for line in year_date_views(context, cycle.year):
        yield EventView(
            day=line.first,
            last=line.last,
            date=line.when,
            time="",
            title=line.title,
            detail=line.detail,
            path="",
            who=who,
            kind=line.kind,
            sort=_midnight(line.first),
            anchor=f"{line.kind}-{line.first}",
        )
