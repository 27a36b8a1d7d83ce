"""A band that does not play in a concert, and yet is there: its players are the crew."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.outputs.components.concert_words import clock
from handbook.outputs.components.crew_steps import meets_at
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan
from handbook.schema.loads import CrewRole


def crew_bands(concert: ConcertPlan) -> tuple[str, ...]:
    """Give the ids of bands that have a role in the crew and do not play."""
    roles = (role.ensemble for role in concert.item.crew)
    return tuple(dict.fromkeys(one for one in roles if one and one not in concert.item.players))


def crew_days(concert: ConcertPlan, band: str) -> Iterator[tuple[CrewRole, GroupDay | None]]:
    """Give the roles of a band with their days; None for a role without a call."""
    for role in concert.item.crew:
        if role.ensemble == band:
            yield role, next((one for one in concert.day.groups if one.role == role), None)


def crew_lines(context: Context, concert: ConcertPlan) -> tuple[str, ...]:
    """Say which roles such bands have, and when they must be there."""
    return tuple(
        ready_words(context, concert, role, day)
        for band in crew_bands(concert)
        for role, day in crew_days(concert, band)
    )


def ready_words(
    context: Context, concert: ConcertPlan, role: CrewRole, day: GroupDay | None
) -> str:
    """Name a role, and say when and where it must be ready, as far as that is known."""
    name = context.say(role.name)
    if day is None or day.call is None:
        return name
    at, place = clock(day.call), meets_at(context, concert, role)
    if place:
        return gettext("%(role)s, be ready at %(time)s, %(place)s", role=name, time=at, place=place)
    return gettext("%(role)s, be ready at %(time)s", role=name, time=at)
