"""The plan: everything that follows from the content, reckoned once, as frozen records.

Each record keeps the validated item beside what was computed from it, and the address
of the item, so that pages can show any field and checks can point at its place.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date, datetime
from zoneinfo import ZoneInfo

from handbook.domain.ladders import Rung
from handbook.domain.meetings import Rehearsal
from handbook.domain.minutes import Agenda
from handbook.domain.reached import ReachedTempo, in_beat_of, played_at
from handbook.domain.rehearsals import MissedDay
from handbook.domain.season import Law, Mix, MusicKind
from handbook.domain.season_mends import MendKind
from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.tempo import Tempo
from handbook.domain.values.text import Text
from handbook.domain.week_targets import WeekTarget
from handbook.plan.concert_model import ConcertDay, DayConflict
from handbook.plan.events_model import AwayRow, EventRow
from handbook.plan.parts_model import PartPlan, PieceRhythm, RhythmRow
from handbook.plan.steering import NO_WISH, DayEntry, DayPlan, PassageKey
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.concert import Appearance, Concert, Guest
from handbook.schema.cycle import Cycle, Stage
from handbook.schema.fundamentals import Exercise, Habit, Strand, WarmUp
from handbook.schema.handbook import ConcertAhead, FreePage, MediaFile, Sourced
from handbook.schema.log import Log
from handbook.schema.music import Part, Passage, Piece
from handbook.schema.program import Ensemble, Program, Room, StaffRole, Venue
from handbook.schema.rain import ConcertRainPlan
from handbook.schema.year import Year


@dataclass(frozen=True, slots=True)
class StageSpan:
    """A stage of one ensemble; `first` and `last` are places in its rehearsals, both included.

    `begins` and `ends` are dates: a stage ends the day before the next begins, the last
    one with the concert.
    """

    item: Stage
    index: int
    first: int
    last: int
    begins: date
    ends: date

    @property
    def count(self) -> int:
        """How many rehearsals it has."""
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class StretchRow:
    """A join or run of a piece: the measures it plays, both included, and the passages it holds."""

    kind: MusicKind
    piece: Piece
    measures: MeasureSpan
    passages: tuple[Passage, ...]


@dataclass(frozen=True, slots=True)
class BlockRow:
    """A block of an agenda with what it is about.

    Fundamentals carry their strand and exercise; music its piece, and either its passage
    with the rung or the stretch of a join or run; `start` is the clock time.
    """

    kind: str
    start: datetime
    minutes: int
    strand: Strand | None = None
    exercise: Exercise | None = None
    piece: Piece | None = None
    passage: Passage | None = None
    rung: Rung | None = None
    stretch: StretchRow | None = None


@dataclass(frozen=True, slots=True)
class RehearsalRow:
    """One rehearsal with its stage, purpose and minutes; `place` counts from 0.

    `day_plan` is what the director asks of it, in the `entries` that are about it;
    `habit` is the one told in its notices; `missing` are players who are at an event then.
    `logs` are the director's own, and no page looks at them.
    """

    place: int
    rehearsal: Rehearsal
    stage: StageSpan
    purpose: Text
    thanks: Text | None
    notices: tuple[Text, ...]
    agenda: Agenda
    blocks: tuple[BlockRow, ...]
    room: Room | None
    day_plan: DayPlan = NO_WISH
    entries: tuple[DayEntry, ...] = ()
    habit: Habit | None = None
    led_by: tuple[StaffRole, ...] = ()
    missing: tuple[AwayRow, ...] = ()
    logs: tuple[Sourced[Log], ...] = ()


@dataclass(frozen=True, slots=True)
class Visit:
    """A rehearsal (its place, from 0) in which a passage is played, how, and the tempo then."""

    place: int
    kinds: tuple[MusicKind, ...]
    rung: Rung


@dataclass(frozen=True, slots=True)
class DatedGoal:
    """A tempo on the way to a goal, by the end of a day, or of a stage by its id."""

    by: date | str
    tempo: Tempo


@dataclass(frozen=True, slots=True)
class ReachedRow:
    """What a rehearsal really reached of a passage, and the place in the log that says so."""

    at: ReachedTempo
    address: Address

    def is_below(self, tempo: Tempo) -> bool:
        """Whether it was slower than a tempo, or not played at all."""
        mine = self.at.tempo
        return mine is None or mine.quarters_per_minute < tempo.quarters_per_minute


@dataclass(frozen=True, slots=True)
class PassageRow:
    """A passage with its visits and one practice target a week; `goals` are those on its way.

    `reached` is what rehearsals really reached, in their order: for the director alone.
    """

    item: Passage
    address: Address
    visits: tuple[Visit, ...] = ()
    weeks: tuple[WeekTarget, ...] = ()
    goals: tuple[DatedGoal, ...] = ()
    reached: tuple[ReachedRow, ...] = ()

    @property
    def first_tempo(self) -> Tempo:
        """The tempo of the first visit; the goal if there is none."""
        return self.visits[0].rung.tempo if self.visits else self.item.goal

    def tempo_by(self, place: int) -> Tempo | None:
        """Give the tempo that class has after a rehearsal: as it was reached, else as planned."""
        visits = {one.place: one.rung.tempo for one in self.visits}
        played = played_at(visits, [one.at for one in self.reached], place)
        return in_beat_of(self.item.goal, played[-1][1]) if played else None

    @property
    def slowest_tempo(self) -> Tempo:
        """The slowest tempo of all visits; the goal if there is none."""
        tempos = (visit.rung.tempo for visit in self.visits)
        return min(tempos, key=lambda tempo: tempo.bpm, default=self.item.goal)

    @property
    def at_goal(self) -> tuple[Visit, ...]:
        """The visits at the goal, after all that were slower, planned or really."""
        goal = self.item.goal
        slower = [visit.place for visit in self.visits if visit.rung.tempo != goal]
        slower += [one.at.place for one in self.reached if one.is_below(goal)]
        last = max(slower, default=-1)
        return tuple(visit for visit in self.visits if visit.place > last)


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part of a piece's form; `seconds` covers all its `times`, exactly."""

    item: Part
    seconds: float
    times: int = 1

    @property
    def about(self) -> bool:
        """Whether its tempo is a range or free, so that it lasts about as long."""
        return self.item.tempo.about


