"""Single changes of content after which a season keeps what it would lose, each planned anew."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from itertools import combinations, islice

from handbook.domain.meetings import RehearsalKind
from handbook.domain.metronome_marks import marks_named
from handbook.domain.school_year import year_days
from handbook.domain.season import Law
from handbook.domain.season_mends import MendKind
from handbook.domain.values.clock import format_clock
from handbook.domain.values.dates import dated, short_day
from handbook.plan.bells import whole_bells
from handbook.plan.build import plan_band
from handbook.plan.climbs import Laws, SeasonChange, laws_broken
from handbook.plan.content_lines import (
    Altered,
    with_extra,
    with_goal,
    with_mix,
    with_passage,
    with_window,
    without_passage,
)
from handbook.plan.model import CyclePlan, EnsemblePlan, MendRow, PassageRow, Plan
from handbook.plan.players import players_of
from handbook.plan.school_days import school_year
from handbook.records import dataclass
from handbook.schema.handbook import Handbook

MOST_TRIES = 24  # plans of one season
_MOST_DATES = 5  # for extra rehearsals, tried one after another
_AFTER_SCHOOL = timedelta(minutes=15)  # from the last bell to an extra rehearsal: our own choice
_LATE = time(15, 30)  # when one begins where nothing says when school is out: our own choice
_STEP = 5  # minutes to which its begin is rounded up
_LATEST = 22  # the hour by which it is over
_MOST_GOALS = 4  # passages; lower goals for more of them are no small change: our own choice
_MOST_LOWER = 6  # marks
_LEAST_GOAL = Fraction(3, 4)  # of a goal; a lower one is another piece: our own choice
_EXTRA = "extra rehearsal"

Trial = Callable[[Handbook], tuple[Plan | None, tuple[str, ...]]]
"""Plans content anew, and tells what is wrong in it that was not before; None where it has errors."""


@dataclass(frozen=True, slots=True)
class ReckonedMend:
    """A change that is enough by itself, in words, with the content and its lines.

    `problems` is what `handbook check` would then say; `settled` the day on which each passage, by
    its piece and its id, is at its goal for the first time, None for never.
    """

    kind: str
    sentence: str
    altered: Altered
    problems: tuple[str, ...]
    settled: Mapping[tuple[str, str], date | None]


def mends_for(
    change: SeasonChange,
    altered: Altered,
    plan: Plan,
    trial: Trial,
    told: date,
    sooner: Altered | None = None,
) -> tuple[ReckonedMend, ...]:
    """Find single changes that restore all that a season would lose, the cheapest kinds first.

    `altered` is the content of the lossy season and `plan` its plan; `told` is the day from which
    rehearsals may be added, `sooner` the content if all of it is known by then already. Each change
    is made to the content, and the season of the band planned from it; where that restores
    everything the whole is tried. Rehearsals that bring new problems, such as a room that
    is taken, are left out. At most 24 changes are planned.
    """
    if change.after is None or not change.gave_way:
        return ()
    cycle = next(one for one in plan.cycles if one.id == change.cycle)
    kept = laws_broken(change.before) if change.before else Laws()
    candidates = _Candidates(cycle, change, altered, plan, told)
    found: dict[str, ReckonedMend] = {}
    for kind, sentence, one in islice(candidates.all(sooner), MOST_TRIES):
        if kind in found:
            continue
        if not candidates.restores(one.handbook, kept):
            continue
        anew, problems = trial(one.handbook)
        season = _season(anew, change.cycle, change.after.item.id) if anew else None
        if season is None or not laws_broken(season) <= kept or (kind == _EXTRA and problems):
            continue
        lines = one if one is sooner else replace(one, lines=one.lines[len(altered.lines) :])
        found[kind] = ReckonedMend(kind, sentence, lines, problems, _settled(season))
    return tuple(found.values())


def _settled(season: EnsemblePlan) -> Mapping[tuple[str, str], date | None]:
    """Give the day on which each passage is at its goal for the first time."""
    return {
        (piece.item.id, passage.item.id): season.rehearsals[passage.at_goal[0].place].rehearsal.day
        if passage.at_goal
        else None
        for piece in season.pieces
        for passage in piece.passages
    }


_Candidate = tuple[str, str, Altered]


class _Candidates:
    """The changes that may mend one ensemble's season."""

    def __init__(
        self, cycle: CyclePlan, change: SeasonChange, altered: Altered, plan: Plan, told: date
    ) -> None:
        assert change.after is not None
        self.cycle, self.change, self.altered, self.plan = cycle, change, altered, plan
        self.season, self.told = change.after, told
        self.reached = {
            one.item.id: one.reached
            for earlier in plan.cycles[: plan.cycles.index(cycle)]
            for one in earlier.ensembles
        }
        self.mends = (self.season.season.mends if self.season.season else None) or ()

    def restores(self, handbook: Handbook, kept: Laws) -> bool:
        """Whether the season of this ensemble, planned by itself, breaks no law that was kept."""
        found = plan_band(handbook, self.cycle.id, self.season.band, self.reached)
        return any(one.item.id == self.season.item.id and laws_broken(one) <= kept for one in found)

    def all(self, sooner: Altered | None) -> Iterator[_Candidate]:
        """Give the changes, those of one kind after another; the first of a kind that holds is told."""
        if sooner:
            yield "known sooner", "plan around it from today on: with these lines instead", sooner
        by_kind = {mend.kind: mend for mend in reversed(self.mends)}
        if mend := by_kind.get(MendKind.WINDOW):
            yield from self._window(mend)
        yield from self._later_locks()
        yield from self._extra_rehearsals()
        yield from self._lower_goals()
        yield from self._left_out(by_kind.get(MendKind.LEAVE_OUT))
        if mend := by_kind.get(MendKind.MIX):
            yield from self._mixes(mend)

    def _window(self, mend: MendRow) -> Iterator[_Candidate]:
        window = (self.season.season.window if self.season.season else 0) + mend.size
        sentence = f"let every passage come back within {window} rehearsals"
        yield "window", sentence, with_window(self.altered, self.cycle.id, window)

    def _later_locks(self) -> Iterator[_Candidate]:
        """Put off the day by which one late passage must be at its goal, as little as it takes."""
        late = [one for one in self.change.gave_way if one.law is Law.SETTLED and one.passage]
        if len(late) != 1 or any(one.law is not Law.SETTLED for one in self.change.gave_way):
            return
        row = self._row(late[0].piece.id if late[0].piece else "", late[0].passage)
        if row is None or row[1].item.lock_by is None:
            return
        piece, passage = row
        by = late[0].rows[0].last
        days = [one.rehearsal.day for one in self.season.rehearsals[by + 1 :]]
        for day in dict.fromkeys(days):
            sentence = f"let `{passage.item.id}` be at its goal by {short_day(day)}"
            fields = {"lock_by": day}
            yield (
                "later lock",
                sentence,
                with_passage(self.altered, self.cycle.id, piece, passage.item.id, fields),
            )

    def _extra_rehearsals(self) -> Iterator[_Candidate]:
        """Add as few rehearsals as were found to do, after school, as late as they still help."""
        mends = [mend for mend in self.mends if mend.kind is MendKind.REHEARSALS]
        sizes = sorted({mend.size for mend in mends}) or [1]
        found = [mend.before for mend in mends if mend.before]
        latest = max([*found, self._needed_by()])
        entries = [entry for day in self._free_days(latest) if (entry := self._extra(day))]
        lost = self._lost_days()
        for size in sizes:
            for chosen in islice(combinations(entries, size), _MOST_DATES):
                altered = self.altered
                for turn, (_, fields) in enumerate(sorted(chosen, key=lambda one: one[0])):
                    made_up = {"make_up_for": dated(lost[turn])} if turn < len(lost) else {}
                    altered = with_extra(altered, self.cycle.id, {**fields, **made_up})
                days = " and ".join(
                    short_day(day) for day, _ in sorted(chosen, key=lambda one: one[0])
                )
                what = "an extra rehearsal" if size == 1 else f"{size} extra rehearsals"
                yield _EXTRA, f"{what} on {days}", altered

    def _lost_days(self) -> list[date]:
        """List the days of classes that the other season still had."""
        before = {one.day for one in self.change.before.missed} if self.change.before else set()
        return [
            one.day
            for one in self.season.missed
            if one.day not in before and one.cause != "moved" and one.made_up is None
        ]

    def _needed_by(self) -> date:
        """Give the day before which one more rehearsal is in time for the weightiest that gives way."""
        first = min(one.law for one in self.change.gave_way)
        rows = [row for one in self.change.gave_way if one.law is first for row in one.rows]
        after = max(row.last for row in rows) + 1
        left = self.season.rehearsals[after:]
        return left[0].rehearsal.day if left else self.season.stages[-1].ends

    def _free_days(self, latest: date) -> list[date]:
        """List school days on which one more rehearsal could be, the latest first, those without class before others."""
        own = {row.rehearsal.day for row in self.season.rehearsals}
        last = self.season.stages[-1].ends
        days = [
            day.day
            for day in year_days(school_year(self.cycle.year))
            if day.is_school and self.told < day.day < min(latest, last)
        ]
        return sorted(days, key=lambda day: (day in own, -day.toordinal()))

    def _extra(self, day: date) -> tuple[date, Mapping[str, str]] | None:
        """Write an extra rehearsal of the band's usual length, a little after the last bell."""
        lengths = [
            row.rehearsal.minutes
            for row in self.season.rehearsals
            if row.rehearsal.kind is not RehearsalKind.EXTRA
        ]
        if not lengths:
            return None
        start = datetime.combine(day, self._school_out(day) or _LATE)
        if self._school_out(day):
            start += _AFTER_SCHOOL
            start += timedelta(minutes=-start.minute % _STEP)
        end = start + timedelta(minutes=Counter(lengths).most_common(1)[0][0])
        if end.date() != day or end.hour >= _LATEST:
            return None
        fields = {
            **self._band(),
            "date": dated(day),
            "start": format_clock(start.time()),
            "end": format_clock(end.time()),
            "told": dated(self.told),
        }
        return day, fields

    def _school_out(self, day: date) -> time | None:
        year = self.cycle.year
        bells = whole_bells(year)
        if not bells:
            return None
        other = next((one.bells for one in year_days(school_year(year)) if one.day == day), None)
        schedule = bells.get((other.bells if other else None) or "", next(iter(bells.values())))
        return schedule.school_ends

    def _band(self) -> Mapping[str, str]:
        for band in self.plan.program.ensembles:
            for players in players_of(band):
                if players.id == self.season.item.id:
                    group = {"group": players.group.id} if players.group else {}
                    return {"ensemble": band.id, **group}
        return {"ensemble": self.season.band}

    def _lower_goals(self) -> Iterator[_Candidate]:
        """Lower the goals of all passages that lack something, mark by mark; the first tempo in class stays."""
        lacking = {
            (one.piece.id, one.passage.id)
            for one in self.change.gave_way
            if one.piece and one.passage and one.law in {Law.GOAL, Law.SETTLED}
        }
        rows = [(piece, row) for piece, row in self._rows() if (piece, row.item.id) in lacking]
        if not 0 < len(rows) <= _MOST_GOALS:
            return
        marks = marks_named(self.cycle.item.marks.kind, self.cycle.item.marks.step)
        goals = [row.item.goal.bpm for _, row in rows]
        for _ in range(_MOST_LOWER):
            goals = [marks.floor(bpm - 1) for bpm in goals]
            altered, told = self.altered, []
            for (piece, row), bpm in zip(rows, goals, strict=True):
                goal, first = row.item.goal.at(bpm), row.first_tempo
                if bpm < max(_LEAST_GOAL * row.item.goal.bpm, first.bpm):
                    return
                start = first if first != row.item.start else None
                altered = with_goal(altered, self.cycle.id, piece, row.item.id, goal, start)
                told.append(f"`{row.item.id}` has the goal {goal}, not {row.item.goal}")
            yield "lower goal", " and ".join(told), altered

    def _left_out(self, mend: MendRow | None) -> Iterator[_Candidate]:
        """Leave out passages: those that were found to do, else one of those that lack something."""
        choices = [[passage.id for passage in mend.passages]] if mend else []
        lacking = [one.passage.id for one in self.change.gave_way if one.passage]
        choices += [[one] for one in dict.fromkeys(lacking)]
        pieces = Counter(piece for piece, _ in self._rows())
        for names in choices:
            own = [(piece, row.item.id) for piece, row in self._rows() if row.item.id in names]
            if len(own) != len(names) or any(pieces[piece] <= len(names) for piece, _ in own):
                continue
            altered = self.altered
            for piece, passage in own:
                altered = without_passage(altered, self.cycle.id, piece, passage)
            yield "passage left out", f"leave out {_listed(names)} as a passage", altered

    def _mixes(self, mend: MendRow) -> Iterator[_Candidate]:
        altered = self.altered
        for stage, mix in mend.mixes:
            altered = with_mix(altered, self.cycle.id, stage.id, mix)
        yield "fewer joins and runs", "fewer joins and runs, more time on passages", altered

    def _rows(self) -> Iterator[tuple[str, PassageRow]]:
        return (
            (piece.item.id, passage) for piece in self.season.pieces for passage in piece.passages
        )

    def _row(self, piece: str, passage: object) -> tuple[str, PassageRow] | None:
        name = getattr(passage, "id", "")
        return next(
            (one for one in self._rows() if one[0] == piece and one[1].item.id == name), None
        )


def _season(plan: Plan, cycle: str, ensemble: str) -> EnsemblePlan | None:
    return next(
        (
            one
            for of in plan.cycles
            if of.id == cycle
            for one in of.ensembles
            if one.item.id == ensemble
        ),
        None,
    )


def _listed(names: Sequence[str]) -> str:
    return " and ".join(f"`{name}`" for name in names)
