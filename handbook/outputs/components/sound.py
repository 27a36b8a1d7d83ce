"""The click of a passage: marks, weeks, meters and the change of tempo, ready reckoned.

The page carries them as JSON beside the same facts in words; the script that reads it
keeps time and does nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta
from fractions import Fraction
from functools import lru_cache
from itertools import groupby
from math import exp, log, sqrt

from markupsafe import Markup

from handbook.domain.metronome_marks import Marks
from handbook.domain.timing import TempoModel
from handbook.domain.values.meter import Meter
from handbook.domain.values.tempo import SLOWEST_BPM, BeatUnit, Tempo
from handbook.domain.week_targets import WeekTarget
from handbook.outputs.components.click_beats import divisions, groupings, layout, ticks
from handbook.outputs.html.page_data import Json, attribute_json
from handbook.outputs.i18n import pgettext, speech
from handbook.outputs.page import Context
from handbook.plan.model import PassageRow, PieceRow
from handbook.records import dataclass
from handbook.schema.music import Part

_MINUTE = 60
_SLOWER = Fraction(3, 4)  # of the first rung: how far down the marks go, for a hard day
_TO_SUNDAY = timedelta(days=6)


@dataclass(frozen=True, slots=True)
class ClickView:
    """A passage's click: `data` is JSON for the script, `beat_seconds` 60 / bpm of the goal."""

    goal: Tempo
    beat_seconds: str
    data: Markup


@dataclass(frozen=True, slots=True)
class _Span:
    """Measures of a passage that lie in one part of the form."""

    first: int
    count: int
    part: Part


def click_view(
    context: Context, marks: Marks, piece: PieceRow, passage: PassageRow
) -> ClickView | None:
    """Show the click of a passage, with its marks up to the goal; a free one has none."""
    if passage.item.goal.free:
        return None
    return context.once("click", passage, lambda: _click(context, marks, piece, passage))


def _click(context: Context, marks: Marks, piece: PieceRow, passage: PassageRow) -> ClickView:
    goal = passage.item.goal
    spans = _spans(piece, passage)
    data: Json = {
        **_counted(context.say(passage.item.name), goal),
        "marks": _marks(marks, passage),
        "weeks": [
            [f"{week.monday}", f"{week.monday + _TO_SUNDAY}", *_week_marks(week)]
            for week in passage.weeks
        ],
        "meters": list(_meters(spans, goal.beat)),
    }
    if any(span.part.tempo_to for span in spans):
        data["change"] = {
            "spans": [_moving(span, goal.beat) for span in spans],
            **divisions([span.part.meter for span in spans], goal.beat),
        }
    return ClickView(goal, _seconds(_MINUTE / goal.bpm), attribute_json(data))


def _counted(name: str, goal: Tempo) -> Json:
    """Give what a click is of, and the beat that its tempos count."""
    return {
        "name": name,
        "beat": pgettext("beat", f"{goal.beat.name} note"),
        "sign": goal.beat.symbol,
        "unit": ticks(goal.beat.quarters),
        "goal": _number(goal.bpm),
    }


def steady_click(name: str, marks: Marks, tempo: Tempo, meter: Meter) -> Json:
    """Give the data of a click in one meter, whose marks go some way below and above a tempo."""
    lowest = marks.floor(max(tempo.bpm * _SLOWER, Fraction(SLOWEST_BPM)))
    found = {_number(tempo.bpm), *_marks_between(marks, lowest, tempo.bpm / _SLOWER)}
    return {
        **_counted(name, tempo),
        "marks": sorted(found),
        "weeks": [],
        "meters": [_alone(meter, tempo.beat, speech().code)],
    }


def _marks_between(marks: Marks, first: Fraction, last: Fraction) -> Iterator[int | float]:
    """Give the marks from one on up to another, both included."""
    bpm = first
    while bpm <= last:
        yield _number(bpm)
        bpm = marks.next_up(bpm)