@dataclass(frozen=True, slots=True)
class PieceRow:
    """A piece with its duration in seconds (exact), its passages and its rhythms.

    It is `played` on these days. Where its ensemble plays it at a concert before its last one, it
    is at its goals by the day `ready_by`; from the day `over` on it is not rehearsed, since it was dropped or has been
    played for the last time.
    """

    item: Piece
    address: Address
    seconds: float
    parts: tuple[PartRow, ...]
    passages: tuple[PassageRow, ...]
    rhythms: tuple[PieceRhythm, ...] = ()
    played: tuple[date, ...] = ()
    ready_by: date | None = None
    over: date | None = None

    @property
    def about(self) -> bool:
        """Whether it lasts about as long, and no more can be said."""
        return any(part.about for part in self.parts)


@dataclass(frozen=True, slots=True)
class StrandRow:
    """A strand in one ensemble's cycle: the exercise of each appearance.

    `appearances` pairs places in the ensemble's rehearsals with exercises;
    `finished_level` is the highest level whose rehearsals were all held, None for none.
    """

    item: Strand
    first_level: int
    last_level: int
    finished_level: int | None
    appearances: tuple[tuple[int, Exercise], ...]


@dataclass(frozen=True, slots=True)
class JoinedPiece:
    """A piece of another ensemble, `host`, which this one joins at the concert."""

    host: Ensemble
    piece: PieceRow


@dataclass(frozen=True, slots=True)
class LawRow:
    """A law that gave way: for which passage, or (None) for measures that nothing plays in a stage.

    `lack` counts visits; `first` and `last` are places of rehearsals, both included. Of the law
    that a goal is in time, it may be one `on_the_way`.
    """

    law: Law
    lack: int
    first: int
    last: int
    piece: Piece | None = None
    passage: Passage | None = None
    measures: MeasureSpan | None = None
    on_the_way: DatedGoal | None = None


@dataclass(frozen=True, slots=True)
class MendRow:
    """A single change with which more laws are kept: all those in `keeps`.

    `size` is of the kind's own measure; more rehearsals are in a `stage`, `before` one held
    that day; `passages` are
    those left out, or those with the lower goal (and the start that goes with it) in
    place; `mixes` are the new shares of stages.
    """

    kind: MendKind
    size: int
    keeps: frozenset[Law]
    stage: Stage | None = None
    before: date | None = None
    passages: tuple[Passage, ...] = ()
    mixes: tuple[tuple[Stage, Mix], ...] = ()


