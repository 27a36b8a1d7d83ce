"""What each player practices at home every evening, from the stages' minutes and what class will play."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date

from handbook.domain.evenings import longest_wait
from handbook.domain.home_days import (
    HomeDays,
    HomeEvening,
    HomePassage,
    Meet,
    breaks,
    home_evenings,
)
from handbook.domain.school_year import year_days
from handbook.domain.values.tempo import Tempo
from handbook.plan.model import CyclePlan, EnsemblePlan, PassageRow, PieceRow, StageSpan
from handbook.plan.parts import takes_part
from handbook.plan.parts_model import PartPlan
from handbook.plan.school_days import school_year
from handbook.records import dataclass
from handbook.schema.cycle import MOST_MINUTES
from handbook.schema.program import Program

_WHOLE = 100  # percent


@dataclass(frozen=True, slots=True)
class HomeSet:
    """The passages, each by its piece's id and its own, and exercises that some parts have alike."""

    passages: tuple[str, ...]
    exercises: tuple[str, ...]


def minutes_at_home(ensemble: EnsemblePlan, stage: StageSpan) -> int:
    """Give the minutes a day of a stage, 0 for none."""
    return stage.item.minutes_at_home(ensemble.item.id, ensemble.band) or 0


def has_evenings(ensemble: EnsemblePlan) -> bool:
    """Whether anything is said of practicing so many minutes at home."""
    return any(minutes_at_home(ensemble, stage) for stage in ensemble.stages)


def passage_id(piece: PieceRow, passage: PassageRow) -> str:
    """Give a passage's id in a cycle."""
    return f"{piece.item.id}/{passage.item.id}"


def home_passages(ensemble: EnsemblePlan) -> Iterator[tuple[PieceRow, PassageRow]]:
    """Give the passages that have targets, also those of pieces that a band joins another in."""
    for piece in (*ensemble.pieces, *(joined.piece for joined in ensemble.joined)):
        yield from ((piece, passage) for passage in piece.passages if passage.weeks)


def home_sets(ensemble: EnsemblePlan) -> Mapping[str, HomeSet]:
    """Give what each part has to practice, by the part's id."""
    known = {passage_id(piece, passage) for piece, passage in home_passages(ensemble)}
    return {part.id: _set(part, known) for part in ensemble.parts}


def _set(part: PartPlan, known: Collection[str]) -> HomeSet:
    named = (
        f"{piece.item.id}/{passage}"
        for piece in (*part.pieces, *part.joined)
        for passage in piece.passages
    )
    return HomeSet(
        tuple(one for one in named if one in known),
        tuple(one.item.id for one in part.exercises if one.has_material),
    )


def home_days(cycle: CyclePlan, ensemble: EnsemblePlan) -> HomeDays:
    """Give all from which the evenings of an ensemble follow."""
    concerts = sorted(
        {one.item.date for one in cycle.concerts_of(ensemble.band) if not one.cancelled}
    )
    meets = tuple(_meets(ensemble, concerts))
    first, last = (meets[0].day, meets[-1].day) if meets else (date.max, date.min)
    without_school = [
        day.day
        for day in year_days(school_year(cycle.year))
        if first <= day.day <= last and not day.is_school
    ]
    own = {one.item.id for one in ensemble.pieces}
    return HomeDays(
        meets,
        tuple(
            _passage(ensemble, piece, passage, own=piece.item.id in own)
            for piece, passage in home_passages(ensemble)
        ),
        frozenset(concerts),
        breaks(without_school),
    )


def _passage(
    ensemble: EnsemblePlan, piece: PieceRow, passage: PassageRow, *, own: bool
) -> HomePassage:
    opens = date.min
    if own and passage.visits:
        opens = ensemble.rehearsals[passage.visits[0].place].rehearsal.day
    return HomePassage(
        passage_id(piece, passage),
        passage.item.priority,
        opens,
        piece.over or date.max,
        tuple((week.monday, lack(week.target, passage.item.goal)) for week in passage.weeks),
    )


def lack(target: Tempo, goal: Tempo) -> int:
    """Give the whole percents that a target lacks of its goal, rounded up; none where it is free."""
    if goal.free or not goal.bpm:
        return 0
    return _WHOLE - int(_WHOLE * target.quarters_per_minute / goal.quarters_per_minute)


