"""Events in a line and in words: when, what, where, for whom."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, time, timedelta

from handbook.domain.event_times import EventMoments
from handbook.outputs import addresses
from handbook.outputs.components.texts_for import named_who
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.events_model import AwayRow, EventDay, EventRow, PlaceRow
from handbook.plan.players import everyone
from handbook.records import dataclass

_ONE_DAY = timedelta(days=1)
_DUE = "Due"
_Days = tuple[date, ...]


@dataclass(frozen=True, slots=True)
class EventLine:
    """One day of an event, or a deadline, in a line.

    `last` is the day on which it is over; `readers` says whom it is for, `who` are the ids of its ensembles, or of their groups.
    On the days it `left` it is not held, since it was `moved`.
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

    @property
    def due(self) -> bool:
        """Whether it is a deadline that holds."""
        return self.time == _DUE


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
        )
        if day.rain and day.rain.day and not day.cancelled:
            yield _line(
                context,
                event,
                (day.rain.day, day.rain.day),
                formatting.clock(day.rain.starts) if day.rain.starts else "",
                f"Rain date: {day_name(context, event, day)}",
                f"only if it cannot be on {dates(day.first, day.last)}",
                day.rain.starts.time() if day.rain.starts else time(),
                own=own,
            )
    if event.due:
        yield _line(
            context,
            event,
            (event.due, event.due),
            "" if event.item.cancelled else _DUE,
            context.say(event.item.name),
            place_name(context, place_of_deadline(event)),
            time(),
            cancelled=event.item.cancelled is not None,
            moved_from=event.item.moved_from,
            own=own,
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
) -> EventLine:
    (first, last), readers = days, who(context, event)
    moved = ""
    if moved_from and not cancelled:
        moved = f"moved from {formatting.short_day(moved_from[-1])}"
    # That something is due says already what kind it is.
    kind = "" if hours == _DUE else context.say(event.item.kind)
    told = (moved, kind, place, "" if own and not event.players else readers)
    return EventLine(
        day=first,
        last=last,
        date=dates(first, last),
        time=hours,
        title=f"Cancelled: {title}" if cancelled else title,
        detail=capital(formatting.dotted(told)),
        readers=readers,
        path=addresses.event(event.item.id),
        who=tuple(one.id for one in everyone(event.ensembles)),
        cancelled=cancelled,
        left=() if cancelled else tuple(dict.fromkeys(moved_from)),
        moved=moved,
        sort=datetime.combine(first, at),
    )


def place_of_deadline(event: EventRow) -> PlaceRow | None:
    """Give where something is handed in, as far as it is said in words."""
    return PlaceRow(words=event.item.place) if event.item.place else None


def dates(first: date, last: date) -> str:
    """Write one day, or the first and the last."""
    one = formatting.short_day(first)
    return one if first == last else f"{one} – {formatting.short_day(last)}"


def hours(moments: EventMoments) -> str:
    """Write from when to when it is; from when players are there if no start is said."""
    start, end = moments.starts or moments.call or moments.leaves, moments.ends
    if start and end and end - start < _ONE_DAY:
        return formatting.span(start, end)
    if start and end:
        return f"{_on_its_day(start)} – {_on_its_day(end)}"
    return formatting.clock(start) if start else ""


def _on_its_day(moment: datetime) -> str:
    return f"{moment:%a} {formatting.clock(moment)}"


def day_name(context: Context, event: EventRow, day: EventDay) -> str:
    """Name an event as it is called on one of its days."""
    name, that_day = context.say(event.item.name), context.say(day.name)
    return f"{name}: {that_day}" if that_day else name


def place_name(context: Context, place: PlaceRow | None) -> str:
    """Name a place in a few words."""
    if place is None:
        return ""
    names = (context.say(one.name) for one in (place.room, place.venue) if one)
    return ", ".join(dict.fromkeys((*names, *filter(None, [context.say(place.words)]))))


def missing_words(context: Context, rows: Iterable[AwayRow]) -> tuple[str, ...]:
    """Say who is at an event while a rehearsal is held, once for each event."""
    return tuple(
        f"{_missing(context, row)}: {context.say(row.event.item.name)}, {hours_away(row)}"
        for row in rows
    )


def _missing(context: Context, row: AwayRow) -> str:
    players = capital(named_who(row.players)) or "Players"
    if row.because is None:
        return players
    if row.shared is not None:
        players = f"{row.shared} players" if row.shared > 1 else "A player"
    are = "is" if row.shared == 1 else "are"
    return f"{players} who {are} in {context.say(row.because.name)} too"


def hours_away(row: AwayRow) -> str:
    """Write how long players are away."""
    if row.start.date() == row.end.date():
        return formatting.span(row.start, row.end)
    return "all day"


def capital(words: str) -> str:
    """Begin words with a capital."""
    return words[:1].upper() + words[1:]


def who(context: Context, event: EventRow) -> str:
    """Name those an event is for."""
    bands = formatting.listed([context.say(one.name) for one in event.ensembles])
    if event.everyone:
        bands = "everyone" if not event.players else "every band"
    players = formatting.listed([named_who([one]) for one in event.players])
    return f"{players} of {bands}" if players else bands
