"""Recordings are told with their length and size; lengths against the standard library's wave."""

from __future__ import annotations

import wave
from pathlib import Path

import pytest

from handbook.loader import load
from handbook.outputs.components.recordings import recording_view
from handbook.outputs.page import Context
from handbook.outputs.site import render_site
from handbook.plan.build import build_plan
from handbook.plan.model import Plan
from tests.content_folders import base_files, write_folder

RATE = 8000
STRANDS = """strands:
  - id: tone
    name: Tone
    why: People hear it
    exercises:
      - {id: first, name: First, level: 1, media: tone.wav}
"""


def plan_with(folder: Path, seconds: float) -> Plan:
    (folder / "media").mkdir(parents=True)
    with wave.open(str(folder / "media" / "tone.wav"), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(RATE)
        sound.writeframes(b"\0\0" * round(RATE * seconds))
    music = base_files()["cycles/winter/music.yaml"].replace(
        "    ensemble: lantern\n", "    ensemble: lantern\n    recording: tone.wav\n"
    )
    files = {**base_files(), "fundamentals.yaml": STRANDS, "cycles/winter/music.yaml": music}
    loaded = load(write_folder(folder, files))
    assert loaded.handbook is not None, loaded.problems
    return build_plan(loaded.handbook).plan


@pytest.mark.parametrize(
    ("seconds", "facts"),
    [(0.5, "0:01, 9 KB"), (4, "0:04, 65 KB"), (4.01, "0:05, 65 KB"), (70, "1:10, 1.2 MB")],
)
def test_length_and_size_are_rounded_up(seconds: float, facts: str, tmp_path: Path) -> None:
    view = recording_view(Context(plan_with(tmp_path, seconds), "en"), "tone.wav")
    assert view is not None
    assert (view.path, view.sound, view.facts) == ("media/tone.wav", True, facts)


def test_a_recording_plays_where_it_is_named_and_nothing_is_fetched_before(tmp_path: Path) -> None:
    site = render_site(plan_with(tmp_path, 2))
    assert site.media == ("tone.wav",)
    pages = {page.path: page.body for page in site.pages}
    for path, root in (
        ("fundamentals/tone/", "../../"),
        ("winter/lantern/button-comets/", "../../../"),
        ("winter/lantern/part/flute/", "../../../../"),
    ):
        assert f'<audio controls preload="none" src="{root}media/tone.wav"' in pages[path], path


def test_none_is_shown_for_none(tmp_path: Path) -> None:
    context = Context(plan_with(tmp_path, 1), "en")
    assert recording_view(context, None) is None
    unknown = recording_view(context, "media/other.png")
    assert unknown is not None
    assert (unknown.path, unknown.sound, unknown.facts) == ("media/other.png", False, "")
