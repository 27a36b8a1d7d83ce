"""A warm-up on pages: its words, its times, and its notation for each way of reading.

Written keys for a concert key (B flat instruments a whole step up, E flat a major sixth up,
F a fifth up): common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

import pytest

from handbook.outputs.components.section_notation import readings, section_figures
from handbook.outputs.components.warm_up_view import WarmUpView, band_warm_up
from handbook.outputs.page import Context
from handbook.pipeline import load_plan
from handbook.plan.model import EnsemblePlan
from tests.browser_sound.bench import warm_up
from tests.content_folders import base_files, changed, write_folder
from tests.demo import demo_plan
from tests.real_media import wav

FUNDAMENTALS = """\
strands:
  - id: technique
    name: Technique
    why: Roads
    exercises:
      - {id: scale, name: E♭ scale, level: 1, tempo: quarter = 80, scale: Eb major, how: Quarters up}
      - {id: hum, name: Hum, level: 2, who: [brass], media: hum.wav}
      - {id: pulse, name: Pulse, level: 3, tempo: quarter = 100, meter: 3/4, rhythm: q q q}
warm_ups:
  - level: 1
    name: First
    steps:
      - {text: Breathe *low* from {Bb}, seconds: 40}
      - {exercise: scale, drone: Eb}
      - {exercise: hum, seconds: 30}
      - {exercise: pulse, text: Clap it, seconds: 45, rest: 12}
"""


@pytest.fixture(scope="module")
def band(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Context, EnsemblePlan]]:
    files: dict[str, Any] = dict(
        changed(
            base_files(),
            "program.yaml",
            "{flute: 6, clarinet: 8, trumpet: 7}",
            "{flute: 6, clarinet: 8, alto-saxophone: 3, horn: 2, tuba: 1, snare-drum: 2}",
        )
    )
    files["fundamentals.yaml"] = FUNDAMENTALS.replace(
        "Breathe *low* from {Bb}", '"Breathe *low* from {Bb}"'
    )
    files["media/hum.wav"] = wav(10)
    folder = write_folder(tmp_path_factory.mktemp("warm-up"), files)
    plan = load_plan(folder).plan
    assert plan is not None
    context = Context(plan, "en")
    with context.speaking():
        yield context, plan.cycles[0].ensembles[0]


@pytest.fixture(scope="module")
def view(band: tuple[Context, EnsemblePlan]) -> WarmUpView:
    found = band_warm_up(*band)
    assert found is not None
    return found


def steps(view: WarmUpView) -> list[dict[str, Any]]:
    return cast("list[dict[str, Any]]", view.plain_data["steps"])


def test_steps_fill_the_minutes_of_the_band(view: WarmUpView) -> None:
    """Of 360 s 40, 30 + 5, 45 + 12 are stated and 5 are the rest of the scale: 223 are left for it."""
    assert view.minutes == 6
    assert [(one["start"], one["end"], one["rest"]) for one in steps(view)] == [
        (0, 40, 40),
        (40, 263, 268),
        (268, 298, 303),
        (303, 348, 360),
    ]
    assert [one.length for one in view.steps] == ["40 s", "3 min 43 s", "30 s", "45 s"]


def test_nothing_waits_for_what_comes_after_the_last_step() -> None:
    """Of the bench's minute 39 s are over when it begins, and it sounds to the end."""
    last = steps(warm_up())[-1]
    assert (last["start"], last["end"], last["rest"]) == (39, 60, 60)


def test_a_beat_is_counted_in_and_ends_with_its_measure(view: WarmUpView) -> None:
    """At 80 a measure of four lasts 3 s: 223 s have one counted and 73 whole; at 100 one of three lasts 1.8 s."""
    breathe, scale, hum, pulse = steps(view)
    assert (scale["from"], scale["until"]) == (43, 43 + 73 * 3)
    assert scale["beat"]["measure"] == 3
    assert (pulse["from"], pulse["until"]) == (304.8, pytest.approx(304.8 + 24 * 1.8))
    assert "beat" not in breathe
    assert "beat" not in hum


def test_what_sounds_beside_it(view: WarmUpView) -> None:
    """E flat below middle C is 155.56 Hz (equal temperament, A = 440); a sound of 10 s fits 30 s."""
    breathe, scale, hum, _ = steps(view)
    assert scale["drone"] == pytest.approx(155.563, abs=0.001)
    assert hum["sound"] == {"name": "hum.wav", "again": True}
    assert not {"drone", "sound"} & {*breathe}


def test_words_are_those_of_the_exercise_unless_the_step_has_its_own(view: WarmUpView) -> None:
    breathe, scale, hum, pulse = view.steps
    assert steps(view)[0]["title"] == "Breathe low from concert B♭"
    assert [one.title for one in (scale, hum, pulse)] == ["E♭ scale", "Hum", "Pulse"]
    assert [how.text for how in scale.how] == ["Quarters up"]
    assert (pulse.how, pulse.text) == ((), "Clap it")
    assert hum.who == "brass"
    assert len(scale.examples) == 2
    assert pulse.rhythm is not None
    assert breathe.figures == ()


def test_each_way_of_reading_has_its_own_notation(band: tuple[Context, EnsemblePlan]) -> None:
    exercise = band[0].plan.fundamentals.strands[0].exercises[0]
    found = {one.who: one.figures[0].label for one in section_figures(exercise, band[1].parts)}
    keys = {who: label.partition(" major scale")[0] for who, label in found.items()}
    assert keys == {
        "Flute": "E flat",
        "Clarinet": "F",
        "Alto saxophone": "C",
        "Horn": "B flat",
        "Tuba": "E flat",
    }
    assert "bass clef" in found["Tuba"]


def test_only_who_plays_an_exercise_reads_it(band: tuple[Context, EnsemblePlan]) -> None:
    scale, hum, _ = band[0].plan.fundamentals.strands[0].exercises
    brass = scale.model_copy(update={"who": hum.who})
    assert [one.who for one in section_figures(brass, band[1].parts)] == ["Horn", "Tuba"]


def test_nobody_is_given_a_note_outside_the_range_of_the_instrument() -> None:
    """Of all bands and exercises of the demo; whoever has no better place for a line has it alone.

    A clarinet's low F of the warm-up stood above the trumpet's name too, whose lowest is F sharp.
    """
    plan, seen, shared = demo_plan(), set(), 0
    exercises = [one for strand in plan.fundamentals.strands for one in strand.exercises]
    for band in (band for cycle in plan.cycles for band in cycle.ensembles):
        for exercise in exercises:
            for reading, players in readings(exercise, band.parts):
                shared += len(players) > 1
                for part, row in players:
                    assert row.range is not None
                    if not all(row.range.holds(note) for note in reading.notes):
                        assert row == reading.reader, (band.item.id, exercise.id, part.id)
                        seen.add(part.id)
    assert shared > len(exercises)
    assert seen <= {"horn"}, "who in their first year have no octave of five notes from F"


def test_who_has_fewer_notes_is_told(band: tuple[Context, EnsemblePlan]) -> None:
    """A clarinet's first five notes of the scale stood beside eight of others without a word."""
    plan = demo_plan()
    exercise = next(
        one
        for strand in plan.fundamentals.strands
        for one in strand.exercises
        if one.id == "b-flat-scale"
    )
    lantern = next(one for one in plan.cycles[0].ensembles if one.item.id == "lantern")
    extents = {one.who: one.extent for one in section_figures(exercise, lantern.parts)}
    assert set(extents.values()) == {"", "first five notes"}
    assert extents["Horn"] == "first five notes"
