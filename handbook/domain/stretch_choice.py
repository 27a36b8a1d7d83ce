"""Which joins and runs each stage has: as many as its share buys, and what covers every measure."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from handbook.domain.season import MusicKind, SeasonNeed, Stretch


def chosen_stretches(need: SeasonNeed) -> dict[int, list[int]]:
    """Give for each stage with music the stretches to place in it, an index as often as it comes.

    Runs take turns in the order given, one further in each stage, as long as half of the
    next still fits the stage's share; then joins that cover gaps no run of the stage
    covers, the most gaps for the minutes first; then joins take turns within their share.
    What the director has ordered for a day counts. A join over the stage's longest block
    is left out, and so is a run, except in the last stage: a piece is as long as it is.
    """
    days = [(place, day) for place, day in enumerate(need.days) if day.minutes]
    stages = sorted({day.stage for _, day in days})
    return {stage: _of_stage(need, stage, turn) for turn, stage in enumerate(stages)}


def _of_stage(need: SeasonNeed, stage: int, turn: int) -> list[int]:
    days = [day for day in need.days if day.stage == stage and day.minutes]
    free = [day for day in days if day.held is None]
    ordered = [run for day in free for run, _ in day.runs]
    held = [
        block.index
        for day in days
        for block in day.held or ()
        if block.kind is not MusicKind.PASSAGE
    ]
    mix, last = need.mixes[stage], stage == need.days[-1].stage
    total, shares = 2 * sum(day.minutes for day in days), mix.passages + mix.joins + mix.runs
    longest = max((day.longest for day in free), default=0)
    room = max((day.minutes for day in free), default=0)
    fitting = [
        index
        for index, stretch in enumerate(need.stretches)
        if not stretch.dropped
        and stretch.minutes[stage] <= room
        and (stretch.minutes[stage] <= longest or (last and stretch.kind is MusicKind.RUN))
    ]
    runs = [index for index in fitting if need.stretches[index].kind is MusicKind.RUN]
    joins = [index for index in fitting if need.stretches[index].kind is MusicKind.JOIN]
    most = len(free)
    chosen = _within_share(need, stage, runs, mix.runs * total // shares, held, ordered, turn, most)
    covering = _covering(need, stage, joins + runs, [*held, *ordered, *chosen])
    chosen += covering
    before = [*ordered, *(index for index in chosen if index in joins)]
    return chosen + _within_share(
        need, stage, joins, mix.joins * total // shares, held, before, turn, most
    )


def _within_share(
    need: SeasonNeed,
    stage: int,
    turns: Sequence[int],
    twice_budget: int,
    held: Sequence[int],
    ordered: Sequence[int],
    turn: int,
    most: int,
) -> list[int]:
    """Let the stretches take turns while half of the next one still fits the budget.

    What was `held` in rehearsals that are over counts against the budget; of what is
    `ordered` and chosen for those ahead, each stretch comes at `most` so often.
    """
    if not turns:
        return []
    kind = need.stretches[turns[0]].kind
    spent = sum(
        need.stretches[index].minutes[stage]
        for index in (*held, *ordered)
        if need.stretches[index].kind is kind
    )
    ahead = {index: ordered.count(index) for index in turns}
    had = {index: held.count(index) for index in turns}
    order = [*turns[turn % len(turns) :], *turns[: turn % len(turns)]]
    chosen: list[int] = []
    while left := [index for index in order if ahead[index] < most]:
        index = min(left, key=lambda one: had[one] + ahead[one])
        minutes = need.stretches[index].minutes[stage]
        if twice_budget - 2 * spent < minutes:
            break
        chosen.append(index)
        ahead[index] += 1
        spent += minutes
    return chosen


def _covering(
    need: SeasonNeed, stage: int, fitting: Sequence[int], have: Sequence[int]
) -> list[int]:
    """Add stretches until every gap is covered that one of them can cover."""
    covered = {gap for index in have for gap in need.stretches[index].gaps}
    uncovered = {gap for index in fitting for gap in need.stretches[index].gaps} - covered
    chosen: list[int] = []

    def gain(index: int) -> Fraction:
        stretch: Stretch = need.stretches[index]
        return Fraction(len(stretch.gaps & uncovered), stretch.minutes[stage])

    while uncovered:
        best = max(fitting, key=gain)
        chosen.append(best)
        uncovered -= need.stretches[best].gaps
    return chosen
