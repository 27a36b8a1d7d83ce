"""Stages whose tempo bands do not lead to the goal."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from handbook.checks import traversal
from handbook.checks.check import check, check_of, finding
from handbook.checks.wording import day
from handbook.domain.ladders import Band
from handbook.plan.stages import STAGE_STARTS_OUTSIDE_CYCLE
from handbook.problems import Note, Problem, Severity
from handbook.schema.handbook import Handbook

_GOAL = 100


@check
def stage_goes_back(handbook: Handbook) -> Iterator[Problem]:
    """A stage's tempo band is lower than that of the stage before.

    Ladders never descend, so such a stage would keep its players at the tempo they had.

    Bad:

        - {id: decode, tempo: 50-90}
        - {id: build, tempo: 40-65}

    Good:

        - {id: decode, tempo: 50-65}
        - {id: build, tempo: 65-90}
    """
    for address, stages in traversal.stage_lists(handbook):
        bands = [(n, one.id, one.tempo) for n, one in enumerate(stages) if one.tempo]
        for (at, name, before), (place, _, after) in pairwise(bands):
            if after.low < before.low or after.high < before.high:
                yield finding(
                    f"the tempo band {_band(after)} goes back from {_band(before)} of `{name}`",
                    (*address, place, "tempo"),
                    "let each stage begin where the one before it ended",
                    Severity.WARNING,
                    (Note("the band before is here", (*address, at, "tempo")),),
                )


@check_of(STAGE_STARTS_OUTSIDE_CYCLE)
def stage_starts_outside_cycle(handbook: Handbook) -> Iterator[Problem]:
    """Compare the dates on which stages start with the span of the cycle."""
    for content in handbook.cycles:
        span = traversal.whole_days(content)
        for place, stage in enumerate(content.cycle.item.stages):
            if span and stage.starts is not None and not span[0] <= stage.starts <= span[1]:
                yield finding(
                    f"{day(stage.starts)} is outside the cycle ({span[0]} to {span[1]})",
                    (content.cycle.file, "stages", place, "starts"),
                    "choose a date between the first and the last rehearsal",
                )


@check
def last_stage_below_goal(handbook: Handbook) -> Iterator[Problem]:
    """The last stage's tempo band does not reach the goal.

    Every ladder ends on its goal, so the last rehearsals would jump up to it.

    Bad:

        - {id: polish, tempo: 80-90}

    Good:

        - {id: polish, tempo: 90-100}
    """
    for address, stages in traversal.stage_lists(handbook):
        last = stages[-1].tempo if stages else None
        if last and last.high < _GOAL:
            yield finding(
                f"the last stage's band ends at {_percent(last)} percent, so tempos jump to the goal at its end",
                (*address, len(stages) - 1, "tempo"),
                f"let it end at 100: `{_low(last)}-100`",
                Severity.WARNING,
            )


def _band(band: Band) -> str:
    return f"{_low(band)}-{_percent(band)}"


def _low(band: Band) -> str:
    return f"{float(band.low):g}"


def _percent(band: Band) -> str:
    return f"{float(band.high):g}"
