"""From a cycle's pieces, stages and wishes to what a season of music needs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from functools import lru_cache

from handbook.domain.apportion import largest_remainder
from handbook.domain.blocks import block_count
from handbook.domain.day_kinds import DayKind
from handbook.domain.ladders import Pace, first_tempo, pace_to, visits_needed
from handbook.domain.metronome_marks import marks_named
from handbook.domain.reached import capped, played_at
from handbook.domain.returns import usual_window
from handbook.domain.season import (
    LEAST_AT_GOAL,
    Mix,
    MusicBlock,
    MusicKind,
    PassageNeed,
    SeasonDay,
    SeasonNeed,
    Stretch,
)
from handbook.domain.stretches import PieceStretch, piece_stretches, stretch_minutes
from handbook.domain.values.tempo import Tempo
from handbook.domain.week_targets import WeekTarget
from handbook.plan.model import (
    DatedGoal,
    PassageRow,
    PieceRow,
    StageSpan,
)
from handbook.plan.steering import DayPlan, PassageKey
from handbook.records import dataclass
from handbook.schema.cycle import Cycle, Stage
from handbook.schema.music import Passage

_GOAL = Fraction(100)
_WEEK = timedelta(days=7)
# Shares of passages, joins and runs in the first and in the last stage: our own choice.
_FIRST_MIX, _LAST_MIX = (80, 14, 6), (44, 18, 38)


@dataclass(frozen=True, slots=True)
class Past:
    """What has been rehearsed before the day `since`: the blocks and the visits of each passage.

    `pieces` are those of the plan that held till then, with their visits.
    """

    since: date
    blocks: tuple[tuple[MusicBlock, ...], ...]
    pieces: tuple[PieceRow, ...]

    def visits(self, key: PassageKey) -> Mapping[int, Tempo]:
        """Give the places of a passage's visits so far, in order, with their tempos as planned."""
        return {
            visit.place: visit.rung.tempo
            for piece in self.pieces
            for passage in piece.passages
            if (piece.item.id, passage.item.id) == key
            for visit in passage.visits
            if visit.place < len(self.blocks)
        }

    def weeks(self, key: PassageKey) -> tuple[WeekTarget, ...]:
        """Give the targets of the weeks that are over."""
        return tuple(
            week
            for piece in self.pieces
            for passage in piece.passages
            if (piece.item.id, passage.item.id) == key
            for week in passage.weeks
            if week.monday + _WEEK <= self.since
        )


@dataclass(frozen=True, slots=True)
class SeasonMusic:
    """The passages and stretches of all pieces, each with the index the season knows it by."""

    passages: tuple[tuple[PieceRow, PassageRow], ...]
    stretches: tuple[tuple[PieceRow, PieceStretch], ...]
    first_passage: tuple[int, ...]
    first_gap: tuple[int, ...]
    gaps: int


def season_need(
    cycle: Cycle,
    spans: Sequence[StageSpan],
    music: SeasonMusic,
    days: Sequence[DayPlan],
    minutes: Sequence[int],
    dates: Sequence[date],
    *,
    gap: Fraction = Fraction(0),
    past: Past | None = None,
) -> tuple[SeasonNeed, tuple[int, ...]]:
    """Give what `season_plan` plans from, and by which rehearsal each passage is usually at its goal."""
    need, usual = _need(cycle, spans, music, days, minutes, dates, gap)
    if past:
        goals = [goal_places(row, spans, dates) for _, row in music.passages]
        latest = latest_places(cycle, spans, music, need, dates, usual)
        need = need_after(need, music, past, cycle, goals, latest)
    return need, usual


def season_music(pieces: Sequence[PieceRow]) -> SeasonMusic:
    """Give the passages, joins, runs and gaps of all pieces their numbers, in order."""
    passages: list[tuple[PieceRow, PassageRow]] = []
    stretches: list[tuple[PieceRow, PieceStretch]] = []
    first_passage, first_gap, gap_count = [], [], 0
    for piece in pieces:
        first_passage.append(len(passages))
        first_gap.append(gap_count)
        passages += [(piece, passage) for passage in piece.passages]
        form = [(part.item.measures, part.seconds) for part in piece.parts]
        own = piece_stretches(form, [passage.item.measures for passage in piece.passages])
        stretches += [(piece, stretch) for stretch in own]
        gap_count += len(own[0].gaps)
    return SeasonMusic(
        tuple(passages), tuple(stretches), tuple(first_passage), tuple(first_gap), gap_count
    )


def passage_pace(cycle: Cycle, passage: Passage) -> Pace:
    """Give what bounds the climb of a passage in a cycle."""
    return _pace(passage.goal, cycle.marks.kind, cycle.marks.step, cycle.leap)


