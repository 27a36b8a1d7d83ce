"""The year sheet for the office, made of concerts, events and rehearsals beside the class meetings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime, time

from handbook.domain.call_times import mark_after, mark_before
from handbook.domain.class_time import MissedPeriod, Span, missed_periods
from handbook.domain.meetings import RehearsalKind
from handbook.domain.shared_players import together
from handbook.plan.concert_day.classes import away
from handbook.plan.concert_model import ConcertDay, GroupDay
from handbook.plan.events import Places
from handbook.plan.events_model import EventDay, EventRow, PlaceRow
from handbook.plan.model import ConcertPlan, CyclePlan, EnsemblePlan, Plan, RehearsalRow
from handbook.plan.parts import takes_part
from handbook.plan.room_needs import RoomTime, concert_rooms, players_groups
from handbook.plan.school_clock import SchoolClock, days_from
from handbook.plan.shared_players import shared_counts
from handbook.plan.year_sheet_model import (
    BandAway,
    BandYear,
    CrewAway,
    OfficeKind,
    OfficeRide,
    OfficeRow,
    RoomNeed,
    YearSheet,
)
from handbook.schema.program import Ensemble, Program, Room, Venue
from handbook.schema.year import Year


def year_sheets(plan: Plan) -> tuple[YearSheet, ...]:
    """Reckon the sheet of each school year that has a cycle, the first one first."""
    years = {cycle.item.year: cycle.year for cycle in plan.cycles}
    sheets = (
        _Sheet(plan, name, SchoolClock(year, plan.zone)).made(year) for name, year in years.items()
    )
    return tuple(sorted(sheets, key=lambda sheet: sheet.year.first_day))


class _Sheet:
    """One year's sheet while it is made."""

    def __init__(self, plan: Plan, year_id: str, clock: SchoolClock) -> None:
        self._plan, self._clock, self._id = plan, clock, year_id
        self._program: Program = plan.program
        self._cycles = [cycle for cycle in plan.cycles if cycle.item.year == year_id]
        self._shared = shared_counts(plan.program.ensembles)
        self._homes = _homes(plan.program)
        self._elsewhere = _elsewhere(plan, self._homes)
        self._bands = {band.id: band for band in plan.program.ensembles}

    def made(self, year: Year) -> YearSheet:
        found = [self._concert(concert) for cycle in self._cycles for concert in cycle.concerts]
        for event in self._plan.events:
            found += [
                self._event(event, day)
                for day in event.days
                if day.first <= year.last_day and year.first_day <= day.last
            ]
        for cycle in self._cycles:
            found += self._extras(cycle)
        rows = tuple(sorted(found, key=_order))
        bands = tuple(self._band_year(band, rows) for band in self._program.ensembles)
        return YearSheet(self._id, year, rows, bands)

    def _concert(self, concert: ConcertPlan) -> OfficeRow:
        day, item = concert.day, concert.item
        groups = () if concert.cancelled else day.groups
        bands = tuple(self._bands_of(day, groups))
        spans = [_away(day, group) for group in players_groups(day, self._bands) if groups]
        return OfficeRow(
            kind=OfficeKind.CONCERT,
            first=item.date,
            last=item.date,
            name=item.name,
            cancelled=item.cancelled,
            begins=min((start for start, _ in spans), key=_instant, default=None),
            starts=concert.downbeat,
            over=max((end for _, end in spans), key=_instant, default=None),
            bands=bands,
            players=self._players(
                {one.band: one.ensemble.instruments for one in bands if not one.some}
            )
            + sum(one.players for one in bands if one.some),
            place=PlaceRow(venue=concert.venue),
            rides=() if concert.cancelled else day.rides,
            rooms=() if concert.cancelled else self._rooms(concert_rooms(concert, self._program)),
            opens=day.opens,
            closes=day.closes,
            crew=tuple(
                CrewAway(group.role.name, group.role.people or 0, group.call)
                for group in groups
                if group.role and not group.role.ensemble
            ),
        )

    def _bands_of(self, day: ConcertDay, groups: Sequence[GroupDay]) -> Iterator[BandAway]:
        """Give the bands that play, then those that are the crew and do not."""
        playing = {group.ensemble.id for group in groups if group.ensemble and not group.role}
        for group in groups:
            if group.ensemble and group.id == group.ensemble.id:
                band, players = group.ensemble, group.ensemble.players
            elif group.role and group.role.ensemble in self._bands.keys() - playing:
                band = self._bands[group.role.ensemble]
                players = group.role.people or band.players
            else:
                continue
            span = _away(day, group)
            missed = self._missed(band, span)
            some = players != band.players
            yield BandAway(band.id, band, players, missed, some=some, begins=span[0])

    def _event(self, event: EventRow, day: EventDay) -> OfficeRow:
        counts = {band.id: self._counted(band, event.players) for band in event.ensembles}
        away_then = day.away
        bands = [
            BandAway(
                band.id,
                band,
                sum(counts[band.id].values()),
                self._missed(band, away_then) if away_then else (),
                some=counts[band.id] != band.instruments,
            )
            for band in event.ensembles
            if not day.cancelled and (counts[band.id] or not band.instruments)
        ]
        moments, span = day.moments, day.span
        room = day.place.room if day.place and span else None
        return OfficeRow(
            kind=OfficeKind.EVENT,
            first=day.first,
            last=day.last,
            name=event.item.name or event.item.kind,
            part=day.name,
            cancelled=day.facts.cancelled,
            begins=moments.begins,
            starts=moments.starts,
            over=moments.over,
            bands=tuple(bands),
            players=self._players({band.band: counts[band.band] for band in bands}),
            place=day.place,
            ride=OfficeRide(day.meet, moments.leaves, moments.back) if day.facts.ride else None,
            rooms=self._rooms([RoomTime(room, *span)]) if room and span else (),
        )

    def _extras(self, cycle: CyclePlan) -> Iterator[OfficeRow]:
        """Give the rehearsals beside the class meetings; what several groups of a band have together once."""
        seen: set[tuple[str, Span]] = set()
        for ensemble in cycle.ensembles:
            for row in ensemble.rehearsals:
                key = ensemble.band, (row.rehearsal.start, row.rehearsal.end)
                if row.rehearsal.kind is RehearsalKind.EXTRA and key not in seen:
                    seen.add(key)
                    yield self._extra(ensemble, row)

    def _extra(self, ensemble: EnsemblePlan, row: RehearsalRow) -> OfficeRow:
        rehearsal, zone = row.rehearsal, self._plan.zone
        ride = next((one.item.ride for one in row.entries if one.item.ride), None)
        collected = next((one.item.pick_up for one in row.entries if one.item.pick_up), None)

        def moment(clock: time | None) -> datetime | None:
            return datetime.combine(rehearsal.day, clock, zone) if clock else None

        leaves, back = (moment(ride.leaves), moment(ride.back)) if ride else (None, None)
        begins = min(filter(None, (leaves, rehearsal.start)))
        there = max(filter(None, (rehearsal.end, back)))
        over = max(filter(None, (there, moment(collected))))
        # Nobody leaves the room before it is time to be collected, unless a bus takes them away.
        left = rehearsal.end if ride else over
        band = self._bands[ensemble.band]
        away_row = BandAway(
            ensemble.band,
            ensemble.item,
            ensemble.item.players,
            self._missed(band, (begins, there)),
        )
        return OfficeRow(
            kind=OfficeKind.REHEARSAL,
            first=rehearsal.day,
            last=rehearsal.day,
            name=rehearsal.name,
            cancelled=None,
            begins=begins,
            starts=rehearsal.start,
            over=over,
            bands=(away_row,),
            players=ensemble.item.players,
            place=PlaceRow(room=row.room) if row.room else None,
            ride=OfficeRide(Places(self._program).meeting(ride.meet), leaves, back)
            if ride
            else None,
            rooms=self._rooms(
                RoomTime(room, rehearsal.start, left) for room in self._rooms_of(row)
            ),
        )

    def _rooms_of(self, row: RehearsalRow) -> list[Room]:
        known = self._program.rehearsal_rooms
        rooms = [known.get(section.room or "", row.room) for section in row.day_plan.sections]
        return [room for room in rooms or [row.room] if room is not None]

    def _rooms(self, uses: Iterable[RoomTime]) -> tuple[RoomNeed, ...]:
        """Give each room once, from its first use to its last."""
        found: dict[str, list[RoomTime]] = {}
        for use in uses:
            found.setdefault(use.room.id, []).append(use)
        return tuple(map(self._need, found.values()))

    def _need(self, uses: Sequence[RoomTime]) -> RoomNeed:
        """Give whole minutes, so that none is too short."""
        room = uses[0].room
        first = mark_before(min((use.start for use in uses), key=_instant), 1)
        last = mark_after(max((use.end for use in uses), key=_instant), 1)
        crew = {use.crew.id: use.crew.name for use in uses if use.crew}
        return RoomNeed(
            room=room,
            venue=self._homes.get(room.id),
            start=first,
            end=last,
            after_hours=self._is_after_hours(room, first, last),
            crew=tuple(crew.values()) if all(use.crew for use in uses) else (),
        )

    def _is_after_hours(self, room: Room, start: datetime, end: datetime) -> bool:
        venue = self._homes.get(room.id)
        if venue is not None and venue.id in self._elsewhere:
            return False  # somebody else's house
        hours = self._clock.hours(start.date())
        return hours is None or start < hours[0] or hours[1] < end

    def _missed(self, band: Ensemble, span: Span) -> tuple[MissedPeriod, ...]:
        days = days_from(span[0].date(), span[1].date())
        return missed_periods(self._clock.periods_of(days, band), [span])

    def _counted(self, band: Ensemble, who: Sequence[str]) -> Mapping[str, int]:
        return {
            name: count
            for name, count in band.instruments.items()
            if takes_part(name, self._program.instrument(name), who)
        }

    def _players(self, counts: Mapping[str, Mapping[str, int]]) -> int:
        return sum(together(counts, self._shared).values())

    def _band_year(self, band: Ensemble, rows: Sequence[OfficeRow]) -> BandYear:
        held = {
            one.start: one
            for cycle in self._cycles
            for plan in cycle.of_band(band.id)
            for one in (row.rehearsal for row in plan.rehearsals)
        }
        beside = [one for one in held.values() if one.kind is RehearsalKind.EXTRA]
        in_class = [one for one in held.values() if one.kind is not RehearsalKind.EXTRA]
        missed = [one for row in rows for one in row.bands if one.band == band.id]
        return BandYear(
            ensemble=band,
            in_class=len(in_class),
            class_minutes=sum(one.minutes for one in in_class),
            beside=len(beside),
            beside_minutes=sum(one.minutes for one in beside),
            periods=sum(len(one.other_classes) for one in missed),
            minutes=sum(one.minutes for one in missed),
            own_minutes=sum(one.own_minutes for one in missed),
            player_minutes=sum(one.players * one.minutes for one in missed),
        )


