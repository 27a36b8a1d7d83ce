"""Media must be in the folder and fit for browsers.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import FUNDAMENTALS, Change, checked

WHOLE = """\
order: [tone]
strands:
  - id: tone
    name: Tone
    why: It is what people hear
    exercises:
      - {id: long-tones, name: Long tones, level: 1}
      - {id: swells, name: Swells, level: 2}
warm_ups:
  - {level: 1, name: First, steps: [Breathe]}
  - {level: 2, name: Second, steps: [Play]}
"""


def fundamentals(old: str, new: str) -> Change:
    assert WHOLE.count(old) == 1
    return FUNDAMENTALS, "", WHOLE.replace(old, new)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 2, media: swells.mp3}")], ["fundamentals.yaml:8:53 unknown-media: no file in media/ is called `swells.mp3` | there is none yet: add it to media/"]),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 2, media: swels.mp3}"), ("media/swells.mp3", "", "x")], ["fundamentals.yaml:8:53 unknown-media: no file in media/ is called `swels.mp3` | did you mean `swells.mp3`?"]),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 2, media: swells.MP3}"), ("media/swells.MP3", "", "x")], ["fundamentals.yaml:8:53 silent-media: no sound can be read from `swells.MP3` | play it on this computer, and save it anew"]),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 2, media: swells.png}"), ("media/swells.png", "", "x" * 5_000_000)], ["fundamentals.yaml:8:53 unclean-media: `swells.png` cannot be published, since it is no PNG picture, as its name says, but of another kind | save it anew: a picture as jpg or png, a sound as mp3; print a document to a new PDF"]),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 2, media: swells.png}"), ("media/swells.png", "", "x" * 5_000_001)], ["fundamentals.yaml:8:53 heavy-media: `swells.png` is 5.0 MB, and a phone should load no more than 5 MB | save a sound as mp3 or m4a, mono, 64 kbit/s; make a picture smaller"]),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 2, media: a.svg}"), ("media/a.svg", "", "x")], ["fundamentals.yaml:8:53 unfit-media: `a.svg` is not of a kind that every browser plays or shows | save it as one of `mp3`, `m4a`, `ogg`, `wav`, `png`, `jpg`, `jpeg` or `webp`"]),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 2, media: a.png}"), ("media/a.png", "", "")], ["fundamentals.yaml:8:53 unfit-media: `a.png` is empty | save it anew"]),
        ([fundamentals("why: It is what people hear", "why: As [this](media/a.PDF)"), ("media/a.PDF", "", "x")], ["fundamentals.yaml:5:10 unclean-media: `a.PDF` cannot be published, since it is no PDF document, as its name says, but of another kind | save it anew: a picture as jpg or png, a sound as mp3; print a document to a new PDF"]),
        ([fundamentals("why: It is what people hear", "why: As [this](media/a.svg)"), ("media/a.svg", "", "x")], ["fundamentals.yaml:5:10 unfit-media: `a.svg` is not of a kind that every browser plays or shows | save it as one of `mp3`, `m4a`, `ogg`, `wav`, `png`, `jpg`, `jpeg`, `webp` or `pdf`"]),
        ([fundamentals("level: 1, name: First,", "level: 1, name: First, materials: [{text: March, media: march.mp3}],")], ["fundamentals.yaml:10:62 unknown-media: no file in media/ is called `march.mp3` | there is none yet: add it to media/"]),
        ([fundamentals("level: 1, name: First,", "level: 1, name: First, materials: [{text: Map, media: map.png}],"), ("media/map.png", "", "x" * 5_000_001)], []),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 2, media: mp3}")], ["fundamentals.yaml:8:53 unfit-media: `mp3` is not of a kind that every browser plays or shows | save it as one of `mp3`, `m4a`, `ogg`, `wav`, `png`, `jpg`, `jpeg` or `webp`"]),
    ],
)  # fmt: skip
def test_media_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told