@dataclass(frozen=True, slots=True)
class SeasonRow:
    """What a season's plan keeps: every passage comes back within `window` rehearsals with music.

    `minutes` of music by kind, over the whole cycle; `unmet` are the laws that gave way,
    `mends` what would restore them, None if that was not looked for. `usual` is the place of the rehearsal by which a
    passage (by its piece's id and its own) is at its goal if no lock is stated.
    """

    window: int
    minutes: Mapping[MusicKind, int]
    unmet: tuple[LawRow, ...] = ()
    mends: tuple[MendRow, ...] | None = None
    usual: Mapping[PassageKey, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Start:
    """What an ensemble brings from earlier cycles: levels finished by strand, cycles played.

    `year` is the school year of its last cycle, None before its first.
    """

    finished: Mapping[str, int] = field(default_factory=dict)
    cycles: int = 0
    year: str | None = None


@dataclass(frozen=True, slots=True)
class EnsemblePlan:
    """One ensemble in one cycle; `parts` has one for each instrument it counts.

    `joined` are the pieces that it plays with another ensemble, to whom they belong. `band` is
    the id of the band that plays the concert: another than its own for a group of one.
    """

    item: Ensemble
    band: str
    address: Address
    room: Room | None
    rehearsals: tuple[RehearsalRow, ...]
    missed: tuple[MissedDay, ...]
    stages: tuple[StageSpan, ...]
    pieces: tuple[PieceRow, ...]
    strands: tuple[StrandRow, ...]
    warm_up: WarmUp | None
    parts: tuple[PartPlan, ...] = ()
    joined: tuple[JoinedPiece, ...] = ()
    season: SeasonRow | None = None
    reached: Start = field(default_factory=Start)

    @property
    def weeks(self) -> tuple[date, ...]:
        """The Mondays of the ISO weeks that have a rehearsal, in order."""
        days = (row.rehearsal.day for row in self.rehearsals)
        return tuple(sorted({date.fromisocalendar(*day.isocalendar()[:2], 1) for day in days}))


_MINUTE = 60


@dataclass(frozen=True, slots=True)
class AppearancePlan:
    """One turn on the program: of an ensemble with its pieces, or of guests."""

    item: Appearance
    ensemble: Ensemble | None
    pieces: tuple[PieceRow, ...]
    call: datetime | None
    guest: Guest | None = None

    @property
    def seconds(self) -> float:
        """Exact seconds of music."""
        return sum(piece.seconds for piece in self.pieces) + self._of_guests

    @property
    def _of_guests(self) -> int:
        if self.guest is None:
            return 0
        minutes = sum(piece.minutes for piece in self.guest.pieces) or self.guest.minutes or 0
        return minutes * _MINUTE

    @property
    def about(self) -> bool:
        """Whether its music lasts about as long, and no more can be said."""
        return any(piece.about for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class ConcertRain:
    """What holds in bad weather; `day` is the whole day then, None where there is no concert.

    `conflicts` are those of that day that the usual one does not have.
    """

    item: ConcertRainPlan
    address: Address
    venue: Venue
    downbeat: datetime
    decided: datetime | None
    day: ConcertDay | None
    conflicts: tuple[DayConflict, ...] = ()


@dataclass(frozen=True, slots=True)
class ConcertPlan:
    """A concert; times carry the program's zone, `pick_up` is the one stated for all."""

    id: str
    item: Concert
    address: Address
    venue: Venue
    downbeat: datetime
    pick_up: datetime | None
    appearances: tuple[AppearancePlan, ...]
    day: ConcertDay
    rain: ConcertRain | None = None

    @property
    def cancelled(self) -> bool:
        """Whether it is not held."""
        return self.item.cancelled is not None

    @property
    def seconds(self) -> float:
        """Exact seconds of music, without gaps."""
        return sum(turn.seconds for turn in self.appearances)

    @property
    def about(self) -> bool:
        """Whether its music lasts about as long, and no more can be said."""
        return any(turn.about for turn in self.appearances)


@dataclass(frozen=True, slots=True)
class CyclePlan:
    """One cycle; `first` and `last` are its first day and its last (the last concert's).

    `concerts` are in order of their downbeats. Of the `events` it has those that fall within
    it, with the days that do. `ahead` are the next concerts of later cycles. `logs` are the director's own, and no page looks at them.
    """

    id: str
    item: Cycle
    address: Address
    year: Year
    first: date
    last: date
    concerts: tuple[ConcertPlan, ...]
    ensembles: tuple[EnsemblePlan, ...]
    events: tuple[EventRow, ...] = ()
    ahead: tuple[ConcertAhead, ...] = ()
    logs: tuple[Sourced[Log], ...] = ()

    @property
    def held_concerts(self) -> tuple[ConcertPlan, ...]:
        """The concerts that are not cancelled."""
        return tuple(one for one in self.concerts if not one.cancelled)

    @property
    def concert(self) -> ConcertPlan | None:
        """The concert that ends the cycle."""
        return self.concerts[-1] if self.concerts else None

    def concerts_of(self, ensemble: str) -> tuple[ConcertPlan, ...]:
        """Give the concerts at which a band plays, by its id; all of them if it plays at none."""
        return tuple(one for one in self.concerts if ensemble in one.item.players) or self.concerts

    def of_band(self, band: str) -> tuple[EnsemblePlan, ...]:
        """Give the plan of a band, or those of its groups, by the band's id."""
        return tuple(ensemble for ensemble in self.ensembles if ensemble.band == band)


@dataclass(frozen=True, slots=True)
class FundamentalsPlan:
    """Strands in the order of a rehearsal, habits and warm-ups."""

    strands: tuple[Strand, ...] = ()
    habits: tuple[Habit, ...] = ()
    warm_ups: tuple[WarmUp, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole handbook, reckoned; cycles in order of their first day.

    `words` maps each term to its meaning, from the program's and the pieces' words;
    `exercise_rhythms` maps the ids of exercises that have a rhythm to it, `media_files` the
    names of media to their size and length. `events` come in order of their first day.
    """

    program: Program
    zone: ZoneInfo
    languages: tuple[str, ...]
    cycles: tuple[CyclePlan, ...]
    fundamentals: FundamentalsPlan
    words: Mapping[str, Text]
    pages: tuple[FreePage, ...]
    media: frozenset[str]
    exercise_rhythms: Mapping[str, RhythmRow]
    media_files: Mapping[str, MediaFile]
    events: tuple[EventRow, ...] = ()
