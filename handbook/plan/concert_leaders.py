"""Who leads a group's warm-up on concert day, by role."""

from __future__ import annotations

from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan


def led_at_warm_up(concert: ConcertPlan, group: GroupDay) -> tuple[str, ...]:
    """Give the staff by id: by the group's call, else by its turn, else by the band; of a section by its call."""
    if group.ensemble is None:
        return ()
    band = group.ensemble.id
    calls = [
        call.led_by
        for call in concert.item.calls
        if call.ensemble == band and call.section == group.section
    ]
    turns = [turn.led_by for turn in concert.item.program if band in turn.names]
    stated = calls if group.section else [*calls, *turns, group.ensemble.led_by]
    return next((one for one in stated if one), ())
