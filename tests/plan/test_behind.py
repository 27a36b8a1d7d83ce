"""What a log shows of a season, of plans that hold just what is asked for."""

from __future__ import annotations

from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any, cast

from handbook.domain.season import Law, Unmet
from handbook.plan.behind import falls_behind, logged_places

FIRST = date(2026, 10, 19)


def plan(*reached: int) -> Any:
    """Give three rehearsals, a week apart, of which some were logged."""
    rows = [
        SimpleNamespace(rehearsal=SimpleNamespace(day=FIRST + timedelta(weeks=week)))
        for week in range(3)
    ]
    logged = [SimpleNamespace(at=SimpleNamespace(place=place)) for place in reached]
    passages = [SimpleNamespace(reached=logged)]
    return SimpleNamespace(pieces=[SimpleNamespace(passages=passages)], rehearsals=rows)


def test_after_the_last_rehearsal_nothing_can_be_planned_anew() -> None:
    assert [*logged_places(plan(2, 0, 1), None, None)] == [0, 1]
    second = FIRST + timedelta(weeks=1)
    assert [*logged_places(plan(0, 1, 2), second, None)] == [1]
    assert [*logged_places(plan(0, 1, 2), None, second)] == [0]


def lacking(*lacks: int) -> Any:
    return cast(
        "Any",
        SimpleNamespace(
            season=SimpleNamespace(unmet=[Unmet(Law.GOAL, lack, passage=0) for lack in lacks])
        ),
    )


def test_of_what_is_lacking_twice_the_larger_counts() -> None:
    assert not falls_behind(lacking(3, 1), lacking(2))
    assert falls_behind(lacking(1, 3), lacking(4))
    assert falls_behind(lacking(), lacking(1))
