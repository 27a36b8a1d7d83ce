"""The evenings at home on the sheet of a part, week by week, as its page reckons them for who ticks nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
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
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.formats import short_units, with_commas
from handbook.outputs.note_names import sign
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
LETTERS_A_LINE = 66
"""At 12 points, beside the days, on the narrower paper (ISO 216 A4)."""
LINES_A_PAGE = 44
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

    Its exercise is that of most parts; `others` are those of the rest, each behind who has it.
    """

    date: date
    weekday: str
    day: str
    minutes: str
    before: str
    rests: bool
    exercise_minutes: str
    exercise: PartExerciseView | None
    others: tuple[tuple[str, PartExerciseView], ...]
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
        if self.exercise:
            others = (f"{parts} {one.name} 120" for parts, one in self.others)
            told.append(" ".join((self.exercise.name, *others, self.before)))
        # Minutes, measures and the sign of the beat have some 20 letters.
        more = sum((len(words) + 20) // LETTERS_A_LINE for words in told)
        return self.rows + self.lacks + more


@dataclass(frozen=True, slots=True)
class EveningWeek:
    """The evenings of a week, Monday to Sunday."""

    title: str
    evenings: tuple[EveningView, ...]

    @property
    def exercises(self) -> Iterator[PartExerciseView]:
        """All exercises in it."""
        yield from (one.exercise for one in self.evenings if one.exercise)
        yield from (one for evening in self.evenings for _, one in evening.others)

    @property
    def whole(self) -> bool:
        """Whether it surely fits on a page."""
        return sum(one.lines for one in self.evenings) <= LINES_A_PAGE


@dataclass(frozen=True, slots=True)
class Alike:
    """A part with its exercises and evenings, which differ from those of others in no passage.

    `drums` are instruments without pitch.
    """

    name: str
    exercises: tuple[PartExerciseView, ...]
    evenings: tuple[HomeEvening, ...]
    drums: bool = False


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
    shown = _evenings(cycle, ensemble, pieces, parts)
    for monday, week in groupby(shown, key=lambda one: _monday(one.date)):
        yield EveningWeek(gettext("Week of %(day)s", day=short_day(monday)), tuple(week))


def drums_together(parts: Iterable[Alike]) -> str:
    """Name the instruments without pitch that are called drums where they have the same exercise."""
    names = [part.name for part in parts if part.drums]
    return with_commas(names) if len(names) > 1 else ""


def _as_most(parts: Sequence[Alike]) -> Alike:
    """Give a part that has the same exercises on all evenings as most have."""
    found = dict[tuple[str, ...], list[Alike]]()
    for part in parts:
        found.setdefault(tuple(map(_exercise, part.evenings)), []).append(part)
    return max(found.values(), key=len)[0]


def _exercise(evening: HomeEvening) -> str:
    return next((one.id for one in evening.shares if one.exercise), "")


def _other_exercises(
    parts: Sequence[Alike], most: str, place: int
) -> Iterator[tuple[str, PartExerciseView]]:
    """Give the exercises of an evening that are not that of most, each behind who has it."""
    found = dict[str, list[Alike]]()
    for part in parts:
        found.setdefault(_exercise(part.evenings[place]), []).append(part)
    drums = sum(part.drums for part in parts)
    for name, alike in found.items():
        if name != most:
            yield with_commas(_named(alike, drums)), _as_heard(alike, name)


def _as_heard(parts: Sequence[Alike], name: str) -> PartExerciseView:
    """Give an exercise of parts, with what its key sounds behind its name if one of them reads another."""
    views = [one for part in parts for one in part.exercises if one.item.id == name]
    keys = [one.key for one in views if one.key]
    if all(key.key.tonic == key.concert.tonic for key in keys):
        return views[0]
    concert = sign(keys[0].concert.tonic)
    named = gettext("%(note)s (concert %(concert)s)", note=views[0].name, concert=concert)
    return replace(views[0], name=named)


def _named(alike: Sequence[Alike], drums: int) -> Iterator[str]:
    """Name parts; if all `drums` of the sheet are there, more than one, in one word."""
    together = sum(part.drums for part in alike) == drums > 1
    first = next((part for part in alike if part.drums), None)
    for part in alike:
        if not (together and part.drums):
            yield part.name
        elif part is first:
            yield pgettext("instrument", "Drums")


def _evenings(
    cycle: CyclePlan,
    ensemble: EnsemblePlan,
    pieces: Sequence[PartPieceView],
    parts: Sequence[Alike],
) -> Iterator[EveningView]:
    part = _as_most(parts)
    days = home_days(cycle, ensemble)
    targets = {passage_id(*row): row[1].weeks for row in home_passages(ensemble)}
    passages = {
        f"{piece.item.id}/{one.item.id}": (piece.title, one)
        for piece in pieces
        for one in piece.passages
    }
    exercises = {one.item.id: _as_heard(parts, one.item.id) for one in part.exercises}
    rested = False
    for place, evening in enumerate(part.evenings):
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
            others=tuple(_other_exercises(parts, exercise.id, place)) if exercise else (),
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
