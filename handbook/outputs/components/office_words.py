"""A row of the year sheet in words, as the office reads it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import groupby

from handbook.domain.class_time import MissedPeriod
from handbook.domain.values.text import Text
from handbook.outputs.components.concert_words import bus_times
from handbook.outputs.components.event_words import dates, place_name
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.formats import short_units, with_commas, with_semicolons
from handbook.outputs.page import Context
from handbook.plan.concert_model import RideDay
from handbook.plan.year_sheet_model import (
    BandAway,
    CrewAway,
    OfficeKind,
    OfficeRide,
    OfficeRow,
    RoomNeed,
)
from handbook.records import dataclass

_HOUR = 60
_NUMBERED = re.compile(r"p(\d+)")  # an id that says no more than the number
_GAP = timedelta(minutes=30)  # within which nobody else could use a room


@dataclass(frozen=True, slots=True)
class OfficeLine:
    """A row of the first table; what is not known is empty. `missed` are classes of other teachers.

    `crew` are the roles of a crew that is no band, which the `total` leaves out.
    """

    day: date
    date: str
    name: str
    cancelled: str
    hours: str
    starts: str
    who: tuple[str, ...]
    total: str
    crew: tuple[str, ...]
    place: str
    opens: str
    rides: tuple[str, ...]
    missed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RoomLine:
    """A room on a day, from its first use to its last; `ask` where nobody knows from here who opens it."""

    date: str
    hours: str
    room: str
    what: str
    after_hours: bool
    ask: bool = False


def office_line(context: Context, row: OfficeRow) -> OfficeLine:
    """Put a row into words."""
    known = [one for one in row.bands if one.players]
    return OfficeLine(
        day=row.first,
        date=dates(row.first, row.last),
        name=_name(context, row),
        cancelled=context.say(row.cancelled),
        hours=_hours(row),
        starts=gettext("Begins %(time)s", time=formatting.clock(row.starts))
        if row.starts and row.starts != row.begins
        else "",
        who=tuple(_who_when(context, row, one) for one in row.bands),
        total=_players(row.players) if len(known) > 1 else "",
        crew=tuple(_crew(context, one) for one in row.crew),
        place=_place(context, row),
        opens=gettext("Hall open %(hours)s", hours=formatting.span(row.opens, row.closes))
        if row.opens and row.closes and not row.cancelled
        else "",
        rides=tuple(_rides(context, row)),
        missed=tuple(_missed(context, row.bands)),
    )


def _name(context: Context, row: OfficeRow) -> str:
    name, part = context.say(row.name) or gettext("Rehearsal"), context.say(row.part)
    return gettext("%(event)s: %(part)s", event=name, part=part) if part else name


def _place(context: Context, row: OfficeRow) -> str:
    """Name the place, or the rooms where sections of a rehearsal are in several."""
    if row.kind is OfficeKind.REHEARSAL and len(row.rooms) > 1:
        return with_commas(context.say(need.room.name) for need in row.rooms)
    return place_name(context, row.place)


def _hours(row: OfficeRow) -> str:
    if row.begins and row.over and row.first == row.last:
        return formatting.span(row.begins, row.over)
    moment = row.begins or row.starts
    return formatting.clock(moment) if moment else ""


def _players(number: int) -> str:
    return ngettext("%(num)s player", "%(num)s players", number)


def _who_when(context: Context, row: OfficeRow, band: BandAway) -> str:
    """Say who is there, and from when if that is later than the first of all."""
    who = _who(context, band)
    if band.begins in {None, row.begins}:
        return who
    # Translators: who and from when, as in "Harbor Band: 20 of 49, from 5:45 pm".
    return gettext("%(who)s, from %(time)s", who=who, time=formatting.clock(band.begins))


def _crew(context: Context, role: CrewAway) -> str:
    name = context.say(role.name)
    who = gettext("%(band)s: %(number)s", band=name, number=role.people) if role.people else name
    if role.begins is None:
        return who
    return gettext("%(who)s, from %(time)s", who=who, time=formatting.clock(role.begins))


def _who(context: Context, band: BandAway) -> str:
    name = context.say(band.ensemble.name)
    if not band.players:
        return name
    if band.some:
        # Translators: of a band, as in "Harbor Band: 20 of 49".
        return gettext(
            "%(band)s: %(some)s of %(all)s",
            band=name,
            some=band.players,
            all=band.ensemble.players,
        )
    return gettext("%(band)s: %(number)s", band=name, number=band.players)


def _rides(context: Context, row: OfficeRow) -> Iterator[str]:
    bands = {one.id: one.name for one in context.plan.program.ensembles}
    for ride in row.rides:
        yield _buses(context, ride, bands)
    if row.ride is not None:
        yield from _ride(context, row, row.ride)


def _buses(context: Context, ride: RideDay, bands: dict[str, Text]) -> str:
    """Write one line a ride: who, how many of how many seats, in which buses, from when to when."""
    times = bus_times(ride)
    names = [context.say(bands[one]) for one in ride.item.ensembles if one in bands]
    told, players = formatting.listed(names), _players(ride.riders - ride.item.adults)
    words = (
        gettext(
            "%(bands)s: %(players)s and %(adults)s, %(seats)s seats",
            bands=told,
            players=players,
            adults=ngettext("%(num)s adult", "%(num)s adults", ride.item.adults),
            seats=ride.seats,
        )
        if ride.item.adults
        else gettext(
            "%(bands)s: %(players)s, adults not counted, %(seats)s seats",
            bands=told,
            players=players,
            seats=ride.seats,
        )
    )
    buses = ngettext(
        "%(num)s bus (%(seats)s)",
        "%(num)s buses (%(seats)s)",
        len(ride.item.buses),
        seats=with_commas(str(bus.seats - bus.held) for bus in ride.item.buses),
    )
    leaves = formatting.clock(times.there.leaves) if times.there else ""
    back = formatting.clock(times.at_school)
    way = gettext("%(leaves)s, back %(back)s", leaves=leaves, back=back) if leaves else back
    return formatting.dotted((words, buses, way))


def _ride(context: Context, row: OfficeRow, ride: OfficeRide) -> Iterator[str]:
    """Say how many players want a seat in buses that nobody has named yet."""
    leaves = formatting.clock(ride.leaves) if ride.leaves else ""
    back = formatting.clock(ride.back) if ride.back else ""
    way = (
        gettext("%(leaves)s, back %(back)s", leaves=leaves, back=back)
        if leaves and back
        else leaves or back
    )
    meet = place_name(context, ride.meet)
    wanted = ngettext(
        "%(num)s player, plus adults",
        "%(num)s players, plus adults",
        row.players,
    )
    yield formatting.dotted(
        (wanted if row.players else "", meet, way, gettext("buses and seats not stated"))
    )


def _missed(context: Context, bands: Iterable[BandAway]) -> Iterator[str]:
    for band in bands:
        if not band.other_classes:
            continue
        days = groupby(band.other_classes, key=lambda one: one.period.start.date())
        found = [(day, [_period(context, one) for one in periods]) for day, periods in days]
        several = len(found) > 1
        told = [
            gettext("%(day)s %(periods)s", day=formatting.short_day(day), periods=with_commas(own))
            if several
            else with_commas(own)
            for day, own in found
        ]
        yield gettext(
            "%(band)s misses class: %(periods)s",
            band=context.say(band.ensemble.name),
            periods=with_semicolons(told),
        )


def _period(context: Context, one: MissedPeriod) -> str:
    number = _NUMBERED.fullmatch(one.period.id)
    name = context.say(one.period.name) or (
        gettext("period %(number)s", number=number[1]) if number else one.period.id
    )
    if one.whole:
        # Translators: all of a class period, such as "period 3 (all)".
        return gettext("%(period)s (all)", period=name)
    return gettext("%(period)s (%(minutes)s min)", period=name, minutes=one.minutes)


_Use = tuple[OfficeRow, RoomNeed]


def room_lines(context: Context, rows: Iterable[OfficeRow]) -> Iterator[RoomLine]:
    """List rooms and other places in order of time; uses of a room that follow within half an hour are one."""
    rows = tuple(rows)
    found = [
        ((uses[0][0].first, uses[0][1].start.timestamp()), line)
        for uses, line in _room_lines(context, rows)
    ]
    found += [
        ((row.first, row.begins.timestamp() if row.begins else 0), _other_place(context, row))
        for row in rows
        if row.kind is OfficeKind.EVENT and row.place and not row.rooms and not row.cancelled
    ]
    yield from (line for _, line in sorted(found, key=lambda one: one[0]))


def _other_place(context: Context, row: OfficeRow) -> RoomLine:
    """Give the place of an event that is no room of the program."""
    return RoomLine(
        date=dates(row.first, row.last),
        hours=_hours(row),
        room=place_name(context, row.place),
        what=_name(context, row),
        after_hours=False,
        ask=True,
    )


def _room_lines(
    context: Context, rows: Iterable[OfficeRow]
) -> Iterator[tuple[list[_Use], RoomLine]]:
    for uses in sorted(_in_a_row(rows), key=lambda uses: (uses[0][0].first, *_when(uses[0][1]))):
        needs = [need for _, need in uses]
        yield (
            uses,
            RoomLine(
                date=formatting.short_day(uses[0][0].first),
                hours=formatting.span(needs[0].start, max(one.end for one in needs)),
                room=context.say(needs[0].room.name),
                what=with_semicolons(_used_for(context, uses)),
                after_hours=any(one.after_hours for one in needs),
            ),
        )


def _in_a_row(rows: Iterable[OfficeRow]) -> list[list[_Use]]:
    """Put together what follows in a room of a day."""
    uses = [(row, need) for row in rows for need in row.rooms]
    uses.sort(key=lambda use: (use[0].first, use[1].room.id, *_when(use[1])))
    found: list[list[_Use]] = []
    for row, need in uses:
        last_row, last = found[-1][-1] if found else (None, None)
        same = last_row and last_row.first == row.first and last and last.room.id == need.room.id
        if same and last and need.start - last.end <= _GAP:
            found[-1].append((row, need))
        else:
            found.append([(row, need)])
    return found


def _when(need: RoomNeed) -> tuple[float, str]:
    return need.start.timestamp(), need.room.id


def _used_for(context: Context, uses: Iterable[_Use]) -> Iterator[str]:
    """Name what a room is for, each thing once; of rehearsals also whose, of the crew which roles."""
    bands: dict[str, list[str]] = {}
    for row, need in uses:
        whose = row.bands if row.kind is OfficeKind.REHEARSAL else ()
        name = _name(context, row)
        if need.crew:
            crew = with_commas(context.say(role) for role in need.crew)
            name = gettext("%(event)s: %(part)s", event=name, part=crew)
        named = bands.setdefault(name, [])
        named += [context.say(one.ensemble.name) for one in whose]
    for name, whose_names in bands.items():
        yield (
            gettext("%(rehearsal)s (%(bands)s)", rehearsal=name, bands=with_commas(whose_names))
            if whose_names
            else name
        )


def hours_in_words(minutes: int) -> str:
    """Write `30 h 39 min`; a dash for none."""
    return short_units((minutes // _HOUR, minutes % _HOUR, 0)) if minutes else "–"