def _away(day: ConcertDay, group: GroupDay) -> Span:
    """Give the time a group is there, with the way back by bus."""
    start, end = away(group)
    back = day.rides[group.ride].back.unloaded if group.ride is not None else end
    return mark_before(start, 1), mark_after(max(end, back, key=_instant), 1)


def _homes(program: Program) -> Mapping[str, Venue]:
    """Give the venue of each room that is of one, its stage too."""
    return {
        room: venue
        for venue in program.venues
        for room in (venue.stage, *(one.id for one in venue.rooms))
        if room
    }


def _elsewhere(plan: Plan, homes: Mapping[str, Venue]) -> frozenset[str]:
    """Find the venues that are not at school: those to which players ride."""
    found = [
        concert.venue.id
        for cycle in plan.cycles
        for concert in cycle.concerts
        if concert.item.travel
    ]
    found += [
        homes[row.room.id].id
        for cycle in plan.cycles
        for ensemble in cycle.ensembles
        for row in ensemble.rehearsals
        if row.room and row.room.id in homes and any(one.item.ride for one in row.entries)
    ]
    return frozenset(found)


def _order(row: OfficeRow) -> tuple[date, float, str]:
    moment = row.begins or row.starts
    return row.first, moment.timestamp() if moment else 0, str(row.name or "")


def _instant(moment: datetime) -> datetime:
    return moment.astimezone(UTC)