def _meets(ensemble: EnsemblePlan, concerts: Sequence[date]) -> Iterator[Meet]:
    plays = _played_in_class(ensemble)
    stages = {row.rehearsal.day: row.stage for row in ensemble.rehearsals}
    days: dict[date, set[str]] = {}
    place_of: dict[date, int] = {}
    for row in ensemble.rehearsals:
        days.setdefault(row.rehearsal.day, set()).update(plays.get(row.place, ()))
        place_of[row.rehearsal.day] = row.place
    for day in concerts:
        days.setdefault(day, set()).update(
            passage_id(piece, passage)
            for piece, passage in home_passages(ensemble)
            if day in piece.played
        )
    last = concerts[-1] if concerts else date.max
    place = 0
    stage: StageSpan | None = None
    for day in sorted(one for one in days if one <= last):
        place, stage = place_of.get(day, place), stages.get(day, stage)
        minutes = minutes_at_home(ensemble, stage) if stage else 0
        yield Meet(day, minutes, frozenset(days[day]), _exercises(ensemble, place))


def _played_in_class(ensemble: EnsemblePlan) -> Mapping[int, set[str]]:
    """Give the passages that each rehearsal plays, by its place."""
    found: dict[int, set[str]] = {}
    for piece in ensemble.pieces:
        for passage in piece.passages:
            for visit in passage.visits:
                found.setdefault(visit.place, set()).add(passage_id(piece, passage))
    return found


def _exercises(ensemble: EnsemblePlan, place: int) -> tuple[str, ...]:
    """Give the exercise of each strand that is on by a rehearsal, else the one it begins with."""
    found = (
        [one.id for at, one in strand.appearances if at <= place]
        or [one.id for _, one in strand.appearances[:1]]
        for strand in ensemble.strands
    )
    return tuple(dict.fromkeys(ids[-1] for ids in found if ids))


@dataclass(frozen=True, slots=True)
class LongWait:
    """A stage in which a passage may wait for so many evenings at home until it comes back.

    Those players who have most have `passages`; with `enough` minutes a day each comes back in
    time, None for no number of them.
    """

    stage: StageSpan
    evenings: int
    minutes: int
    passages: int
    enough: int | None


def long_waits(program: Program, ensemble: EnsemblePlan, most: int) -> Iterator[LongWait]:
    """Find the stages, longer than that, in which a passage may wait for more than `most` evenings.

    Neither parts nor targets need be planned.
    """
    exercise = any(strand.appearances for strand in ensemble.strands)
    for stage in ensemble.stages:
        minutes = minutes_at_home(ensemble, stage)
        count = _most_passages(program, ensemble, stage) if minutes else 0
        if not count:
            continue
        wait = longest_wait(count, [minutes], exercise=exercise)
        if most < wait <= (stage.ends - stage.begins).days:
            more = range(minutes + 1, MOST_MINUTES + 1)
            enough = next(
                (one for one in more if longest_wait(count, [one], exercise=exercise) <= most),
                None,
            )
            yield LongWait(stage, wait, minutes, count, enough)


def _most_passages(program: Program, ensemble: EnsemblePlan, stage: StageSpan) -> int:
    """Count the passages of a stage for those players of an ensemble who have most."""
    own = [
        passage.item.who
        for piece in ensemble.pieces
        for passage in piece.passages
        if passage.visits and passage.visits[0].place <= stage.last
        if piece.over is None or stage.begins < piece.over
    ]
    joined = [one.item.who for joined in ensemble.joined for one in joined.piece.passages]
    there = own + joined
    counts = (
        sum(takes_part(name, program.instrument(name), who) for who in there)
        for name in ensemble.item.instruments
    )
    return max(counts, default=len(there))


def evenings_of(
    cycle: CyclePlan, ensemble: EnsemblePlan
) -> Mapping[HomeSet, tuple[HomeEvening, ...]]:
    """Plan the evenings of an ensemble's players, once for all who have the same to practice."""
    days = home_days(cycle, ensemble)
    return {
        one: home_evenings(days, one.passages, one.exercises)
        for one in dict.fromkeys(home_sets(ensemble).values())
    }
