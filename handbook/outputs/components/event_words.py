"""Events in a line and in words: when, what, where, for whom."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, time, timedelta

from handbook.domain.event_times import EventMoments
from handbook.outputs import addresses
from handbook.outputs.components.texts_for import named_who
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, ngettext, pgettext
from handbook.outputs.i18n.formats import day_and_clock, days, with_clauses
from handbook.outputs.page import Context
from handbook.plan.events_model import AwayRow, EventDay, EventRow, PlaceRow
from handbook.plan.players import everyone
from handbook.records import dataclass

_ONE_DAY = timedelta(days=1)
_Days = tuple[date, ...]


@dataclass(frozen=True, slots=True)
class EventLine:
    """One day of an event, or a deadline, in a line.

    `last` is the day on which it is over; `readers` says whom it is for, `who` are the ids of its ensembles, or of their groups.
    On the days it `left` it is not held, since it was `moved`; `due` is a deadline that holds.
    `call` says from when players are there, if that is before it `starts`.
    """

    day: date
    last: date
    date: str
    time: str
    title: str
    detail: str
    readers: str
    path: str
    who: tuple[str, ...]
    cancelled: bool
    sort: datetime
    left: _Days = ()
    moved: str = ""
    due: bool = False
    starts: datetime | None = None
    call: str = ""
    place: str = ""


def event_lines(
    context: Context, events: Iterable[EventRow], *, own: bool = False
) -> tuple[EventLine, ...]:
    """Show each day of each event, and each deadline, in order of time.

    On a band's `own` page it is said for whom one is only if that is not all of the band.
    """
    found = [line for event in events for line in _lines(context, event, own=own)]
    return tuple(sorted(found, key=lambda line: (line.sort, line.title)))


def _lines(context: Context, event: EventRow, *, own: bool) -> Iterator[EventLine]:
    for day in event.days:
        begins = day.moments.begins
        yield _line(
            context,
            event,
            (day.first, day.last),
            "" if day.cancelled else hours(day.moments),
            day_name(context, event, day),
            place_name(context, day.place),
            begins.time() if begins else time(),
            cancelled=day.cancelled,
            moved_from=day.moved_from,
            own=own,
            moments=None if day.cancelled else day.moments,
        )
        if day.rain and day.rain.day and not day.cancelled:
            yield _line(
                context,
                event,
                (day.rain.day, day.rain.day),
                formatting.clock(day.rain.starts) if day.rain.starts else "",
                gettext("Rain date: %(event)s", event=day_name(context, event, day)),
                gettext("only if it cannot be on %(day)s", day=dates(day.first, day.last)),
                day.rain.starts.time() if day.rain.starts else time(),
                own=own,
            )
    if event.due:
        yield _line(
            context,
            event,
            (event.due, event.due),
            "" if event.item.cancelled else pgettext("deadline", "Due"),
            context.say(event.item.name),
            place_name(context, place_of_deadline(event)),
            time(),
            cancelled=event.item.cancelled is not None,
            moved_from=event.item.moved_from,
            own=own,
            due=event.item.cancelled is None,
        )


def _line(
    context: Context,
    event: EventRow,
    days: tuple[date, date],
    hours: str,
    title: str,
    place: str,
    at: time,
    *,
    own: bool,
    cancelled: bool = False,
    moved_from: Sequence[date] = (),
    due: bool = False,
    moments: EventMoments | None = None,
) -> EventLine:
    (first, last), readers = days, who(context, event)
    moved = ""
    if moved_from and not cancelled:
        moved = gettext("moved from %(day)s", day=formatting.short_day(moved_from[-1]))
    # That something is due says already what kind it is.
    kind = "" if due else context.say(event.item.kind)
    told = (moved, kind, place, "" if own and not event.players else readers)
    return EventLine(
        day=first,
        last=last,
        date=dates(first, last),
        time=hours,
        title=gettext("Cancelled: %(event)s", event=title) if cancelled else title,
        detail=capital(formatting.dotted(told)),
        readers=readers,
        path=addresses.event(event.item.id),
        who=tuple(one.id for one in everyone(event.ensembles)),
        cancelled=cancelled,
        left=() if cancelled else tuple(dict.fromkeys(moved_from)),
        moved=moved,
        due=due,
        sort=datetime.combine(first, at),
        starts=_begins(moments) if moments else None,
        call=_call_words(moments) if moments else "",
        place=place,
    )


def be_there_from(at: datetime) -> str:
    """Say when players must be there."""
    # Translators: it stands in a narrow square of a calendar.
    return gettext("be there %(time)s", time=formatting.clock(at))


def _begins(moments: EventMoments) -> datetime | None:
    return moments.starts or moments.call or moments.leaves


def _call_words(moments: EventMoments) -> str:
    there = moments.begins
    is_before = there and moments.starts and there < moments.starts
    return be_there_from(there) if there and is_before else ""


def place_of_deadline(event: EventRow) -> PlaceRow | None:
    """Give where something is handed in, as far as it is said in words."""
    return PlaceRow(words=event.item.place) if event.item.place else None


def dates(first: date, last: date) -> str:
    """Write one day, or the first and the last."""
    return days(first, last)


def hours(moments: EventMoments) -> str:
    """Write from when to when it is; from when players are there if no start is said."""
    start, end = _begins(moments), moments.ends
    if start and end and end - start < _ONE_DAY:
        return formatting.span(start, end)
    if start and end:
        # Translators: from one day and time to another.
        return gettext("%(start)s – %(end)s", start=day_and_clock(start), end=day_and_clock(end))
    return formatting.clock(start) if start else ""


def day_name(context: Context, event: EventRow, day: EventDay) -> str:
    """Name an event as it is called on one of its days."""
    name, that_day = context.say(event.item.name), context.say(day.name)
    return gettext("%(event)s: %(part)s", event=name, part=that_day) if that_day else name


def place_name(context: Context, place: PlaceRow | None) -> str:
    """Name a place in a few words."""
    if place is None:
        return ""
    names = (context.say(one.name) for one in (place.room, place.venue) if one)
    return with_clauses(dict.fromkeys((*names, *filter(None, [context.say(place.words)]))))


def missing_words(context: Context, rows: Iterable[AwayRow]) -> tuple[str, ...]:
    """Say who is at an event while a rehearsal is held, once for each event."""
    return tuple(
        gettext(
            "%(players)s: %(event)s, %(hours)s",
            players=_missing(context, row),
            event=context.say(row.event.item.name),
            hours=hours_away(row),
        )
        for row in rows
    )


def _missing(context: Context, row: AwayRow) -> str:
    players = capital(named_who(row.players))
    if row.because is None:
        return players or gettext("Players")
    band = context.say(row.because.name)
    if row.shared is not None:
        return ngettext(
            "A player who is in %(band)s too",
            "%(num)s players who are in %(band)s too",
            row.shared,
            band=band,
        )
    if players:
        return gettext("%(players)s who are in %(band)s too", players=players, band=band)
    return gettext("Players who are in %(band)s too", band=band)


def hours_away(row: AwayRow) -> str:
    """Write how long players are away."""
    if row.start.date() == row.end.date():
        return formatting.span(row.start, row.end)
    return gettext("all day")


def capital(words: str) -> str:
    """Begin words with a capital."""
    return words[:1].upper() + words[1:]


def who(context: Context, event: EventRow) -> str:
    """Name those an event is for."""
    bands = formatting.listed([context.say(one.name) for one in event.ensembles])
    if event.everyone:
        bands = gettext("every band") if event.players else gettext("everyone")
    players = formatting.listed([named_who([one]) for one in event.players])
    if not players:
        return bands
    # Translators: instruments of bands, such as "flute and oboe of every band".
    return gettext("%(players)s of %(bands)s", players=players, bands=bands)
