"""Instruments must be played by the ensemble, and should be known.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.loader import load
from tests.checks.checking import MUSIC, PROGRAM, Change, checked
from tests.content_folders import base_files, changed, write_folder


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        who: [flute, trumpt]")], ["cycles/winter/music.yaml:36:22 unknown-instrument: no instrument of harbor is called `trumpt` | did you mean `trumpet`?"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        who: [flute, trumpets]")], []),
        ([(PROGRAM, "trumpet: 5", "trumpets: 5"), (MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        who: [flute, trumpet]")], []),
        ([(PROGRAM, "trumpet: 5", "trumpt: 5"), (MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        who: [trumpet]")], ["cycles/winter/music.yaml:36:15 unknown-instrument: no instrument of harbor is called `trumpet` | program.yaml says `trumpt`: write `trumpet` there", "program.yaml:14:29 warning unfamiliar-instrument: how the part of `trumpt` is written is not known here | did you mean `trumpet`? if not, say under reads_like in program.yaml whose part it reads like"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        watch: [{text: Breathe, who: [clarinet]}]")], ["cycles/winter/music.yaml:36:39 unknown-instrument: no instrument of harbor is called `clarinet` | there are `flute` and `trumpet`; others are added to harbor in program.yaml under instruments"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        watch: [{text: Breathe, who: [winds, high-brass, flutes]}]")], []),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        watch: [{text: Breathe, who: [low-brass]}]")], ["cycles/winter/music.yaml:36:39 unknown-instrument: no instrument of harbor is one of the low brass | harbor has `flute` and `trumpet`"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        who: [wind]")], ["cycles/winter/music.yaml:36:15 unknown-instrument: no instrument of harbor is called `wind` | did you mean `winds` or `woodwinds`?"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n    rhythms: [{pattern: q q q, who: [brass, brass]}]")], ["cycles/winter/music.yaml:36:45 repeated-item: `brass` stands in this list already | remove one of the two"]),
        ([(PROGRAM, "trumpet: 5", "trumpt: 5")], ["program.yaml:14:29 warning unfamiliar-instrument: how the part of `trumpt` is written is not known here | did you mean `trumpet`? if not, say under reads_like in program.yaml whose part it reads like"]),
        ([(PROGRAM, "trumpet: 5", "saxophone: 5")], ["program.yaml:14:29 warning unfamiliar-instrument: how the part of `saxophone` is written is not known here | did you mean `soprano-saxophone`, `alto-saxophone`, `tenor-saxophone` or `baritone-saxophone`? if not, say under reads_like in program.yaml whose part it reads like"]),
        ([(PROGRAM, "trumpet: 5", "alto-saxophone: 2, tenor-saxophone: 1, bari-sax: 1"), (MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        who: [saxophone]")], ["cycles/winter/music.yaml:36:15 unknown-instrument: no instrument of harbor is called `saxophone` | did you mean `saxophones`, `alto-saxophone`, `tenor-saxophone` or `bari-sax`?"]),
        ([(PROGRAM, "trumpet: 5", "kazoo: 5")], ["program.yaml:14:29 warning unfamiliar-instrument: how the part of `kazoo` is written is not known here | say under reads_like in program.yaml whose part it reads like"]),
        ([(PROGRAM, "    instruments: {flute: 4, trumpet: 5}\n", ""), (MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        who: [oboe]")], []),
    ],
)  # fmt: skip
def test_instruments_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told


@pytest.mark.parametrize(
    ("home", "told"),
    [
        ("home: Sing it", []),
        ("home: [{who: [winds], text: Breathe}, {text: Sing it}]", []),
        ("home: [{who: [wind], text: Breathe}]", ["cycles/winter/music.yaml:36:23 unknown-instrument: no instrument of harbor is called `wind` | did you mean `winds` or `woodwinds`?"]),
        ("home: [{who: [winds, winds], text: Breathe}]", ["cycles/winter/music.yaml:36:30 repeated-item: `winds` stands in this list already | remove one of the two"]),
    ],
)  # fmt: skip
def test_home_practice_is_checked(home: str, told: list[str], tmp_path: Path) -> None:
    change = MUSIC, "goal: quarter = 108", f"goal: quarter = 108\n        {home}"
    assert checked(tmp_path, change) == told


@pytest.mark.parametrize(
    ("home", "told"),
    [
        ("[{who: [winds]}]", ["missing-field: a text for some players needs `text`, and here it is missing"]),
        ("[{whom: [winds], text: Breathe}]", ["unknown-field: a text for some players has no field `whom`"]),
        ("[Breathe]", ["entry-wanted: a text for some players has fields of its own, but a single text stands here"]),
        ("{en: Breathe, xx y: Sing}", ["unknown-language: `xx y` is no language code"]),
    ],
)  # fmt: skip
def test_home_practice_that_cannot_be_read(home: str, told: list[str], tmp_path: Path) -> None:
    files = changed(
        base_files(), MUSIC, "goal: quarter = 108", f"goal: quarter = 108\n        home: {home}"
    )
    problems = load(write_folder(tmp_path, files)).problems
    assert [f"{one.code}: {one.message}" for one in problems] == told
    assert {"home"} <= set(problems[0].address)
