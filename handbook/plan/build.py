"""The one place that unpacks the content into the calculators and gathers the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import pairwise
from zoneinfo import ZoneInfo

from handbook.domain.meetings import Rehearsal
from handbook.domain.minutes import AgendaError, AgendaFault
from handbook.domain.rehearsals import RehearsalCalendar
from handbook.domain.stages import StageSplitError
from handbook.domain.values.text import Text
from handbook.plan.absences import absences
from handbook.plan.agendas import (
    CycleAgendas,
    agenda_problem,
    cycle_agendas,
    nothing_chosen,
    start_of,
    strands_in_order,
)
from handbook.plan.behind import as_it_stands, day_after, falls_behind, logged_places
from handbook.plan.concert import concert_plan
from handbook.plan.concert_day import Ground
from handbook.plan.concerts_ahead import next_concerts
from handbook.plan.dates import DatedCycle, ensemble_calendar, told_once
from handbook.plan.events import event_rows, events_between
from handbook.plan.events_model import AwayRow
from handbook.plan.joined import whole_bands, with_joined_pieces
from handbook.plan.logs import Logs, logs_by_rehearsal, with_reached
from handbook.plan.model import (
    ConcertPlan,
    CyclePlan,
    EnsemblePlan,
    FundamentalsPlan,
    PieceRow,
    Plan,
    RehearsalRow,
    StageSpan,
    Start,
)
from handbook.plan.music import piece_row
from handbook.plan.news import Known, as_announced, known_states, with_effect
from handbook.plan.parts import part_plans
from handbook.plan.past import held_rows, keeping, past_music
from handbook.plan.players import Players, players_of
from handbook.plan.programs import first_played, over_from, played_on
from handbook.plan.rhythms import exercise_rhythms, piece_rhythms
from handbook.plan.rows import rehearsal_rows
from handbook.plan.season import SeasonPlan, season_row, with_ladders, with_what_gave_way
from handbook.plan.season_need import Past
from handbook.plan.stages import held_spans, split_problem, stage_spans
from handbook.problems import Address, Problem
from handbook.records import dataclass
from handbook.schema.concert import Concert
from handbook.schema.cycle import Cycle
from handbook.schema.handbook import CycleContent, FreePage, Handbook, Sourced, concert_id
from handbook.schema.program import Program, Room
from handbook.schema.year import Year


@dataclass(frozen=True, slots=True)
class PlanResult:
    """The plan, and what could not be reckoned and so is left out of it.

    `reached` is what each ensemble brings to cycles after these.
    """

    plan: Plan
    problems: tuple[Problem, ...]
    reached: Mapping[str, Start]


def build_plan(
    handbook: Handbook,
    reached: Mapping[str, Start] | None = None,
    *,
    mended: bool = True,
    for_players: bool = True,
) -> PlanResult:
    """Reckon the whole plan of a handbook whose references all hold.

    Cycles are taken in order of their first day, since each goes on from the
    fundamentals that the one before it reached; `reached` is what ensembles bring from cycles
    before these, which are not in the handbook. Mends of seasons that lack hours are looked
    for only if `mended`. Players' own parts, and what to reach at home each week, which no
    check looks at, are reckoned if `for_players`.
    """
    return _Builder(handbook, reached or {}, mended=mended, for_players=for_players).build()


def plan_band(
    handbook: Handbook, cycle: str, band: str, reached: Mapping[str, Start]
) -> tuple[EnsemblePlan, ...]:
    """Reckon the cycle of one band alone, that of each of its groups, if it has any.

    `reached` is what ensembles bring from earlier cycles. It has the rehearsals, the music and
    the climbs of the whole plan, but no parts and no pieces of other bands.
    """
    builder = _Builder(handbook, reached, mended=False, for_players=False)
    content = next(one for one in handbook.cycles if one.id == cycle)
    return tuple(builder.band(content, band))


def in_order(cycles: Iterable[CycleContent]) -> list[CycleContent]:
    """Sort cycles by their first day."""
    return sorted(cycles, key=lambda content: (content.cycle.item.starts, content.id))


def cycle_last_day(content: CycleContent) -> date:
    """Give a cycle's last day: its last concert's, else the one stated, else its first."""
    cycle = content.cycle.item
    return content.concert.item.date if content.concert else cycle.ends or cycle.starts


@dataclass(frozen=True, slots=True)
class _State:
    """What an ensemble's cycle is planned from, as it was known until the day before `until`."""

    content: CycleContent
    known: Known
    until: date | None
    calendar: RehearsalCalendar
    players: Players
    address: Address

    def since(self, day: date) -> _State:
        """Let what has been before a day stay as it was."""
        return replace(self, known=replace(self.known, since=day))


