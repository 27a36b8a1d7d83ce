"""How concert day is put into words: groups, places, things, weights."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from fractions import Fraction

from handbook.domain.call_times import mark_after, mark_before
from handbook.domain.lifting import as_printed
from handbook.domain.loads import KG_A_POUND, MassUnit, Weight
from handbook.domain.run_of_show import shown
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.instrument_names import called
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay, RideDay, StepRow
from handbook.plan.model import ConcertPlan
from handbook.records import dataclass
from handbook.schema.concert import Guest
from handbook.schema.program import Ensemble

_GOING_HOME = timedelta(minutes=29)

# Not the end of an abbreviation, `p. m.`; before what marks the end of another language.
_END = re.compile("(?<!\\W[^\\W\\d])[.;]+([\ue000-\uf8ff]*)$")


def unended(words: str) -> str:
    """Take the full stop or semicolon from the end of words, so that they may stand in a sentence."""
    return _END.sub(r"\1", words)


@dataclass(frozen=True, slots=True)
class WayThere:
    """When players report to a bus, it leaves and arrives."""

    report: datetime
    leaves: datetime
    arrives: datetime


@dataclass(frozen=True, slots=True)
class BusTimes:
    """A ride as all pages tell it; `there` is None where no way there is reckoned."""

    there: WayThere | None
    leaves_hall: datetime
    at_school: datetime


def bus_times(ride: RideDay) -> BusTimes:
    """Round a ride outward to 5 minutes, since nobody knows a road to the minute."""
    there, back = ride.there, ride.back
    return BusTimes(
        WayThere(there.report, mark_before(there.depart), mark_before(there.arrive))
        if there
        else None,
        back.depart if ride.item.leaves else mark_after(back.depart),
        mark_after(back.arrive),
    )


def at_the_bus() -> str:
    """Name the moment at which players who ride must be there, the same on every page."""
    return gettext("Be at the bus")


def in_the_room() -> str:
    """Name the moment at which players must be ready, the same on every page."""
    return gettext("Ready in the room")


def clock(moment: datetime) -> str:
    """Write a reckoned time to the nearest minute, the only rounding it gets."""
    return formatting.clock(shown(moment))


def span(start: datetime, end: datetime) -> str:
    """Write two reckoned times."""
    return formatting.span(shown(start), shown(end))


def names(context: Context, ensembles: Iterable[Ensemble | Guest]) -> str:
    """Join the names of those who play together."""
    return formatting.listed([context.say(ensemble.name) for ensemble in ensembles])


def part_name(context: Context, group: GroupDay) -> str:
    """Name a section within its band; nothing for a whole band or a role."""
    if not group.section:
        return ""
    return context.say(group.name) or called(group.section)


def group_name(context: Context, group: GroupDay) -> str:
    """Name a band, a section of it, or a role of the crew."""
    if group.role:
        return context.say(group.role.name)
    band = context.say(group.ensemble.name) if group.ensemble else group.id
    part = part_name(context, group)
    return gettext("%(band)s, %(part)s", band=band, part=part) if part else band


def room_of_step(context: Context, step: StepRow) -> str:
    """Say where a step beside the usual ones is."""
    return context.say(step.room.name) if step.room else context.say(step.item.place)


def place_of(context: Context, group: GroupDay) -> str:
    """Say where a group meets."""
    return context.say(group.place) or (context.say(group.room.name) if group.room else "")


def way_to(context: Context, group: GroupDay) -> str:
    """Say how to find the room where a group meets; nothing where the place is told in words."""
    return context.say(group.room.directions) if group.room and not group.place else ""


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


def part_of(part: str, concert: str) -> str:
    """Name a part of a concert's page among what search finds."""
    # Translators: a part of a page and the concert it is about, such as "Parking, Winter Concert".
    return gettext("%(part)s, %(concert)s", part=part, concert=concert)


def over_at(ends: datetime, collected: Iterable[datetime | None]) -> str:
    """Give the last minute before a page says that it is over, as its scripts read it.

    That is half an hour after all went home, as the list of steps has it.
    """
    last = max((mark_after(ends), *(at for at in collected if at)))
    return (last + _GOING_HOME).strftime("%Y-%m-%dT%H:%M")


def weight(value: Weight | None) -> str:
    """Write a weight as it was stated; nothing for one that nobody stated."""
    return _in_unit(f"{float(value.number):g}", value.unit) if value else ""


def _in_unit(number: object, unit: MassUnit) -> str:
    if unit is MassUnit.KG:
        return gettext("%(number)s kg", number=number)
    # Translators: pounds, the weight.
    return gettext("%(number)s lb", number=number)


def units_of(weights: Iterable[Weight | None]) -> tuple[MassUnit, ...]:
    """Give the units that weights were stated in, in order of appearance, each once."""
    return tuple(dict.fromkeys(value.unit for value in weights if value))


def total(kg: Fraction, units: Sequence[MassUnit]) -> str:
    """Write a sum of weights to the nearest whole unit, half up; a second unit in parentheses."""
    numbers = {MassUnit.KG: kg, MassUnit.LB: kg / KG_A_POUND}
    first, *others = (_in_unit(as_printed(numbers[unit], 0), unit) for unit in units)
    if not others:
        return first
    # Translators: a weight, and the same in another unit.
    return gettext("%(weight)s (%(same)s)", weight=first, same=with_commas(others))
