"""The evenings at home on the sheet of a part, week by week, as its page reckons them for who ticks nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import groupby

from handbook.domain.home_days import HomeDays, HomeEvening
from handbook.domain.values.tempo import Tempo
from handbook.domain.week_targets import WeekTarget
from handbook.outputs.components.evening_spans import evenings_by_set
from handbook.outputs.components.part_music import (
    PartExerciseView,
    PartPassageView,
    PartPieceView,
)
from handbook.outputs.html.formatting import month_day, short_day, weekday
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import short_units, with_commas
from handbook.outputs.page import Context
from handbook.plan.evenings import (
    has_evenings,
    home_days,
    home_passages,
    home_sets,
    passage_id,
)
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.records import dataclass

_ONE_DAY = timedelta(days=1)
_STEPS_LISTED = 3
"""More steps than that are told by the first and the last."""
_LETTERS_A_LINE = 66
"""At 12 points, beside the days, on the narrower paper (ISO 216 A4)."""
_LINES_A_PAGE = 44
"""Lines of evenings that surely fit on the shorter paper (Letter), with the gaps between evenings."""
_LABEL_LINES = 3
"""Lines of the day of the week, the day of the month and the minutes."""


@dataclass(frozen=True, slots=True)
class EveningPassage:
    """A passage of an evening; `steps` lead to the tempo of the week, none where there is no click.

    `next` if the next rehearsal or concert plays it.
    """

    minutes: str
    piece: str
    passage: PartPassageView
    steps: str
    next: bool

    @property
    def goal(self) -> Tempo:
        """What is to be reached in the end, whose beat counts."""
        return self.passage.item.goal


@dataclass(frozen=True, slots=True)
class EveningView:
    """An evening; `before` says what is on the next day, `rests` if a break from school begins with it.

    Its exercise is that of most parts.
    """

    date: date
    weekday: str
    day: str
    minutes: str
    before: str
    rests: bool
    exercise_minutes: str
    exercise: PartExerciseView | None
    passages: tuple[EveningPassage, ...]

    @property
    def rows(self) -> int:
        """How many rows it has."""
        first = self.exercise is not None or self.before != ""
        return self.rests + first + len(self.passages)

    @property
    def lacks(self) -> int:
        """How many lines its rows lack of what stands before them."""
        return max(0, _LABEL_LINES - self.rows)

    @property
    def lines(self) -> int:
        """About how many lines it takes at most."""
        told = [f"{one.piece} {one.passage.name} {one.steps}" for one in self.passages]
        # Minutes, measures and the sign of the beat have some 20 letters.
        more = sum((len(words) + 20) // _LETTERS_A_LINE for words in told)
        return self.rows + self.lacks + more


@dataclass(frozen=True, slots=True)
class OtherExercises:
    """The exercises in a week of those `parts` that have others than most, each with its evenings."""

    parts: str
    exercises: tuple[tuple[PartExerciseView, str], ...]


@dataclass(frozen=True, slots=True)
class EveningWeek:
    """The evenings of a week, Monday to Sunday."""

    title: str
    evenings: tuple[EveningView, ...]
    others: tuple[OtherExercises, ...]

    @property
    def exercises(self) -> Iterator[PartExerciseView]:
        """All exercises in it."""
        yield from (one.exercise for one in self.evenings if one.exercise)
        yield from (one for other in self.others for one, _ in other.exercises)

    @property
    def whole(self) -> bool:
        """Whether it surely fits on a page."""
        told = (
            len(other.parts) + sum(len(one.name) + len(days) + 10 for one, days in other.exercises)
            for other in self.others
        )
        heads = sum(1 + letters // _LETTERS_A_LINE for letters in told)
        return heads + sum(one.lines for one in self.evenings) <= _LINES_A_PAGE


@dataclass(frozen=True, slots=True)
class Alike:
    """A part with its exercises and evenings, which differ from those of others in no passage."""

    name: str
    exercises: tuple[PartExerciseView, ...]
    evenings: tuple[HomeEvening, ...]


def evenings_by_part(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> Mapping[str, tuple[HomeEvening, ...]]:
    """Give the evenings of each part, by its id; none where no minutes at home are asked."""
    if not has_evenings(ensemble):
        return {part.id: () for part in ensemble.parts}
    evenings = evenings_by_set(context, cycle, ensemble)
    return {part: evenings[own] for part, own in home_sets(ensemble).items()}


def without_exercises(evenings: Sequence[HomeEvening]) -> object:
    """Give what parts must have alike to share a sheet: all but which exercise there is."""
    return tuple(
        (
            evening.day,
            tuple("" if one.exercise else one.id for one in evening.shares),
            tuple(one.minutes for one in evening.shares),
        )
        for evening in evenings
    )


def evening_weeks(
    cycle: CyclePlan,
    ensemble: EnsemblePlan,
    pieces: Sequence[PartPieceView],
    parts: Sequence[Alike],
) -> Iterator[EveningWeek]:
    """Show all evenings of parts that have a sheet together, Monday to Sunday."""
    by_exercises = _by_exercises(parts)
    (most, *_), *others = by_exercises
    shown = _evenings(cycle, ensemble, pieces, most)
    places = range(len(most.evenings))
    for (monday, week), (_, at) in zip(
        groupby(shown, key=lambda one: _monday(one.date)),
        groupby(places, key=lambda place: _monday(most.evenings[place].day)),
        strict=True,
    ):
        in_week = tuple(at)
        yield EveningWeek(
            gettext("Week of %(day)s", day=short_day(monday)),
            tuple(week),
            tuple(_other_exercises(most, others, in_week)),
        )


def _by_exercises(parts: Sequence[Alike]) -> list[list[Alike]]:
    """Put parts together that have the same exercise on every evening, the most first."""
    found = dict[tuple[str, ...], list[Alike]]()
    for part in parts:
        exercises = tuple(_exercise(one) for one in part.evenings)
        found.setdefault(exercises, []).append(part)
    return sorted(found.values(), key=len, reverse=True)


def _exercise(evening: HomeEvening) -> str:
    return next((one.id for one in evening.shares if one.exercise), "")


def _other_exercises(
    most: Alike, others: Iterable[Sequence[Alike]], places: Sequence[int]
) -> Iterator[OtherExercises]:
    for alike in others:
        own = alike[0]
        days = dict[str, list[str]]()
        for place in places:
            name = _exercise(own.evenings[place])
            if name != _exercise(most.evenings[place]):
                days.setdefault(name, []).append(weekday(own.evenings[place].day))
        if days:
            views = {one.item.id: one for one in own.exercises}
            yield OtherExercises(
                with_commas(one.name for one in alike),
                tuple((views[name], with_commas(on)) for name, on in days.items()),
            )


def _evenings(
    cycle: CyclePlan, ensemble: EnsemblePlan, pieces: Sequence[PartPieceView], part: Alike
) -> Iterator[EveningView]:
    days = home_days(cycle, ensemble)
    targets = {passage_id(*row): row[1].weeks for row in home_passages(ensemble)}
    passages = {
        f"{piece.item.id}/{one.item.id}": (piece.title, one)
        for piece in pieces
        for one in piece.passages
    }
    exercises = {one.item.id: one for one in part.exercises}
    rested = False
    for evening in part.evenings:
        exercise = next((one for one in evening.shares if one.exercise), None)
        yield EveningView(
            date=evening.day,
            weekday=weekday(evening.day),
            day=month_day(evening.day),
            minutes=_minutes(evening.minutes),
            before=_before(days, evening),
            rests=evening.resting and not rested,
            exercise_minutes=_minutes(exercise.minutes) if exercise else "",
            exercise=exercises[exercise.id] if exercise else None,
            passages=tuple(
                EveningPassage(
                    _minutes(one.minutes),
                    *passages[one.id],
                    _steps(targets[one.id], evening.day),
                    one.next,
                )
                for one in evening.shares
                if not one.exercise
            ),
        )
        rested = evening.resting


def _monday(day: date) -> date:
    return day - day.weekday() * _ONE_DAY


def _minutes(minutes: int) -> str:
    return short_units((0, minutes, 0))


def _before(days: HomeDays, evening: HomeEvening) -> str:
    upcoming = days.meets[evening.meet].day
    if upcoming - evening.day != _ONE_DAY:
        return ""
    return gettext("concert tomorrow") if upcoming in days.off else gettext("rehearsal tomorrow")


def _steps(weeks: Sequence[WeekTarget], day: date) -> str:
    """Write the tempos that lead to that of a day's week; a week without rehearsals has those before it."""
    week = next((one for one in reversed(weeks) if one.monday <= day), weeks[0])
    if week.target.free:
        return ""
    marks = [one.bpm_text for one in week.steps]
    return with_commas(marks) if len(marks) <= _STEPS_LISTED else f"{marks[0]} … {marks[-1]}"
