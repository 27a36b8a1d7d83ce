"""A rehearsal away from school: the address, the ride there and back, the pick-up."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.values.text import Text
from handbook.outputs.components.event_words import place_name
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import clock_time
from handbook.outputs.page import Context
from handbook.plan.events import Places
from handbook.plan.model import EnsemblePlan, RehearsalRow
from handbook.schema.events import EventRide


def address_of(context: Context, ensemble: EnsemblePlan, row: RehearsalRow) -> Text | None:
    """Give the street address of a rehearsal in a venue, unless the band always rehearses there."""
    if row.room is None or row.room == ensemble.room:
        return None
    at = row.room.id
    found = (
        venue.address
        for venue in context.plan.program.venues
        if at in {venue.stage, *(room.id for room in venue.rooms)}
    )
    return next(found, None)


def ride_words(context: Context, row: RehearsalRow) -> tuple[str, ...]:
    """Say when and where the ride leaves, when it is back, and when families collect players."""
    ride = next((one.item.ride for one in row.entries if one.item.ride), None)
    return (*(_ride(context, ride) if ride else ()), *_collected(row))


def _ride(context: Context, ride: EventRide) -> Iterator[str]:
    meet = place_name(context, Places(context.plan.program).meeting(ride.meet))
    at = clock_time(ride.leaves) if ride.leaves else ""
    if at and meet:
        yield gettext("Ride leaves at %(time)s from %(place)s.", time=at, place=meet)
    elif at:
        yield gettext("Ride leaves at %(time)s.", time=at)
    elif meet:
        yield gettext("Ride leaves from %(place)s.", place=meet)
    if ride.back:
        yield gettext("Ride is back at about %(time)s.", time=clock_time(ride.back))


def _collected(row: RehearsalRow) -> Iterator[str]:
    at = next((one.item.pick_up for one in row.entries if one.item.pick_up), None)
    if at:
        yield gettext("Pick-up %(time)s.", time=clock_time(at))
