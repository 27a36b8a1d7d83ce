"""A warm-up as pages show and play it: its steps in words, and the same reckoned for a script.

The script is told when each step begins, sounds and ends, in seconds from the start. It
keeps time and reckons nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from markupsafe import Markup

from handbook.domain.tuning import drone
from handbook.domain.warm_up_timeline import StepTime
from handbook.outputs.components.click_beats import layout, ticks
from handbook.outputs.components.concert_pitch import concert_examples
from handbook.outputs.components.notation import Notation, RhythmFigure, page_sprite, rhythm_figure
from handbook.outputs.components.recordings import RecordingView, recording_view
from handbook.outputs.components.texts_for import TextView, named_who, text_views
from handbook.outputs.engraving.flat_svg import Glyph
from handbook.outputs.html.page_data import Json, attribute_json
from handbook.outputs.html.prose import plain
from handbook.outputs.i18n.formats import short_units
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.page import Context
from handbook.plan.model import EnsemblePlan
from handbook.plan.warm_ups import (
    WarmUpStepRow,
    exercises_by_id,
    timed_warm_up,
    usual_warm_up_minutes,
)
from handbook.records import dataclass
from handbook.schema.cycle import USUAL_SLOTS
from handbook.schema.fundamentals import WarmUp

_MINUTE = 60


@dataclass(frozen=True, slots=True)
class WarmUpStepView:
    """One step: `name` is its exercise's, nothing for a text alone; `length` how long it lasts.

    `how` is what its exercise says of it where the step itself says nothing.
    """

    row: WarmUpStepRow
    name: str
    who: str
    text: str
    how: tuple[TextView, ...]
    length: str
    recording: RecordingView | None
    examples: tuple[Notation, ...]
    rhythm: RhythmFigure | None

    @property
    def title(self) -> str:
        """What is said of it in one line."""
        return self.name or self.text

    @property
    def figures(self) -> tuple[Notation, ...]:
        """All its drawings."""
        return (*self.examples, *((self.rhythm.notation,) if self.rhythm else ()))


@dataclass(frozen=True, slots=True)
class WarmUpView:
    """A warm-up in the minutes of a band; `data` is JSON for the script."""

    item: WarmUp
    name: str
    minutes: int
    steps: tuple[WarmUpStepView, ...]
    recording: RecordingView | None
    data: Markup
    plain_data: Json


def warm_up_view(context: Context, warm_up: WarmUp, minutes: int) -> WarmUpView:
    """Show a warm-up laid out over so many whole minutes; over the usual ones if that is 0."""
    exercises = exercises_by_id(context.plan.fundamentals.strands)
    timed = timed_warm_up(warm_up, exercises, minutes or USUAL_SLOTS.warm_up)
    name = context.say(warm_up.name)
    steps = [(_step(context, row, time), time) for row, time in timed.steps]
    data: Json = {
        "name": bare(name),
        "seconds": timed.minutes * _MINUTE,
        "steps": [_data(context, step, time) for step, time in steps],
    }
    return WarmUpView(
        item=warm_up,
        name=name,
        minutes=timed.minutes,
        steps=tuple(step for step, _ in steps),
        recording=recording_view(context, warm_up.media),
        data=attribute_json(data),
        plain_data=data,
    )


def band_warm_up(context: Context, ensemble: EnsemblePlan) -> WarmUpView | None:
    """Show the warm-up of a band's cycle in the minutes that most of its rehearsals have for it."""
    if ensemble.warm_up is None:
        return None
    return warm_up_view(context, ensemble.warm_up, usual_warm_up_minutes(ensemble))


def warm_up_sprite(warm_ups: Iterable[WarmUpView]) -> tuple[Glyph, ...]:
    """Collect the glyphs that the examples of warm-ups need."""
    return page_sprite(
        figure for view in warm_ups for step in view.steps for figure in step.figures
    )


def _step(context: Context, row: WarmUpStepRow, time: StepTime) -> WarmUpStepView:
    item, exercise = row.item, row.exercise
    text = context.say(item.text)
    rhythm = context.plan.exercise_rhythms.get(exercise.id) if exercise else None
    return WarmUpStepView(
        row=row,
        name=context.say(exercise.name) if exercise else "",
        who=named_who(exercise.who) if exercise else "",
        text=text,
        how=text_views(context, exercise.how) if exercise and not text else (),
        length=_length(time.end - time.start),
        recording=recording_view(context, row.recording),
        examples=tuple(concert_examples(exercise)) if exercise else (),
        rhythm=rhythm_figure(rhythm) if rhythm else None,
    )


def _length(seconds: int) -> str:
    """Write `1 min 30 s`, to the second."""
    minutes, seconds = divmod(seconds, _MINUTE)
    return short_units((0, minutes, seconds))


def _data(context: Context, step: WarmUpStepView, time: StepTime) -> Json:
    row = step.row
    data: Json = {
        "title": plain(bare(step.title)),
        "start": time.start,
        "from": _number(time.sounds_from),
        "until": _number(time.sounds_until),
        "end": time.end,
        "rest": time.rest_ends,
    }
    if row.tempo and time.measures:
        data["beat"] = {
            "beats": layout(row.meter, row.tempo.beat),
            "unit": ticks(row.tempo.beat.quarters),
            "bpm": _number(row.tempo.bpm),
            "measure": _number(time.measure),
            "click": row.click,
        }
    if row.drone:
        data["drone"] = drone(row.drone, context.plan.program.pitch)
    if row.recording:
        file = context.plan.media_files.get(row.recording.removeprefix("media/"))
        played = time.end - time.sounds_from
        again = bool(file and file.seconds and 2 * file.seconds <= played)
        data["sound"] = {"name": row.recording.removeprefix("media/"), "again": again}
    return data


def _number(value: Fraction) -> int | float:
    return int(value) if value.denominator == 1 else float(value)