def _week_marks(week: WeekTarget) -> Iterator[int | float]:
    """Give what a week is to reach, then the steps that lead there, slowest first."""
    yield _number(week.target.bpm)
    yield from (_number(step.bpm) for step in week.steps if step.bpm < week.target.bpm)


def _seconds(value: Fraction) -> str:
    """Write seconds to the nearest thousandth, without zeros at the end."""
    return f"{float(value):.3f}".rstrip("0").rstrip(".")


def _number(value: Fraction) -> int | float:
    return int(value) if value.denominator == 1 else float(value)


def _marks(marks: Marks, passage: PassageRow) -> list[int | float]:
    """List the speeds to choose from: every mark from below the first rung, rungs, the goal."""
    goal = passage.item.goal.bpm
    rungs = [
        *(visit.rung.tempo.bpm for visit in passage.visits),
        *(week.target.bpm for week in passage.weeks),
        goal,
    ]
    lowest = max(min(goal, Fraction(SLOWEST_BPM)), marks.floor(min(rungs) * _SLOWER))
    found = {*map(_number, (*rungs, goal)), *_marks_between(marks, lowest, goal)}
    return sorted(found)


def _spans(piece: PieceRow, passage: PassageRow) -> list[_Span]:
    """Find the parts a passage runs through; one outside the form is counted as the piece begins."""
    parts = [row.item for row in piece.parts]
    measures = passage.item.measures
    inside = [
        (number, part)
        for number in range(measures.first, measures.last + 1)
        for part in parts
        if part.measures.first <= number <= part.measures.last
    ]
    first_found = dict(reversed(inside))
    numbers = sorted(first_found)
    spans = [
        _Span(run[0], len(run), first_found[run[0]])
        for _, group in groupby(numbers, key=lambda number: id(first_found[number]))
        if (run := list(group))
    ]
    return spans or [_Span(parts[0].measures.first, parts[0].measures.count, parts[0])]


def _meters(spans: Sequence[_Span], beat: BeatUnit) -> Iterator[Json]:
    """List the meters to choose from; the first one, without a name if they change, is as written."""
    written = list(dict.fromkeys(span.part.meter for span in spans))
    if len(written) > 1:
        yield {
            "name": "",
            "spans": [[span.count, layout(span.part.meter, beat)] for span in spans],
            **divisions(written, beat),
        }
    for meter in (choice for one in written for choice in (one, *groupings(one))):
        yield _alone(meter, beat, speech().code)


@lru_cache(maxsize=256)
def _alone(meter: Meter, beat: BeatUnit, language: str) -> Json:  # noqa: ARG001 - of the words
    return {
        "name": str(meter),
        "spans": [[1, layout(meter, beat)]],
        **divisions([meter], beat),
    }


def _moving(span: _Span, beat: BeatUnit) -> list[object]:
    """Give measures, their beats, the ticks that the part's mark counts, two tempos, the model."""
    part = span.part
    begins = Fraction(span.first - part.measures.first, part.measures.count)
    ends = begins + Fraction(span.count, part.measures.count)
    return [
        span.count,
        layout(part.meter, beat),
        ticks(part.tempo.beat.quarters),
        _tempo_at(begins, part),
        _tempo_at(ends, part),
        str(part.tempo_model),
    ]


def _tempo_at(share: Fraction, part: Part) -> float:
    """Give the tempo at a share (0 to 1) of a part's beats, in beats of its own mark a minute.

    From each model's integral: the tempo is linear in beats; so is its square when it is
    linear in time, and its logarithm when it is exponential. Stepped goes by beats' starts.
    """
    first, place = float(part.tempo.bpm), float(share)
    if part.tempo_to is None:
        return first
    last = float(part.tempo_to.quarters_per_minute / part.tempo.beat.quarters)
    if share in {0, 1}:
        return last if share else first
    if part.tempo_model is TempoModel.LINEAR_IN_TIME:
        return sqrt(first**2 + (last**2 - first**2) * place)
    if part.tempo_model is TempoModel.EXPONENTIAL_IN_BEATS:
        return first * exp(log(last / first) * place)
    return first + (last - first) * place