@dataclass(frozen=True, slots=True)
class _Planned:
    """An ensemble's plan, and the season that it was made of."""

    plan: EnsemblePlan
    season: SeasonPlan


class _Builder:
    """Holds what every cycle needs, and the level each ensemble has reached."""

    def __init__(
        self, handbook: Handbook, reached: Mapping[str, Start], *, mended: bool, for_players: bool
    ) -> None:
        self.handbook, self.mended, self.for_players = handbook, mended, for_players
        self.program = handbook.program.item
        self.language = self.program.languages[0]
        self.zone = ZoneInfo(self.program.time_zone)
        self.fundamentals = _fundamentals(handbook)
        strands = self.fundamentals.strands if for_players else ()
        self.rhythms = exercise_rhythms(strands, self.program.counting)
        self.bands = {one.id: one for one in self.program.ensembles}
        self.rooms: Mapping[str, Room] = self.program.rehearsal_rooms
        self.events = event_rows(handbook.events, self.program, self.zone)
        self.reached = dict(reached)
        self.problems: list[Problem] = []

    def build(self) -> PlanResult:
        plan = Plan(
            program=self.program,
            zone=self.zone,
            languages=self.program.languages,
            cycles=tuple(self._cycle(content) for content in in_order(self.handbook.cycles)),
            fundamentals=self.fundamentals,
            words=self._words(),
            pages=_in_order(self.handbook.pages, self.program),
            media=self.handbook.media,
            exercise_rhythms=self.rhythms,
            media_files=self.handbook.media_files,
            events=self.events,
        )
        return PlanResult(plan, tuple(self.problems), self.reached)

    def _words(self) -> Mapping[str, Text]:
        words = dict(self.program.words)
        for content in self.handbook.cycles:
            for music in content.music:
                words |= music.item.words
        return {**words, **self.handbook.elsewhere}

    def _cycle(self, content: CycleContent) -> CyclePlan:
        cycle = content.cycle.item
        year, dated = self.handbook.years[cycle.year], self._dated(content)
        planned = [plan for name in cycle.ensembles for plan in self.band(content, name)]
        concerts = [one.item for one in content.concerts]
        found = with_joined_pieces(concerts, planned, self.program)
        by_id = whole_bands(found, self.bands)
        return CyclePlan(
            id=content.id,
            item=cycle,
            address=(content.cycle.file,),
            year=year.item,
            first=dated.first,
            last=dated.last,
            concerts=tuple(self._concert(one, year, by_id) for one in content.concerts),
            ensembles=found,
            events=events_between(self.events, dated.first, dated.last),
            ahead=next_concerts(self.handbook, content.id, dated.last),
            logs=content.logs,
        )

    def _concert(
        self, concert: Sourced[Concert], year: Sourced[Year], plans: Mapping[str, EnsemblePlan]
    ) -> ConcertPlan:
        venue = next(one for one in self.program.venues if one.id == concert.item.venue)
        program = self.handbook.program
        return concert_plan(Ground(concert, program, year, venue, self.zone, self.language), plans)

    def _dated(self, content: CycleContent) -> DatedCycle:
        cycle, last = content.cycle.item, cycle_last_day(content)
        year = self.handbook.years[cycle.year]
        return DatedCycle(content.cycle, year, cycle.starts, last, self.zone, self.language)

    def band(self, content: CycleContent, ensemble_id: str) -> Iterator[EnsemblePlan]:
        """Plan a band's cycle: that of each of its groups, if it has any."""
        dated = replace(self._dated(content), last=_last_day_of(content, ensemble_id))
        place = content.cycle.item.ensembles.index(ensemble_id)
        address = (content.cycle.file, "ensembles", place)
        players = players_of(self.bands[ensemble_id])
        dates = [replace(dated, away=self._away(dated, one)) for one in players]
        calendars = [ensemble_calendar(of, one) for of, one in zip(dates, players, strict=True)]
        self.problems += told_once(dated.cycle.item, [problems for _, problems in calendars])
        for one, own, (calendar, _) in zip(players, dates, calendars, strict=True):
            plan = self._ensemble(content, _less(own, calendar), one, calendar, address)
            if plan:
                self.reached[one.id] = plan.reached
                yield plan

    def _away(self, dated: DatedCycle, players: Players) -> tuple[AwayRow, ...]:
        return absences(events_between(self.events, dated.first, dated.last), players, self.program)

    def _ensemble(
        self,
        content: CycleContent,
        dated: DatedCycle,
        players: Players,
        calendar: RehearsalCalendar,
        address: Address,
    ) -> EnsemblePlan | None:
        """Plan one ensemble's cycle; each piece of news changes only what lies ahead of it."""
        own = [
            one
            for music in content.music
            for one in music.item.pieces
            if players.band.id in one.played_by
        ]
        days = [rehearsal.day for rehearsal in calendar.rehearsals]
        before: EnsemblePlan | None = None
        earlier: list[EnsemblePlan] = []
        apart = [
            day for piece in own if (day := over_from(content, piece, players.band.id, dated.last))
        ]
        apart += _told_moves(content, players.band.id)
        *earlier_states, now = known_states(dated, players, days, apart)
        earlier_states = [
            _as_announced(content, known, players.band.id) for known in earlier_states
        ]
        calendars = [ensemble_calendar(known.dated, players)[0] for known in earlier_states]
        states = with_effect((*earlier_states, now), (*calendars, calendar), apart)
        for (known, then), (news, _) in pairwise(states):
            told = len(self.problems)
            of = _State(as_announced(content, known.by), known, news.since, then, players, address)
            before = self._through_logs(of, before, mended=False)
            earlier += [before] if before else []
            del self.problems[told:]  # what is wrong now is told below
        of = _State(content, states[-1][0], None, calendar, players, address)
        plan = self._through_logs(of, before, mended=self.mended)
        return plan and with_what_gave_way(plan, earlier)

    def _through_logs(
        self, of: _State, before: EnsemblePlan | None, *, mended: bool
    ) -> EnsemblePlan | None:
        """Plan by what was known, and anew after each log by which a goal is out of reach or late.

        `before` is the plan that held till then.
        """
        found = self._as_known(of, before, mended=mended)
        logged = list(logged_places(found.plan, of.known.since, of.until)) if found else []
        if found is None or not logged:
            return found.plan if found else None
        told, cycle, anew = len(self.problems), of.content.cycle.item, False
        for place in logged:
            stands = as_it_stands(found.season, found.plan, cycle, place)
            if not falls_behind(found.season, stands):
                found = replace(found, season=stands)
                continue
            of = of.since(day_after(found.plan, place))
            later = self._as_known(of, found.plan, mended=False)
            if later:
                before, found, anew = found.plan, later, True
        mends = found.plan.season.mends if found.plan.season else None
        if mended and anew and (last := self._as_known(of, before, mended=True)):
            mends = last.plan.season.mends if last.plan.season else None
        del self.problems[told:]  # told already by the plan that the logs began with
        return replace(found.plan, season=season_row(found.season, mends))

    def _as_known(
        self, of: _State, before: EnsemblePlan | None, *, mended: bool
    ) -> _Planned | None:
        """Plan an ensemble's cycle by what was known; `before` is the plan that held till then."""
        content, known, calendar, players = of.content, of.known, of.calendar, of.players
        dated = known.dated
        days = [rehearsal.day for rehearsal in calendar.rehearsals]
        held = held_rows(before, known.since, calendar.rehearsals)
        spans = self._spans(content, dated, players.id, days, before, len(held))
        if spans is None:
            return None
        told = len(self.problems)
        logs = logs_by_rehearsal(content.logs, players, calendar.rehearsals)
        pieces = with_reached(self._pieces(content, players, days, dated.last), logs)
        lost_passages = len(self.problems) > told
        past = past_music(before, known.since, len(held))
        try:
            agendas = self._agendas(
                dated.cycle.item,
                players,
                calendar.rehearsals,
                spans,
                pieces,
                past,
                _gap(content, players.band.id),
                mended=mended,
            )
        except AgendaError as error:
            # Passages without a ladder have been told: that nothing is left is their doing.
            if not (lost_passages and error.kind is AgendaFault.NOTHING_TO_REHEARSE):
                self.problems.append(
                    agenda_problem(error, content.cycle.file, players.id, calendar.rehearsals)
                )
            return None
        if dated.cycle.item.draft and not pieces and not agendas.strands:
            self.problems.append(nothing_chosen(content.cycle.file, players.id))
        climbed = with_ladders(
            dated.cycle.item, spans, pieces, agendas.season, days, past, weekly=self.for_players
        )
        pieces = tuple(
            replace(piece, passages=passages)
            for piece, passages in zip(pieces, climbed, strict=True)
        )
        plan = self._gathered(of, spans, pieces, agendas, held, logs)
        return _Planned(plan, agendas.season)

    def _spans(
        self,
        content: CycleContent,
        dated: DatedCycle,
        ensemble_id: str,
        days: Sequence[date],
        before: EnsemblePlan | None,
        held: int,
    ) -> tuple[StageSpan, ...] | None:
        """Split the rehearsals over the stages, after the first `held` as they stood before; None if that cannot be."""
        stages, file = dated.cycle.item.stages, (content.cycle.file,)
        if not days:
            return None
        try:
            if before and held:
                return held_spans(before.stages, days, held, dated.last)
            return stage_spans(stages, days, dated.first, dated.last)
        except StageSplitError as error:
            self.problems.append(split_problem(error, file, ensemble_id, len(days), len(stages)))
            return None

    def _gathered(
        self,
        of: _State,
        spans: tuple[StageSpan, ...],
        pieces: tuple[PieceRow, ...],
        agendas: CycleAgendas,
        held: Sequence[RehearsalRow],
        logs: Sequence[Logs],
    ) -> EnsemblePlan:
        """Gather what was reckoned of an ensemble's cycle; rehearsals that have been stay as they were."""
        dated, players, calendar, item = of.known.dated, of.players, of.calendar, of.players.item
        room = self.rooms.get(item.room or "")
        rows = rehearsal_rows(
            dated.cycle.item,
            players,
            calendar.rehearsals,
            spans,
            pieces,
            agendas,
            self.program,
            room,
            dated.away,
            logs,
        )
        return EnsemblePlan(
            item=item,
            band=players.band.id,
            address=of.address,
            room=room,
            rehearsals=keeping(held, rows),
            missed=calendar.missed,
            stages=spans,
            pieces=pieces,
            strands=agendas.strands,
            warm_up=agendas.warm_up,
            parts=part_plans(self.program, item, pieces, agendas.strands, self.rhythms)
            if self.for_players
            else (),
            season=season_row(agendas.season, agendas.mends),
            reached=agendas.reached,
        )

    def _pieces(
        self, content: CycleContent, players: Players, days: list[date], last: date
    ) -> tuple[PieceRow, ...]:
        concerts = {concert_id(one.file): one.item.date for one in content.concerts}
        rows = []
        for music in content.music:
            for place, piece in enumerate(music.item.pieces):
                if players.band.id in piece.played_by:
                    address = (music.file, "pieces", place)
                    row, problems = piece_row(piece, address, days, self.program, players, concerts)
                    row = replace(
                        row,
                        played=played_on(content, piece, players.band.id),
                        ready_by=first_played(content, piece, players.band.id, last),
                        over=over_from(content, piece, players.band.id, last),
                    )
                    if self.for_players:
                        counted = piece_rhythms(piece, self.program.counting)
                        row = replace(row, rhythms=counted)
                    if row.passages or problems or players.group is None:
                        rows.append(row)
                    # What is wrong for two bands alike is told once.
                    self.problems += [one for one in problems if one not in self.problems]
        return _in_program_order(content, players.band.id, rows)

    def _agendas(
        self,
        cycle: Cycle,
        players: Players,
        rehearsals: tuple[Rehearsal, ...],
        spans: tuple[StageSpan, ...],
        pieces: tuple[PieceRow, ...],
        past: Past | None,
        gap: Fraction,
        *,
        mended: bool,
    ) -> CycleAgendas:
        year = self.handbook.years[cycle.year].item
        return cycle_agendas(
            cycle,
            rehearsals,
            spans,
            pieces,
            self.fundamentals,
            players,
            start_of(players, cycle.year, year, self.reached.get(players.id)),
            gap=gap,
            past=past,
            mended=mended,
        )


