"""A step of a warm-up must be playable as it is written.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.pipeline import load_plan
from tests.checks.checking import CYCLE, FUNDAMENTALS, Change, checked
from tests.content_folders import base_files, write_folder

WHOLE = """\
strands:
  - id: tone
    name: Tone
    why: It is what people hear
    exercises:
      - {id: hum, name: Hum, level: 1}
      - {id: swells, name: Swells, level: 2, tempo: quarter = 60}
warm_ups:
  - level: 1
    name: First
    steps:
      - Breathe
      - STEP
"""


def step(text: str) -> Change:
    return FUNDAMENTALS, "", WHOLE.replace("STEP", text)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([step("{exercise: swells, minutes: 1, seconds: 30, drone: Bb, rest: 10}")], []),
        ([step("{en: Play, es: Toca}")], ["fundamentals.yaml:13:10 warning unlisted-language: `es` is not one of the program's languages, `en` | add `es` to languages in program.yaml, or correct it here"]),
        ([step("{exercise: swels}")], ["fundamentals.yaml:13:20 unknown-exercise: no exercise is called `swels` | did you mean `swells`?"]),
        ([step("{seconds: 30}")], ["fundamentals.yaml:13:10 step-without-words: this step says neither which exercise it is nor what is done | add `exercise:` or `text:`"]),
        ([step("{text: Hum, drone: Bb, media: hum.mp3}")], [
            "fundamentals.yaml:13:21 drone-over-recording: this step has a drone and a recording, which would sound at once | leave one of them out, or make two steps",
            "fundamentals.yaml:13:39 unknown-media: no file in media/ is called `hum.mp3` | there is none yet: add it to media/",
        ]),
        ([step("{text: Hum, media: hum.png}"), ("media/hum.png", "", "x")], [
            "fundamentals.yaml:13:28 unfit-media: `hum.png` is not of a kind that every browser plays or shows | save it as one of `mp3`, `m4a`, `ogg` or `wav`",
        ]),
        ([step("{text: Hum, click: no}")], ["fundamentals.yaml:13:21 warning field-without-effect: `click` changes nothing here: the step has no tempo | add `tempo:`, or take it out"]),
        ([step("{exercise: hum, meter: 3/4}")], ["fundamentals.yaml:13:25 warning field-without-effect: `meter` changes nothing here: the step has no tempo | add `tempo:`, or take it out"]),
        ([step("{exercise: swells, meter: 3/4, click: no}")], []),
    ],
)  # fmt: skip
def test_steps_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told


@pytest.mark.parametrize(
    ("seconds", "slots", "told"),
    [
        # 20 seconds for the text beside it: 360 in 6 minutes, which are usual.
        (340, "", ""),
        (341, "", "the warm-up of level 1 states 6:01 minutes, and `lantern` has 6 for it in `winter`"),
        (280, "slots: {warm_up: 5}\n", ""),
        (300, "slots: {warm_up: 5}\n", "the warm-up of level 1 states 5:20 minutes, and `lantern` has 5 for it in `winter`"),
    ],
)  # fmt: skip
def test_more_time_than_the_band_has_is_told(
    seconds: int, slots: str, told: str, tmp_path: Path
) -> None:
    files = base_files()
    files[FUNDAMENTALS] = WHOLE.replace("STEP", f"{{exercise: swells, seconds: {seconds}}}")
    files[CYCLE] += slots
    outcome = load_plan(write_folder(tmp_path, files))
    assert [one.message for one in outcome.problems] == ([told] if told else [])
