"""A season of far too much music is planned with little more work than one of its size that has room.

Work is counted in calls, which are the same on every machine and under any load.
"""

from __future__ import annotations

import cProfile
import pstats

from handbook.domain.season import Mix, PassageNeed, SeasonDay, SeasonNeed
from handbook.domain.season_planner import plan_season

DAYS, PASSAGES = 40, 80
MOST_TIMES = 6


def calls_to_plan(minutes: int, visits: int) -> int:
    """Count the calls of planning a season in which each passage has so many visits to climb."""
    need = SeasonNeed(
        days=tuple(SeasonDay(minutes, int(place >= DAYS // 2), 3, 10) for place in range(DAYS)),
        passages=tuple(
            PassageNeed(visits, DAYS - 2 - place % 9, visits * (1 + place % 3))
            for place in range(PASSAGES)
        ),
        stretches=(),
        mixes=(Mix(1, 0, 0),) * 2,
        window=PASSAGES // 4,
    )
    profile = cProfile.Profile()
    season = profile.runcall(plan_season, need)
    assert bool(season.unmet) == (minutes < 3 * PASSAGES)
    return int(pstats.Stats(profile).total_calls)  # type: ignore[attr-defined]


def test_a_season_of_far_too_much_music_takes_little_longer_than_one_with_room() -> None:
    assert calls_to_plan(24, 9) <= MOST_TIMES * calls_to_plan(3 * PASSAGES, 3)
