"""A season of music: planned from its need, with the ladder of each passage and what gave way."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from handbook.domain.metronome_marks import marks_named
from handbook.domain.reached import KnownClimb, climbs
from handbook.domain.season import (
    LEAST_AT_GOAL,
    Law,
    MusicKind,
    Season,
    SeasonNeed,
    Unmet,
    held_by,
    visits,
)
from handbook.domain.season_planner import plan_season
from handbook.domain.stretches import gaps
from handbook.domain.values.tempo import Tempo
from handbook.domain.week_targets import WeekTarget, week_targets
from handbook.plan.model import (
    DatedGoal,
    EnsemblePlan,
    LawRow,
    MendRow,
    PassageRow,
    PieceRow,
    SeasonRow,
    StageSpan,
    StretchRow,
    Visit,
)
from handbook.plan.season_need import (
    Past,
    SeasonMusic,
    goal_places,
    is_dropped,
    latest_places,
    passage_pace,
    runs_by_piece,
    season_music,
    season_need,
)
from handbook.plan.steering import DayPlan, PassageKey
from handbook.records import dataclass
from handbook.schema.cycle import Cycle

_ONE_DAY, _WEEK = timedelta(days=1), timedelta(days=7)


@dataclass(frozen=True, slots=True)
class SeasonPlan:
    """One ensemble's season: what it needs, what was planned, and what its indices mean.

    `usual` has the place by which each passage is at its goal if nothing else is stated,
    `latest` the one for a passage that has fallen behind, `on_the_way` the goals by date of each passage with their places.
    """

    need: SeasonNeed
    season: Season
    passages: tuple[PassageKey, ...]
    stretches: tuple[StretchRow, ...]
    music: SeasonMusic
    usual: tuple[int, ...]
    latest: tuple[int, ...]
    on_the_way: tuple[tuple[tuple[int, DatedGoal], ...], ...] = ()


def season_plan(
    cycle: Cycle,
    spans: Sequence[StageSpan],
    pieces: Sequence[PieceRow],
    days: Sequence[DayPlan],
    minutes: Sequence[int],
    dates: Sequence[date],
    *,
    gap: Fraction = Fraction(0),
    past: Past | None = None,
) -> SeasonPlan:
    """Plan the music of a season; `minutes` are those of music in each rehearsal, in order.

    `gap` is the seconds between two pieces at the concert, which a dress rehearsal keeps.
    What is `past` stays as it was, and the rest is planned from there.
    """
    music = season_music(pieces)
    need, usual = season_need(cycle, spans, music, days, minutes, dates, gap=gap, past=past)
    return SeasonPlan(
        need,
        plan_season(need),
        tuple((piece.item.id, passage.item.id) for piece, passage in music.passages),
        tuple(
            StretchRow(
                stretch.kind,
                piece.item,
                stretch.measures,
                tuple(piece.passages[place].item for place in stretch.passages),
            )
            for piece, stretch in music.stretches
        ),
        music,
        usual,
        latest_places(cycle, spans, music, need, dates, usual),
        tuple(goal_places(row, spans, dates) for _, row in music.passages),
    )


def with_ladders(
    cycle: Cycle,
    spans: Sequence[StageSpan],
    pieces: Sequence[PieceRow],
    plan: SeasonPlan,
    days: Sequence[date],
    past: Past | None = None,
    *,
    weekly: bool = True,
) -> Iterator[tuple[PassageRow, ...]]:
    """Give each piece's passages with the tempo of each visit, and if `weekly` the target of each week."""
    found = dict(zip(plan.passages, _visits(plan), strict=True))
    stages = [span.index for span in spans for _ in range(span.count)]
    bands = [span.item.tempo for span in spans]
    mondays = sorted({date.fromordinal(day.toordinal() - day.weekday()) for day in days})
    settled = {
        key: need.settled for key, need in zip(plan.passages, plan.need.passages, strict=True)
    }
    due = dict(zip(plan.passages, plan.on_the_way, strict=True))
    for piece in pieces:
        rows = []
        for passage in piece.passages:
            key = (piece.item.id, passage.item.id)
            places = [place for place, _ in found[key]]
            known = climbs(
                passage_pace(cycle, passage.item),
                places,
                stages,
                bands,
                [one.at for one in passage.reached],
                start=passage.item.start,
                settled=_settled(found[key], settled[key], stages, len(past.blocks) if past else 0),
                held=tuple(past.visits(key).values()) if past else (),
                on_the_way=_on_the_way(places, due[key]),
            )
            seen = tuple(
                Visit(place, kinds, rung)
                for (place, kinds), rung in zip(found[key], known[-1].rungs, strict=True)
            )
            weeks = (
                _weeks(cycle, piece, passage, places, known, mondays, days, past) if weekly else ()
            )
            rows.append(replace(passage, visits=seen, weeks=weeks))
        yield tuple(rows)


