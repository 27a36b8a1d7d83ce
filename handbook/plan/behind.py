"""What a log shows of a season: whether its visits still suffice for every goal."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from handbook.domain.season import Law, Season, Unmet
from handbook.domain.season_laws import unmet_laws
from handbook.plan.model import EnsemblePlan
from handbook.plan.season import SeasonPlan
from handbook.plan.season_need import Past, need_after
from handbook.schema.cycle import Cycle

_ONE_DAY = timedelta(days=1)
_OF_GOALS = frozenset({Law.GOAL, Law.SETTLED})


def logged_places(plan: EnsemblePlan, since: date | None, until: date | None) -> Iterator[int]:
    """Give the rehearsals from one day to before another of which it is said what they reached.

    The last one of all is left out: nothing comes after it.
    """
    places = {
        one.at.place
        for piece in plan.pieces
        for passage in piece.passages
        for one in passage.reached
    }
    for place in sorted(places):
        day = plan.rehearsals[place].rehearsal.day
        if place + 1 < len(plan.rehearsals) and (since or day) <= day < (until or date.max):
            yield place


def day_after(plan: EnsemblePlan, place: int) -> date:
    """Give the day after a rehearsal."""
    return plan.rehearsals[place].rehearsal.day + _ONE_DAY


def as_it_stands(season: SeasonPlan, plan: EnsemblePlan, cycle: Cycle, place: int) -> SeasonPlan:
    """Keep a season's blocks, and say what they lack from what was reached by a rehearsal."""
    past = Past(day_after(plan, place), season.season.blocks[: place + 1], plan.pieces)
    need = need_after(season.need, season.music, past, cycle, season.on_the_way, season.latest)
    unmet = unmet_laws(need, season.season.blocks)
    return replace(season, need=need, season=Season(season.season.blocks, unmet))


def falls_behind(before: SeasonPlan, now: SeasonPlan) -> bool:
    """Whether a goal that could be reached, or reached in time, no longer can."""
    lacking: dict[object, int] = {}
    for unmet in _of_goals(before):
        key = _requirement(unmet)
        lacking[key] = max(unmet.lack, lacking.get(key, 0))
    return any(one.lack > lacking.get(_requirement(one), 0) for one in _of_goals(now))


def _of_goals(season: SeasonPlan) -> Iterator[Unmet]:
    return (one for one in season.season.unmet if one.law in _OF_GOALS)


def _requirement(unmet: Unmet) -> tuple[Law, int | None, int, int]:
    return unmet.law, unmet.passage, unmet.first, unmet.last