@lru_cache(maxsize=1024)  # each passage is asked for it by each trial of a mend, and when it climbs
def _pace(goal: Tempo, kind: str, step: int, leap: int) -> Pace:
    return Pace(goal, marks_named(kind, step), Fraction(leap))


def runs_by_piece(music: SeasonMusic) -> Iterator[tuple[PieceRow, PieceStretch]]:
    """Give each piece with its run."""
    return ((row, stretch) for row, stretch in music.stretches if stretch.kind is MusicKind.RUN)


def is_dropped(piece: PieceRow, past: Past) -> bool:
    """Whether a piece is no longer rehearsed after what is past."""
    return piece.over is not None and piece.over <= past.since


def lock_place(
    passage: Passage, spans: Sequence[StageSpan], dates: Sequence[date], usual: int
) -> int:
    """Give the last rehearsal by the passage's own date or stage; the usual one if it states none.

    A lock only ever brings a goal forward: where the usual place is earlier, that one holds.
    """
    if passage.lock_by is None:
        return usual
    if isinstance(passage.lock_by, date):
        return max(0, sum(day <= passage.lock_by for day in dates) - 1)
    return next((span.last for span in spans if span.item.id == passage.lock_by), usual)


def goal_places(
    passage: PassageRow, spans: Sequence[StageSpan], dates: Sequence[date]
) -> tuple[tuple[int, DatedGoal], ...]:
    """Give the last rehearsal by which each goal on the way is due, with the goal."""
    return tuple((_last_by(goal.by, spans, dates), goal) for goal in passage.goals)


def _last_by(by: date | str, spans: Sequence[StageSpan], dates: Sequence[date]) -> int:
    if isinstance(by, date):
        return max(0, sum(day <= by for day in dates) - 1)
    return next((span.last for span in spans if span.item.id == by), len(dates) - 1)


def stage_mix(stage: Stage, index: int, count: int) -> Mix:
    """Give a stage's stated shares, or ones that lead from passages to runs over the stages."""
    if stage.music is not None:
        return Mix(stage.music.passages, stage.music.joins, stage.music.runs)
    last = max(1, count - 1)
    place = index if count > 1 else 1
    return Mix(
        *(
            (early * (last - place) + late * place)
            for early, late in zip(_FIRST_MIX, _LAST_MIX, strict=True)
        )
    )


def need_after(
    need: SeasonNeed,
    music: SeasonMusic,
    past: Past,
    cycle: Cycle,
    goals: Sequence[Sequence[tuple[int, DatedGoal]]],
    latest: Sequence[int],
) -> SeasonNeed:
    """Hold the days that have been, and ask of the rest what is still to climb.

    `latest` has the place by which each passage is at its goal if it has fallen behind.
    """
    days = tuple(
        replace(
            day, held=past.blocks[place], minutes=sum(one.minutes for one in past.blocks[place])
        )
        if place < len(past.blocks)
        else day
        for place, day in enumerate(need.days)
    )
    passages = []
    for passage, (piece, row), dated, place in zip(
        need.passages, music.passages, goals, latest, strict=True
    ):
        held = past.visits((piece.item.id, row.item.id))
        visits, due, settled = passage.visits, passage.due, passage.settled
        if held or row.reached:
            pace = passage_pace(cycle, row.item)
            stands = _standing(cycle, pace, row, held, past)
            visits = max(1, stands.before + visits_needed(pace, stands.bpm))
            due = _due(pace, stands.bpm, dated, before=stands.before)
            if _fell_behind(row, held, past):
                settled = max(settled, place)
            if stands.at_goal and settled < len(past.blocks):
                # What has been asks for no more than a second time.
                settled = stands.at_goal[-LEAST_AT_GOAL:][0]
        dropped = is_dropped(piece, past)
        passages.append(replace(passage, visits=visits, due=due, settled=settled, dropped=dropped))
    stretches = tuple(
        replace(stretch, dropped=is_dropped(piece, past))
        for stretch, (piece, _) in zip(need.stretches, music.stretches, strict=True)
    )
    return replace(need, days=days, passages=tuple(passages), stretches=stretches)


def latest_places(
    cycle: Cycle,
    spans: Sequence[StageSpan],
    music: SeasonMusic,
    need: SeasonNeed,
    dates: Sequence[date],
    usual: Sequence[int],
) -> tuple[int, ...]:
    """Give the rehearsal by which each passage is at its goal, if it has fallen behind.

    What the director states still holds (`at_goal`, a lock, an earlier concert); where
    nothing is stated, it is two rehearsals before the concert.
    """
    if cycle.at_goal is not None:
        return tuple(passage.settled for passage in need.passages)
    last = _latest(need.days)
    return tuple(
        min(
            max(last, place),
            lock_place(row.item, spans, dates, last),
            _ready_place(piece, cycle, dates, last),
        )
        for (piece, row), place in zip(music.passages, usual, strict=True)
    )


