"""How concert day is put into words: groups, places, things, weights."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from fractions import Fraction

from handbook.domain.call_times import mark_after
from handbook.domain.lifting import as_printed
from handbook.domain.loads import KG_A_POUND, MassUnit, Weight
from handbook.domain.run_of_show import shown
from handbook.domain.seating import Setup
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay, StepRow
from handbook.plan.model import ConcertPlan
from handbook.schema.concert import Guest
from handbook.schema.program import Ensemble

# The two moments at which players must be somewhere: one name each, on every page.
AT_THE_BUS, IN_THE_ROOM = "Be at the bus", "Ready in the room"

_GOING_HOME = timedelta(minutes=29)
_PLURALS = {"bench": "benches"}


def clock(moment: datetime) -> str:
    """Write a reckoned time to the nearest minute, the only rounding it gets."""
    return formatting.clock(shown(moment))


def span(start: datetime, end: datetime) -> str:
    """Write two reckoned times."""
    return formatting.span(shown(start), shown(end))


def names(context: Context, ensembles: Iterable[Ensemble | Guest]) -> str:
    """Join the names of those who play together."""
    return " and ".join(context.say(ensemble.name) for ensemble in ensembles)


def part_name(context: Context, group: GroupDay) -> str:
    """Name a section within its band; nothing for a whole band or a role."""
    if not group.section:
        return ""
    return context.say(group.name) or group.section.replace("-", " ")


def group_name(context: Context, group: GroupDay) -> str:
    """Name a band, a section of it, or a role of the crew."""
    if group.role:
        return context.say(group.role.name)
    band = context.say(group.ensemble.name) if group.ensemble else group.id
    part = part_name(context, group)
    return f"{band}, {part}" if part else band


def room_of_step(context: Context, step: StepRow) -> str:
    """Say where a step beside the usual ones is."""
    return context.say(step.room.name) if step.room else context.say(step.item.place)


def place_of(context: Context, group: GroupDay) -> str:
    """Say where a group meets."""
    return context.say(group.place) or (context.say(group.room.name) if group.room else "")


def meeting_place(context: Context, concert: ConcertPlan, group: GroupDay) -> str:
    """Say where families bring a group: to the bus, if it rides."""
    if concert.item.travel and group.ride is not None:
        return context.say(concert.item.travel.meet)
    return place_of(context, group)


def pick_up_place(context: Context, concert: ConcertPlan, group: GroupDay) -> str:
    """Say where families collect a group; nothing if that is not said."""
    item = concert.item
    bus = item.travel.meet if item.travel and group.ride is not None else None
    return context.say(item.pick_up_place or bus)


def over_at(ends: datetime, collected: Iterable[datetime | None]) -> str:
    """Give the last minute before a page says that it is over, as its scripts read it.

    That is half an hour after all went home, as the list of steps has it.
    """
    last = max((mark_after(ends), *(at for at in collected if at)))
    return (last + _GOING_HOME).strftime("%Y-%m-%dT%H:%M")


def counted(thing: str, count: int) -> str:
    """Write `6 chairs`."""
    words = thing.replace("-", " ")
    return f"{count} {words if count == 1 else _PLURALS.get(words, f'{words}s')}"


def things(setup: Setup) -> str:
    """Write a set-up as a line, `38 chairs, 43 stands`."""
    return ", ".join(counted(thing, count) for thing, count in setup.counts)


def weight(value: Weight | None) -> str:
    """Write a weight as it was stated; nothing for one that nobody stated."""
    return f"{float(value.number):g} {value.unit.value}" if value else ""


def units_of(weights: Iterable[Weight | None]) -> tuple[MassUnit, ...]:
    """Give the units that weights were stated in, in order of appearance, each once."""
    return tuple(dict.fromkeys(value.unit for value in weights if value))


def total(kg: Fraction, units: Sequence[MassUnit]) -> str:
    """Write a sum of weights to the nearest whole unit, half up; a second unit in parentheses."""
    numbers = {MassUnit.KG: kg, MassUnit.LB: kg / KG_A_POUND}
    first, *others = (f"{as_printed(numbers[unit], 0)} {unit.value}" for unit in units)
    return f"{first} ({', '.join(others)})" if others else first