def _on_the_way(
    places: Sequence[int], due: Sequence[tuple[int, DatedGoal]]
) -> list[tuple[int, Tempo]]:
    """Give the tempos on the way with the visits, from 0, by which they are due; those before the first are left out."""
    visited = [(bisect_right(places, place) - 1, goal.tempo) for place, goal in due]
    return [(visit, tempo) for visit, tempo in visited if visit >= 0]


def _weeks(
    cycle: Cycle,
    piece: PieceRow,
    passage: PassageRow,
    places: Sequence[int],
    known: Sequence[KnownClimb],
    mondays: Sequence[date],
    days: Sequence[date],
    past: Past | None,
) -> tuple[WeekTarget, ...]:
    """Give what to reach at home in each week of the passage; weeks that are over stay as they were.

    After each climb anew the weeks lead from what was reached.
    """
    over = past.weeks((piece.item.id, passage.item.id)) if past else ()
    used = [monday for monday in mondays if _in_use(piece, monday, past)]
    if past and piece.item.dropped and piece.item.dropped == piece.over and is_dropped(piece, past):
        return _weeks_till_dropped(used, over, _played_last(places, known[-1]))
    marks = marks_named(cycle.marks.kind, cycle.marks.step)
    weeks: tuple[WeekTarget, ...] = ()
    for climb in known:
        since = -1 if climb.place is None else climb.place
        seen = [
            (days[place], rung.tempo)
            for place, rung in zip(places, climb.rungs, strict=True)
            if place > since
        ]
        if climb.place is not None and climb.standing:
            seen.insert(0, (days[climb.place], climb.standing))
        anew = week_targets(used, seen, passage.item.goal, marks)
        if climb.place is None:
            weeks = anew
        elif anew:
            today = days[climb.place]
            weeks = tuple(
                old if old.monday + _WEEK <= today + _ONE_DAY else new
                for old, new in zip(weeks, anew, strict=False)
            )
    kept = {week.monday: week for week in over}
    return tuple(kept.get(week.monday, week) for week in weeks)


def _played_last(places: Sequence[int], climb: KnownClimb) -> Tempo | None:
    """Give the tempo that class has come to in the end, None if it has not played the passage."""
    since = -1 if climb.place is None else climb.place
    after = [rung.tempo for place, rung in zip(places, climb.rungs, strict=True) if place > since]
    return after[-1] if after else climb.standing


def _weeks_till_dropped(
    mondays: Sequence[date], over: Sequence[WeekTarget], played: Tempo | None
) -> tuple[WeekTarget, ...]:
    """Give the weeks up to the one in which a piece is dropped, which asks for nothing new.

    There is no goal to come to any more: what class played last or home was asked for
    before, whichever is faster, is kept. `over` are the weeks that were over then.
    """
    weeks = [week for week in over if week.monday in mondays]
    asked = [week.target for week in weeks[-1:]]
    stays = max(filter(None, (*asked, played)), key=lambda tempo: tempo.bpm, default=None)
    if stays is not None:
        left = mondays[len(weeks) :]
        weeks += [WeekTarget(monday, stays, (stays,)) for monday in left]
    return tuple(weeks)


def _in_use(piece: PieceRow, monday: date, past: Past | None) -> bool:
    """Whether a piece is practiced in a week: not once it has been dropped."""
    if past is None or piece.over is None or not is_dropped(piece, past):
        return True
    return monday < piece.over


