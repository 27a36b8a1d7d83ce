"""The demo's concert days, as a director would look them over before they are sent home.

What is too large to come in a player's hands is common practice, no source.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from handbook.plan.model import ConcertPlan
from tests.demo import demo_plan

ON_WHEELS = {"timpani", "xylophone", "glockenspiel", "marimba", "vibraphone", "chimes", "bass-drum"}


def concerts() -> dict[str, ConcertPlan]:
    return {cycle.id: cycle.concert for cycle in demo_plan().cycles if cycle.concert}


@pytest.mark.parametrize("cycle", ["fall-2026", "winter-2026"])
def test_every_large_instrument_that_is_played_is_in_the_load(cycle: str) -> None:
    concert = concerts()[cycle]
    played = {
        name
        for turn in concert.appearances
        for name in (turn.ensemble.instruments if turn.ensemble else ())
        if name in ON_WHEELS
    }
    assert played
    assert played <= {gear.id for gear in concert.item.equipment}


@pytest.mark.parametrize("cycle", ["fall-2026", "winter-2026"])
def test_nobody_is_in_place_while_another_band_plays_or_the_stage_is_reset(cycle: str) -> None:
    day = concerts()[cycle].day
    assert day.seating is not None
    for group in day.groups:
        for turn in day.seating.turns:
            if turn.start == group.times.first_note and turn.free is not None:
                assert turn.free <= group.times.in_place
    on_stage = [use for use in day.uses if use.room.id.endswith("-stage")]
    assert all(one.end <= after.start for one, after in pairwise(on_stage))