@dataclass(frozen=True, slots=True)
class _Standing:
    """Where a passage climbs on: `before` counts the visits ahead of that one, `bpm` is its speed.

    `at_goal` are the places of the visits in a row at the goal up to then; the first of them is
    the one from which it climbs on.
    """

    before: int
    bpm: Fraction
    at_goal: tuple[int, ...] = ()


def _standing(
    cycle: Cycle, pace: Pace, row: PassageRow, held: Mapping[int, Tempo], past: Past
) -> _Standing:
    """Say how a passage stands; one that was not played yet climbs from its first tempo."""
    played = played_at(held, [one.at for one in row.reached], len(past.blocks) - 1)
    if not played:
        first = first_tempo(pace, cycle.stages[0].tempo, row.item.start)
        return _Standing(len(held), first)
    place, tempo = played.pop()
    bpm = capped(pace, tempo).bpm
    if bpm < pace.goal.bpm:
        return _Standing(sum(one < place for one in held), bpm)
    while played and capped(pace, played[-1][1]).bpm == bpm:
        place, _ = played.pop()
    at_goal = tuple(one for one in held if one >= place)
    return _Standing(len(held) - len(at_goal), bpm, at_goal)


def _fell_behind(row: PassageRow, held: Mapping[int, Tempo], past: Past) -> bool:
    """Whether a passage was slower than planned in any rehearsal that has been, or not played."""
    for one in (entry.at for entry in row.reached if entry.at.place < len(past.blocks)):
        planned = [tempo for place, tempo in held.items() if place <= one.place]
        if one.tempo is None:
            behind = one.place in held
        else:
            now = one.tempo.quarters_per_minute
            behind = bool(planned) and now < planned[-1].quarters_per_minute
        if behind:
            return True
    return False


def _latest(days: Sequence[SeasonDay]) -> int:
    """Give the last rehearsal by which a passage may be at its goal, and be played there often enough."""
    open_days = [place for place, day in enumerate(days) if day.minutes]
    return open_days[max(0, len(open_days) - LEAST_AT_GOAL)] if open_days else 0


def _need(
    cycle: Cycle,
    spans: Sequence[StageSpan],
    music: SeasonMusic,
    days: Sequence[DayPlan],
    minutes: Sequence[int],
    dates: Sequence[date],
    gap: Fraction,
) -> tuple[SeasonNeed, tuple[int, ...]]:
    stages = [span for span in spans for _ in range(span.count)]
    stretches = tuple(_stretch(cycle, spans, music, *pair) for pair in music.stretches)
    season_days = tuple(
        _day(cycle, span, day, total, music, stretches, gap)
        for span, day, total in zip(stages, days, minutes, strict=True)
    )
    steps = _steps(cycle, spans, music)
    usual = [_settle_place(cycle, spans, season_days)] * len(steps)
    need = SeasonNeed(
        days=season_days,
        passages=_passage_needs(cycle, spans, music, steps, usual, dates),
        stretches=stretches,
        mixes=tuple(stage_mix(span.item, span.index, len(spans)) for span in spans),
        window=cycle.return_within or _window(season_days, len(music.passages)),
        gaps=music.gaps,
    )
    return need, tuple(usual)


def _stretch(
    cycle: Cycle,
    spans: Sequence[StageSpan],
    music: SeasonMusic,
    piece: PieceRow,
    stretch: PieceStretch,
) -> Stretch:
    place = next(
        number
        for number, (row, _) in enumerate(runs_by_piece(music))
        if row.item.id == piece.item.id
    )
    first, gap = music.first_passage[place], music.first_gap[place]
    return Stretch(
        stretch.kind,
        place,
        tuple(first + passage for passage in stretch.passages),
        frozenset(gap + one for one in stretch.gaps),
        tuple(
            max(
                span.item.shortest_block,
                stretch_minutes(stretch.seconds, min(_GOAL, span.item.tempo.low), cycle.talk),
            )
            for span in spans
        ),
    )


def _day(
    cycle: Cycle,
    span: StageSpan,
    day: DayPlan,
    minutes: int,
    music: SeasonMusic,
    stretches: Sequence[Stretch],
    gap: Fraction,
) -> SeasonDay:
    if day.kind not in {DayKind.ORDINARY, DayKind.DRESS}:
        minutes = 0  # of full-band music that the plan may share out
    keys = {
        (piece.item.id, passage.item.id): place
        for place, (piece, passage) in enumerate(music.passages)
    }
    return SeasonDay(
        minutes=minutes,
        stage=span.index,
        shortest=max(1, min(minutes, span.item.shortest_block)),
        longest=max(span.item.longest_block, span.item.shortest_block),
        runs=_runs(cycle, span, day, minutes, music, stretches, gap) if minutes else (),
        passages=tuple((keys[wish.key], wish.minutes) for wish in day.passages if wish.key in keys)
        if minutes
        else (),
    )


