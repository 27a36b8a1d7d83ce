"""Single passages, made from what a director would type, for tests of what sounds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from fractions import Fraction
from types import SimpleNamespace
from typing import cast

from handbook.domain.ladders import Band, Pace, ladder
from handbook.domain.metronome_marks import Marks, marks_named
from handbook.domain.season import MusicKind
from handbook.domain.values.pitch import NoteName
from handbook.domain.week_targets import week_targets
from handbook.outputs.components.sound import ClickView, click_view
from handbook.outputs.page import Context
from handbook.plan.model import PartRow, PassageRow, PieceRow, Plan, Visit
from handbook.schema.music import Part, Passage, Piece

MONDAY = date(2026, 9, 7)
TRADITIONAL = marks_named("traditional")


def context(pitch: int = 440, tuning_note: NoteName | None = None) -> Context:
    """Give a context that knows the language, the program's pitch and its tuning note, and no exercises."""
    plan = SimpleNamespace(
        languages=("en",),
        program=SimpleNamespace(pitch=pitch, tuning_note=tuning_note),
        fundamentals=SimpleNamespace(strands=()),
        exercise_rhythms={},
        media_files={"hum.wav": SimpleNamespace(size=1000, seconds=2.0)},
    )
    return Context(cast("Plan", plan), "en")


def part(measures: str, meter: str, tempo: str, tempo_to: str = "", model: str = "") -> Part:
    """Make a part of the form."""
    typed: dict[str, object] = {
        "name": "Part",
        "measures": measures,
        "meter": meter,
        "tempo": tempo,
    }
    typed |= {"tempo_to": tempo_to} if tempo_to else {}
    typed |= {"tempo_model": model} if model else {}
    return Part.model_validate(typed)


def click(
    goal: str,
    *,
    measures: str = "1-16",
    form: Sequence[Part] = (),
    meter: str = "4/4",
    marks: Marks = TRADITIONAL,
    name: str = "Takeoff",
    percents: Sequence[Mapping[str, int]] = ({"low": 50, "high": 65}, {"low": 65, "high": 100}),
) -> ClickView:
    """Make the click of a passage that is rehearsed ten times in five weeks, on two stages."""
    parts = tuple(form) or (part("1-32", meter, goal),)
    typed = {"id": "p", "name": name, "measures": measures, "goal": goal}
    passage = Passage.model_validate(typed)
    bands = [Band(Fraction(band["low"]), Fraction(band["high"])) for band in percents]
    rungs = ladder(Pace(passage.goal, marks), [0] * 4 + [1] * 6, bands)
    days = [MONDAY + timedelta(days=7 * (n // 2) + 2 * (n % 2)) for n in range(10)]
    piece = PieceRow(
        cast("Piece", SimpleNamespace(form=parts)),
        (),
        0.0,
        tuple(PartRow(one, 0.0) for one in parts),
        (),
    )
    visits = tuple(Visit(place, (MusicKind.PASSAGE,), rung) for place, rung in enumerate(rungs))
    tempos = [(day, rung.tempo) for day, rung in zip(days, rungs, strict=True)]
    weeks = week_targets(days[::2], tempos, passage.goal, marks)
    row = PassageRow(passage, (), visits, weeks)
    view = click_view(context(), marks, piece, row)
    assert view is not None
    return view
