"""What each step of a warm-up plays, and when, within the minutes that a band has for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from fractions import Fraction

from handbook.domain.minutes import BlockKind
from handbook.domain.tables.media_endings import is_sound
from handbook.domain.values.meter import Meter
from handbook.domain.values.pitch import NoteName
from handbook.domain.values.tempo import Tempo
from handbook.domain.warm_up_timeline import USUAL_REST, StepNeed, StepTime, warm_up_timeline
from handbook.plan.model import EnsemblePlan, RehearsalRow
from handbook.plan.rhythms import USUAL_METER
from handbook.records import dataclass
from handbook.schema.fundamentals import Exercise, Strand, WarmUp, WarmUpStep

_MINUTE = 60


@dataclass(frozen=True, slots=True)
class WarmUpStepRow:
    """A step with its exercise, and what sounds in it.

    `tempo` is None for one without a beat; `click` is whether the beat goes on after it is
    counted in, `recording` a file in media/, `drone` a note in concert pitch.
    """

    item: WarmUpStep
    exercise: Exercise | None
    tempo: Tempo | None
    meter: Meter
    click: bool
    recording: str | None
    drone: NoteName | None
    need: StepNeed


@dataclass(frozen=True, slots=True)
class TimedWarmUp:
    """A warm-up in so many whole minutes: each step, and when it sounds."""

    item: WarmUp
    minutes: int
    steps: tuple[tuple[WarmUpStepRow, StepTime], ...]


def exercises_by_id(strands: Iterable[Strand]) -> Mapping[str, Exercise]:
    """Map the ids of all exercises to them."""
    return {exercise.id: exercise for strand in strands for exercise in strand.exercises}


def step_rows(warm_up: WarmUp, exercises: Mapping[str, Exercise]) -> tuple[WarmUpStepRow, ...]:
    """Say what each step plays: what it states itself, else what its exercise states."""
    last = len(warm_up.steps) - 1
    return tuple(
        _step(step, exercises.get(step.exercise or ""), is_last=place == last)
        for place, step in enumerate(warm_up.steps)
    )


def timed_warm_up(warm_up: WarmUp, exercises: Mapping[str, Exercise], minutes: int) -> TimedWarmUp:
    """Lay a warm-up out over its minutes; ValueError for less than one."""
    rows = step_rows(warm_up, exercises)
    times = warm_up_timeline([row.need for row in rows], minutes)
    return TimedWarmUp(warm_up, minutes, tuple(zip(rows, times, strict=True)))


def warm_up_minutes(rehearsal: RehearsalRow) -> int:
    """Give the minutes of warm-up that a rehearsal has."""
    blocks = rehearsal.agenda.blocks
    return sum(block.minutes for block in blocks if block.kind is BlockKind.WARM_UP)


def usual_warm_up_minutes(ensemble: EnsemblePlan) -> int:
    """Give the minutes that most of a cycle's rehearsals have for it, the longer of a tie; 0 without any."""
    counts = Counter(map(warm_up_minutes, ensemble.rehearsals))
    return max(counts, key=lambda minutes: (counts[minutes], minutes), default=0)


def _step(item: WarmUpStep, exercise: Exercise | None, *, is_last: bool) -> WarmUpStepRow:
    tempo = item.tempo or (exercise.tempo if exercise else None)
    if tempo and tempo.free:
        tempo = None
    meter = item.meter or (exercise.meter if exercise else None) or USUAL_METER
    recording = item.media
    if recording is None and item.drone is None and exercise and is_sound(exercise.media or ""):
        recording = exercise.media
    sounds = tempo is not None or recording is not None or item.drone is not None
    rest = USUAL_REST if sounds and not is_last else 0
    return WarmUpStepRow(
        item=item,
        exercise=exercise,
        tempo=tempo,
        meter=meter,
        click=tempo is not None and item.click and recording is None,
        recording=recording,
        drone=item.drone,
        need=StepNeed(
            seconds=_stated(item),
            rest=rest if item.rest is None else item.rest,
            measure=meter.quarters / tempo.quarters_per_minute * _MINUTE if tempo else Fraction(0),
        ),
    )


def _stated(item: WarmUpStep) -> int | None:
    if item.minutes is None and item.seconds is None:
        return None
    return (item.minutes or 0) * _MINUTE + (item.seconds or 0)