def _runs(
    cycle: Cycle,
    span: StageSpan,
    day: DayPlan,
    minutes: int,
    music: SeasonMusic,
    stretches: Sequence[Stretch],
    gap: Fraction,
) -> tuple[tuple[int, int], ...]:
    """Give the runs of a day with their minutes; where they do not fit, each gives way in proportion.

    A dress rehearsal plays at the goal tempos with the concert's gap before each further
    piece, any other at the low end of its stage's band.
    """
    found: list[tuple[int, int]] = []
    for wished in day.runs:
        for index, (piece, stretch) in enumerate(music.stretches):
            if piece.item.id == wished and stretch.kind is MusicKind.RUN:
                seconds = stretch.seconds + (float(gap) if found else 0)
                at_goal = stretch_minutes(seconds, _GOAL, cycle.talk)
                dress = day.kind is DayKind.DRESS
                found.append((index, at_goal if dress else stretches[index].minutes[span.index]))
    wanted = [share for _, share in found]
    if sum(wanted) > minutes:
        shares = largest_remainder(minutes, wanted)
        return tuple((index, share) for (index, _), share in zip(found, shares, strict=True))
    return tuple(found)


def _steps(cycle: Cycle, spans: Sequence[StageSpan], music: SeasonMusic) -> list[int]:
    """Count the visits that each passage needs up to its goal."""
    band = spans[0].item.tempo
    steps = []
    for _, passage in music.passages:
        pace = passage_pace(cycle, passage.item)
        steps.append(visits_needed(pace, first_tempo(pace, band, passage.item.start)))
    return steps


def _due(
    pace: Pace, first: Fraction, goals: Sequence[tuple[int, DatedGoal]], *, before: int = 0
) -> tuple[tuple[int, int], ...]:
    """Count the visits that each goal on the way needs by its place, after those `before`."""
    paces = [(place, pace_to(pace, goal.tempo)) for place, goal in goals]
    return tuple(
        (place, before + visits_needed(to, first)) for place, to in paces if to.goal.bpm > first
    )


def _passage_needs(
    cycle: Cycle,
    spans: Sequence[StageSpan],
    music: SeasonMusic,
    steps: Sequence[int],
    usual: Sequence[int],
    dates: Sequence[date],
) -> tuple[PassageNeed, ...]:
    return tuple(
        PassageNeed(
            visits=count,
            settled=min(
                usual[place],
                lock_place(passage.item, spans, dates, usual[place]),
                _ready_place(piece, cycle, dates, usual[place]),
            ),
            weight=passage.item.priority * count,
            due=_due_first(cycle, spans, dates, passage) if passage.goals else (),
        )
        for place, ((piece, passage), count) in enumerate(zip(music.passages, steps, strict=True))
    )


def _due_first(
    cycle: Cycle, spans: Sequence[StageSpan], dates: Sequence[date], passage: PassageRow
) -> tuple[tuple[int, int], ...]:
    pace = passage_pace(cycle, passage.item)
    first = first_tempo(pace, spans[0].item.tempo, passage.item.start)
    return _due(pace, first, goal_places(passage, spans, dates))


def _ready_place(piece: PieceRow, cycle: Cycle, dates: Sequence[date], usual: int) -> int:
    """Give the rehearsal by which a piece is at its goals for a concert before the last one.

    It has as many rehearsals left as before the last one, two at least.
    """
    if piece.ready_by is None:
        return usual
    held = sum(day <= piece.ready_by for day in dates)
    return max(0, held - max(LEAST_AT_GOAL, cycle.at_goal or 0))


def _settle_place(cycle: Cycle, spans: Sequence[StageSpan], days: Sequence[SeasonDay]) -> int:
    """Choose by which rehearsal passages are at their goals: the middle of the last stage.

    Or by `at_goal` rehearsals before the concert; never later than two rehearsals before it.
    So the stage's own tempos are met on the way, and half of it is left at the goal.
    """
    open_days = [place for place, day in enumerate(days) if day.minutes]
    if not open_days:
        return 0
    of_last = [place for place in open_days if place >= spans[-1].first] or open_days[-1:]
    middle = of_last[(len(of_last) - 1) // 2]
    if cycle.at_goal is not None:
        middle = min(middle, open_days[max(0, len(open_days) - cycle.at_goal)])
    return min(_latest(days), middle)


def _window(days: Sequence[SeasonDay], passages: int) -> int:
    blocks = [
        block_count(day.minutes, passages, day.shortest, day.longest) for day in days if day.minutes
    ]
    return usual_window(blocks, passages)
