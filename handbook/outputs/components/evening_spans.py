"""How long each evening's list of a part is, so that the page keeps its place until it is there."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from itertools import groupby

from handbook.domain.home_days import HomeEvening
from handbook.outputs.page import Context
from handbook.plan.evenings import HomeSet, evenings_of, has_evenings, home_sets
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class EveningSpan:
    """Evenings that follow one another with lists of so many rows; what was ticked changes no number."""

    first: date
    last: date
    rows: int
    resting: bool


def evening_spans(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, part: str
) -> tuple[EveningSpan, ...]:
    """Give the spans of a part's evenings in order; none where no minutes at home are asked."""
    if not has_evenings(ensemble):
        return ()
    spans = context.once("evening spans", ensemble, lambda: _spans(context, cycle, ensemble))
    sets = context.once("home sets", ensemble, lambda: home_sets(ensemble))
    return spans[sets[part]]


def evenings_by_set(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> Mapping[HomeSet, tuple[HomeEvening, ...]]:
    """Plan the evenings of a band once for all that shows them."""
    return context.once("evenings", ensemble, lambda: evenings_of(cycle, ensemble))


def _spans(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> dict[HomeSet, tuple[EveningSpan, ...]]:
    found = {}
    for own, evenings in evenings_by_set(context, cycle, ensemble).items():
        runs = groupby(evenings, key=lambda one: (len(one.shares), one.resting))
        found[own] = tuple(
            EveningSpan(days[0], days[-1], rows, resting)
            for (rows, resting), run in runs
            if (days := [one.day for one in run])
        )
    return found
