"""One ensemble's week: its stage, its rehearsals, and the tempos to reach at home."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import groupby

from handbook.domain.ladders import SubdividedClick, subdivided
from handbook.domain.values.tempo import Tempo
from handbook.domain.values.text import Text
from handbook.domain.week_targets import WeekTarget
from handbook.outputs import addresses
from handbook.outputs.components.rehearsal_names import anchors, what_it_is
from handbook.outputs.components.rehearsal_rides import address_of, ride_words
from handbook.outputs.components.school_dates import SchoolDateView, school_weeks
from handbook.outputs.components.section_rooms import section_rooms
from handbook.outputs.components.stages import StageTurn, stage_turns, stage_view, stages_in_words
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.note_values import bpm_words
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, EnsemblePlan, PassageRow, PieceRow, RehearsalRow
from handbook.records import dataclass

_WEEK = timedelta(days=6)
_STEPS_LISTED = 4  # longer lists are told by their ends


@dataclass(frozen=True, slots=True)
class TargetView:
    """What to reach on one passage in one week; `reached` once class has played it at its goal."""

    piece_id: str
    passage_id: str
    piece: str
    passage: str
    path: str
    measures: str
    target: Tempo
    goal: Tempo
    steps: tuple[Tempo, ...]
    at_goal: bool
    reached: bool
    click: SubdividedClick | None

    @property
    def told(self) -> str:
        """The tempos on the way: `steps 96, 100, 104`, `8 steps from 60 to 84`, `104, the goal`."""
        marks = [bpm_words(step) for step in self.steps or (self.target,)]
        return _way_to_goal(marks) if self.at_goal else _way(marks)


@dataclass(frozen=True, slots=True)
class DayView:
    """One rehearsal in a line; `rooms` has each section with its own, and `room` is empty then.

    Away from school it has an `address`, and sentences on the `ride`.
    """

    day: date
    ends: str
    date: str
    time: str
    n: int
    of: int
    room: str
    rooms: tuple[str, ...]
    address: str
    ride: tuple[str, ...]
    purpose: str
    what: str
    path: str
    anchor: str


@dataclass(frozen=True, slots=True)
class WeekView:
    """One week, Monday to Sunday; `school` says which days have none or run otherwise."""

    monday: date
    sunday: date
    title: str
    numbers: str
    numbers_left: str
    stages: tuple[StageTurn, ...]
    targets: tuple[TargetView, ...]
    days: tuple[DayView, ...]
    school: tuple[SchoolDateView, ...] = ()

    @property
    def by_piece(self) -> tuple[tuple[str, tuple[TargetView, ...]], ...]:
        """What to reach, under the title of each piece."""
        pieces = groupby(self.targets, key=lambda target: (target.piece_id, target.piece))
        return tuple((title, tuple(targets)) for (_, title), targets in pieces)

    @property
    def stage_words(self) -> str:
        """Its stages in words, with their days where there are several."""
        return stages_in_words(self.stages)


def _way(marks: Sequence[str]) -> str:
    if len(marks) > _STEPS_LISTED:
        # Translators: tempos to practice at on the way, each a number of the metronome.
        return ngettext(
            "%(num)s step from %(first)s to %(last)s",
            "%(num)s steps from %(first)s to %(last)s",
            len(marks),
            first=marks[0],
            last=marks[-1],
        )
    if len(marks) > 1:
        # Translators: tempos to practice at on the way, such as "96, 100, 104".
        return gettext("steps %(tempos)s", tempos=with_commas(marks))
    return marks[0]


def _way_to_goal(marks: Sequence[str]) -> str:
    if len(marks) > _STEPS_LISTED:
        # Translators: the last of the tempos to practice at is the passage's goal.
        return ngettext(
            "%(num)s step from %(first)s to %(last)s, the goal",
            "%(num)s steps from %(first)s to %(last)s, the goal",
            len(marks),
            first=marks[0],
            last=marks[-1],
        )
    if len(marks) > 1:
        # Translators: the last of the tempos to practice at is the passage's goal.
        return gettext("steps %(tempos)s, the goal", tempos=with_commas(marks))
    return gettext("%(tempo)s, the goal", tempo=marks[0])


def week_views(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> tuple[WeekView, ...]:
    """Show every week of an ensemble's cycle that has a rehearsal, in order."""
    return context.once("weeks", ensemble, lambda: tuple(_weeks(context, cycle, ensemble)))