def _settled(
    seen: Sequence[tuple[int, tuple[MusicKind, ...]]], by: int, stages: Sequence[int], held: int
) -> int:
    """Choose the visit that is the first at the goal: one in time, a second one after it.

    The last that plays the passage by itself or in a join, if the stage has a visit before
    it to climb in and it lies ahead of the first `held` rehearsals; else the last one, be it
    in a run. Players meet the goal before a whole piece asks for it (common practice, no source).
    """
    places = [place for place, _ in seen]
    in_time = sum(place <= by for place in places) - 1
    last = max(0, min(in_time, len(places) - LEAST_AT_GOAL))
    return next(
        (
            visit
            for visit in range(last, 0, -1)
            if stages[places[visit - 1]] == stages[places[last]]
            and places[visit - 1] >= held
            and seen[visit][1] != (MusicKind.RUN,)
        ),
        last,
    )


def _visits(plan: SeasonPlan) -> list[list[tuple[int, tuple[MusicKind, ...]]]]:
    kinds: list[dict[int, list[MusicKind]]] = [{} for _ in plan.passages]
    for place, row in enumerate(plan.season.blocks):
        for block in row:
            for passage in held_by(plan.need.stretches, block):
                kinds[passage].setdefault(place, []).append(block.kind)
    return [
        [(place, tuple(dict.fromkeys(kinds[passage][place]))) for place in places]
        for passage, places in enumerate(visits(plan.need, plan.season.blocks))
    ]


def season_row(plan: SeasonPlan, mends: tuple[MendRow, ...] | None = None) -> SeasonRow:
    """Tell what the season keeps, what gave way and what mends it, by the names of the music."""
    minutes = dict.fromkeys(MusicKind, 0)
    for row in plan.season.blocks:
        for block in row:
            minutes[block.kind] += block.minutes
    return SeasonRow(
        plan.need.window,
        minutes,
        tuple(_law_row(plan, unmet) for unmet in plan.season.unmet),
        mends,
        dict(zip(plan.passages, plan.usual, strict=True)),
    )


def with_what_gave_way(plan: EnsemblePlan, earlier: Sequence[EnsemblePlan]) -> EnsemblePlan:
    """Add the laws that gave way before a concert for pieces which were played there for the last time."""
    told = [
        row
        for before in earlier
        for piece in before.pieces
        if piece.over and piece.item.dropped is None and before.season
        for row in before.season.unmet
        if row.piece is piece.item and before.rehearsals[row.last].rehearsal.day < piece.over
    ]
    if not told or plan.season is None:
        return plan
    once = [row for place, row in enumerate(told) if row not in told[:place]]
    unmet = (*once, *(row for row in plan.season.unmet if row not in once))
    return replace(plan, season=replace(plan.season, unmet=unmet))


def _due_goal(plan: SeasonPlan, unmet: Unmet) -> DatedGoal | None:
    """Find the goal on the way that a passage is late for, if it is not its last one."""
    place = unmet.passage or 0
    need, goals = plan.need.passages[place], plan.on_the_way[place]
    if unmet.law is not Law.SETTLED or unmet.first:
        return None
    seen = sum(one <= unmet.last for one in visits(plan.need, plan.season.blocks)[place])
    if unmet.last == need.settled and unmet.lack + seen == need.visits:
        return None
    return next((goal for by, goal in goals if by == unmet.last), None)


def _law_row(plan: SeasonPlan, unmet: Unmet) -> LawRow:
    music = plan.music
    row = LawRow(unmet.law, unmet.lack, unmet.first, unmet.last)
    if unmet.passage is not None:
        piece, passage = music.passages[unmet.passage]
        row = replace(row, piece=piece.item, passage=passage.item)
        return replace(row, on_the_way=_due_goal(plan, unmet)) if passage.goals else row
    for place, (piece, _) in enumerate(runs_by_piece(music)):
        between = gaps(
            [part.item.measures for part in piece.parts],
            [passage.item.measures for passage in piece.passages],
        )
        gap = (unmet.gap or 0) - music.first_gap[place]
        if 0 <= gap < len(between):
            return replace(row, piece=piece.item, measures=between[gap])
    return row