def _last_day_of(content: CycleContent, ensemble_id: str) -> date:
    """Give the day on which an ensemble's cycle ends: with the last concert that it plays at, held or not."""
    own = [one.item.date for one in content.concerts if ensemble_id in one.item.players]
    return own[-1] if own else cycle_last_day(content)


def _as_announced(content: CycleContent, known: Known, ensemble_id: str) -> Known:
    """Let a cycle end for an ensemble with the last concert that it was known to play at then."""
    last = _last_day_of(as_announced(content, known.by), ensemble_id)
    return replace(known, dated=replace(known.dated, last=last))


def _told_moves(content: CycleContent, ensemble_id: str) -> Iterator[date]:
    """Give the days on which it became known that concerts of an ensemble were moved."""
    for concert in content.concerts:
        item = concert.item
        if item.moved_from and item.told and ensemble_id in item.players:
            yield item.told


def _less(dated: DatedCycle, calendar: RehearsalCalendar) -> DatedCycle:
    """Leave out the events that take no rehearsal away: they are no news."""
    lost = [missed.day for missed in calendar.missed if missed.cause == "event"]
    away = tuple(
        one
        for one in dated.away
        if not one.whole
        or (one.day.moved_from and one.told)
        or any(one.day.first <= day <= one.day.last for day in lost)
    )
    return replace(dated, away=away)