def _weeks(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[WeekView]:
    stages = tuple(stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages)
    days = day_views(context, cycle, ensemble)
    targets = _targets(context, cycle, ensemble)
    school = school_weeks(context, cycle)
    for monday, rows in rows_by_week(context, ensemble).items():
        first, last = rows[0].rehearsal.n, rows[-1].rehearsal.n
        yield WeekView(
            monday=monday,
            sunday=monday + _WEEK,
            title=gettext("Week of %(day)s", day=formatting.short_day(monday)),
            numbers=_numbers(first, last, rows[0].rehearsal.of),
            numbers_left=_numbers_left(first, last, rows[0].rehearsal.of),
            stages=stage_turns(rows, stages),
            targets=tuple(targets.get(monday, ())),
            days=tuple(days[row.place] for row in rows),
            school=tuple(school.get(monday, ())),
        )


def _numbers(first: int, last: int, of: int) -> str:
    if first == last:
        return gettext("Rehearsal %(number)s of %(count)s", number=first, count=of)
    return gettext("Rehearsals %(first)s–%(last)s of %(count)s", first=first, last=last, count=of)


def _numbers_left(first: int, last: int, of: int) -> str:
    """Say which rehearsals a week has, and how many are left after it."""
    if first == last == of:
        return gettext("Rehearsal %(number)s of %(count)s, the last", number=of, count=of)
    if last == of:
        return gettext(
            "Rehearsals %(first)s–%(last)s of %(count)s, the last", first=first, last=last, count=of
        )
    if first == last:
        # Translators: num is how many are left.
        return ngettext(
            "Rehearsal %(number)s of %(count)s, %(num)s left after this week",
            "Rehearsal %(number)s of %(count)s, %(num)s left after this week",
            of - last,
            number=first,
            count=of,
        )
    # Translators: num is how many are left.
    return ngettext(
        "Rehearsals %(first)s–%(last)s of %(count)s, %(num)s left after this week",
        "Rehearsals %(first)s–%(last)s of %(count)s, %(num)s left after this week",
        of - last,
        first=first,
        last=last,
        count=of,
    )


def rows_by_week(context: Context, ensemble: EnsemblePlan) -> Mapping[date, list[RehearsalRow]]:
    """Give the rehearsals of each week, by its Monday, in order."""
    return context.once("rehearsals by week", ensemble, lambda: _by_week(ensemble))


def _by_week(ensemble: EnsemblePlan) -> dict[date, list[RehearsalRow]]:
    weeks: dict[date, list[RehearsalRow]] = {}
    for row in ensemble.rehearsals:
        day = row.rehearsal.day
        weeks.setdefault(date.fromordinal(day.toordinal() - day.weekday()), []).append(row)
    return weeks


def day_views(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> tuple[DayView, ...]:
    """Show each rehearsal in a line that leads to its agenda."""
    path = addresses.ensemble(cycle.id, ensemble.item.id)
    return tuple(
        _day_view(context, ensemble, row, path, anchor)
        for row, anchor in zip(ensemble.rehearsals, anchors(ensemble), strict=True)
    )


def _day_view(
    context: Context, ensemble: EnsemblePlan, row: RehearsalRow, path: str, anchor: str
) -> DayView:
    rehearsal, apart = row.rehearsal, section_rooms(context, ensemble, row)
    return DayView(
        day=rehearsal.day,
        ends=formatting.moment(rehearsal.end),
        date=formatting.short_day(rehearsal.day),
        time=formatting.span(rehearsal.start, rehearsal.end),
        n=rehearsal.n,
        of=rehearsal.of,
        room=context.say(row.room.name) if row.room and not apart else "",
        rooms=tuple(one.words for one in apart),
        address=context.say(address_of(context, ensemble, row)),
        ride=ride_words(context, row),
        purpose=context.say(row.purpose),
        what=what_it_is(context, row),
        path=f"{path}#{anchor}",
        anchor=anchor,
    )


def _targets(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> dict[date, list[TargetView]]:
    """Show what to reach in each week, by its Monday, also in pieces of another band that it joins."""
    weeks: dict[date, list[TargetView]] = {}
    for whose, piece in _pieces(cycle, ensemble):
        path = addresses.piece(cycle.id, whose.item.id, piece.item.id)
        for passage in piece.passages:
            for week in passage.weeks:
                view = target_view(context, whose, piece, passage, week, path)
                weeks.setdefault(week.monday, []).append(view)
    return weeks


def _pieces(cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[tuple[EnsemblePlan, PieceRow]]:
    """Give a band's pieces, then those that it joins another band in, each with whose it is."""
    yield from ((ensemble, piece) for piece in ensemble.pieces)
    plans = {plan.item.id: plan for plan in cycle.ensembles}
    for joined in ensemble.joined:
        host = plans.get(joined.host.id)
        if host is not None:
            yield host, joined.piece


def target_view(
    context: Context,
    ensemble: EnsemblePlan,
    piece: PieceRow,
    passage: PassageRow,
    week: WeekTarget,
    path: str,
) -> TargetView:
    """Show what to reach on a passage in a week; `path` is the piece's page."""
    return context.once(
        "target", week, lambda: _target_view(context, ensemble, piece, passage, week, path)
    )


def _target_view(
    context: Context,
    ensemble: EnsemblePlan,
    piece: PieceRow,
    passage: PassageRow,
    week: WeekTarget,
    path: str,
) -> TargetView:
    first_there = context.once(
        "first day at the goal", passage, lambda: _day_at_goal(ensemble, passage)
    )
    return TargetView(
        piece_id=piece.item.id,
        passage_id=passage.item.id,
        piece=context.say(piece.item.title),
        passage=context.say(passage.item.name),
        path=f"{path}#{passage.item.id}",
        measures=measures(passage.item.measures.first, passage.item.measures.last),
        target=week.target,
        goal=passage.item.goal,
        steps=week.steps,
        at_goal=week.target == passage.item.goal,
        reached=first_there <= week.monday + _WEEK,
        click=subdivided(week.target),
    )


def _day_at_goal(ensemble: EnsemblePlan, passage: PassageRow) -> date:
    """Give the day on which class first plays a passage at its goal; the last of all days for never."""
    places = (visit.place for visit in passage.at_goal)
    return min((ensemble.rehearsals[place].rehearsal.day for place in places), default=date.max)


def goals_by_date(
    say: Callable[[Text | None], str], ensemble: EnsemblePlan, passage: PassageRow
) -> tuple[tuple[str, Tempo], ...]:
    """Say by when class is at each tempo on the way: `by Thu, Nov 12`, `by the end of Build`."""
    stages = {span.item.id: say(span.item.name) for span in ensemble.stages}
    return tuple(
        (
            gettext("by the end of %(stage)s", stage=stages.get(goal.by, goal.by))
            if isinstance(goal.by, str)
            else gettext("by %(day)s", day=formatting.short_day(goal.by)),
            goal.tempo,
        )
        for goal in passage.goals
    )


def measures(first: int, last: int) -> str:
    """Write `mm. 9–16`, or `m. 9` for a single measure."""
    if first == last:
        # Translators: short for "measure" (bar) in music.
        return gettext("m. %(number)s", number=first)
    # Translators: short for "measures" (bars) in music.
    return gettext("mm. %(first)s–%(last)s", first=first, last=last)
