"""What a role of the crew does and when, in order of time, and where it meets."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, time, timedelta

from handbook.domain.run_of_show import shown
from handbook.outputs.components.concert_steps import StepView
from handbook.outputs.components.concert_words import clock, names, pick_up_place, span
from handbook.outputs.components.stage_things import things
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_clauses
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay, SetupRow
from handbook.plan.model import ConcertPlan
from handbook.schema.loads import CrewRole, Gear
from handbook.schema.program import Room

_NIGHT_ENDS = time(4)  # what is due before this hour is due on the night after a concert


def meets_at(context: Context, concert: ConcertPlan, role: CrewRole, *, away: bool = False) -> str:
    """Say where a role meets: where that is said, else on the stage it sets, else at what it moves.

    With `away`, a room at school is said to be there if the concert is elsewhere.
    """
    group = _group_of(concert, role)
    if group and group.place:
        return context.say(group.place)
    if group and group.room:
        return _room_words(context, concert, group.room, away=away)
    if _sets_the_stage(concert, role):
        rooms = (*context.plan.program.rooms, *concert.venue.rooms)
        stage = next((room.name for room in rooms if room.id == concert.venue.stage), None)
        return context.say(stage or concert.venue.name)
    moved, load = _moved_by(concert, role), concert.day.load
    starts = {route.start.id: route.start for route in load.routes} if load else {}
    return _room_words(context, concert, starts[moved[0].from_], away=away) if moved else ""


def _room_words(context: Context, concert: ConcertPlan, room: Room, *, away: bool) -> str:
    at_school = {one.id for one in context.plan.program.rooms}
    name, stage = context.say(room.name), concert.venue.stage
    # A stage elsewhere may be listed among the rooms, too; to one at school nobody rides.
    is_elsewhere = concert.item.travel is not None or stage not in at_school
    if away and is_elsewhere and room.id in at_school and room.id != stage:
        return gettext("%(place)s, at school", place=name)
    return name


def crew_pick_up(group: GroupDay) -> datetime | None:
    """Give when families collect a band that is the crew, where that is later than its work ends."""
    return group.collect if group.collect != group.pick_up else None


def reads(concert: ConcertPlan, role: CrewRole) -> frozenset[str]:
    """Give the parts of the crew's page that concern a role, beside what all read.

    Who sets the stage or moves things reads of those; who does neither, such as who stays with a
    band, reads of bands, buses and rooms.
    """
    parts = {
        "stage": _sets_the_stage(concert, role),
        "loads": bool(_moved_by(concert, role)),
    }
    return frozenset(part for part, so in parts.items() if so) or frozenset({"bands"})


def crew_steps(context: Context, concert: ConcertPlan, role: CrewRole) -> tuple[StepView, ...]:
    """Gather all that a role has to do at a time; nothing for one with no times of its own."""
    group = _group_of(concert, role)
    steps: list[StepView] = []
    if group and group.call:
        place = meets_at(context, concert, role)
        be_ready = gettext("Be ready, %(place)s", place=place) if place else gettext("Be ready")
        steps.append(StepView(group.call, be_ready))
    if group and _sets_the_stage(concert, role):
        steps += _resets(context, concert, group)
    steps += _at_work(context, concert, role)
    steps += _tasks(context, concert, role)
    if not steps:
        return ()
    steps += [
        StepView(concert.downbeat, gettext("The concert begins")),
        StepView(shown(concert.day.ends), gettext("The concert ends")),
    ]
    if group and group.pick_up:
        steps.append(StepView(group.pick_up, gettext("Done"), "end"))
    if group and (at := crew_pick_up(group)):
        words = with_clauses(
            filter(None, (gettext("Pick-up"), pick_up_place(context, concert, group)))
        )
        steps.append(StepView(at, words, "pick-up"))
    # What is to be done by a time stands before what begins then; else as above.
    return tuple(sorted(steps, key=lambda step: (step.at, not step.due)))


def _group_of(concert: ConcertPlan, role: CrewRole) -> GroupDay | None:
    return next((one for one in concert.day.groups if one.role == role), None)


def _moved_by(concert: ConcertPlan, role: CrewRole) -> list[Gear]:
    load = concert.day.load
    return [gear for gear in load.moves if gear.who == role.id] if load else []


def _sets_the_stage(concert: ConcertPlan, role: CrewRole) -> bool:
    """Say whether a role works on the stage: it meets there, or nowhere else and brings things there."""
    stage, group = concert.venue.stage, _group_of(concert, role)
    if stage is None:
        return False
    if group is not None and group.room is not None:
        return group.room.id == stage
    return any(gear.to == stage for gear in _moved_by(concert, role))


def _at_work(context: Context, concert: ConcertPlan, role: CrewRole) -> Iterator[StepView]:
    """Give the rooms that are booked for the role."""
    for use in concert.day.uses:
        if use.role == role:
            what = gettext(
                "%(what)s, %(place)s, until %(time)s",
                what=context.say(use.what),
                place=context.say(use.room.name),
                time=clock(use.end),
            )
            yield StepView(shown(use.start), what)


def _tasks(context: Context, concert: ConcertPlan, role: CrewRole) -> Iterator[StepView]:
    for task in role.tasks:
        if task.by:
            night = task.by < _NIGHT_ENDS <= concert.downbeat.time()
            due = datetime.combine(concert.item.date, task.by, concert.downbeat.tzinfo)
            what = context.say(task.what)
            yield StepView(due + timedelta(days=1) if night else due, what, due=True)


def _resets(context: Context, concert: ConcertPlan, group: GroupDay) -> Iterator[StepView]:
    """Give the setting of the stage before each turn: the first when the role begins."""
    seating = concert.day.seating
    for n, turn in enumerate(seating.turns if seating else ()):
        change = _change(turn)
        if turn.reset and turn.free and change:
            what = gettext(
                "Reset for %(band)s, %(time)s: %(change)s",
                band=names(context, turn.ensembles),
                time=span(turn.reset, turn.free),
                change=change,
            )
            yield StepView(shown(turn.reset), what)
        elif change and group.times.duties < group.times.in_place and n == 0:
            what = gettext(
                "Set the stage for %(band)s: %(change)s",
                band=names(context, turn.ensembles),
                change=change,
            )
            yield StepView(shown(group.times.duties), what)


def _change(turn: SetupRow) -> str:
    """Write what is added and what is taken off."""
    add, strike = things(turn.change.add), things(turn.change.strike)
    if add and strike:
        return gettext("add %(things)s; take off %(others)s", things=add, others=strike)
    if strike:
        return gettext("take off %(things)s", things=strike)
    return gettext("add %(things)s", things=add) if add else ""