def _gap(content: CycleContent, ensemble_id: str) -> Fraction:
    """Give the seconds between two pieces of a band at its last concert."""
    own = [one for one in content.concerts if ensemble_id in one.item.players] or content.concerts
    return Fraction(own[-1].item.gap_seconds) if own else Fraction(0)


def _in_program_order(
    content: CycleContent, ensemble_id: str, rows: list[PieceRow]
) -> tuple[PieceRow, ...]:
    """Put pieces in the order of the concert's program; others follow as they were listed.

    One that was dropped, and so taken off the program, stays behind the one it was listed after.
    """
    order = [
        piece
        for concert in content.concerts
        for turn in concert.item.program
        if ensemble_id in turn.names
        for piece in turn.pieces
    ]
    places = {piece: (place, 0) for place, piece in enumerate(dict.fromkeys(order))}
    before = (-1, 0)
    for row in rows:
        if row.item.dropped and row.item.id not in places:
            places[row.item.id] = (before[0], before[1] + 1)
        before = places.get(row.item.id, before)
    return tuple(sorted(rows, key=lambda row: places.get(row.item.id, (len(order), 0))))


def _fundamentals(handbook: Handbook) -> FundamentalsPlan:
    files = [file.item for file in handbook.fundamentals]
    return FundamentalsPlan(
        strands=strands_in_order(
            [strand for file in files for strand in file.strands],
            [name for file in files for name in file.order],
        ),
        habits=tuple(habit for file in files for habit in file.habits),
        warm_ups=tuple(warm_up for file in files for warm_up in file.warm_ups),
    )


def _in_order(pages: Sequence[FreePage], program: Program) -> tuple[FreePage, ...]:
    """Put free pages in the order of the program, the others after them in that of their files.

    A page in the folder of a language stands where the page of its name does.
    """
    places = {name: place for place, name in enumerate(program.pages)}

    def place(page: FreePage) -> int:
        folder, _, name = page.slug.partition("/")
        meant = name if name and folder in program.languages else page.slug
        return places.get(page.slug, places.get(meant, len(places)))

    return tuple(sorted(pages, key=place))
