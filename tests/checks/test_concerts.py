"""A concert must fit its day and its music.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import CONCERT, Change, checked


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(CONCERT, "date: Thu 2026-12-10", "date: 2026-11-26")], ["cycles/winter/concert.yaml:2:7 warning concert-on-closure: school is closed on Thu 2026-11-26: Fall break | check the date, and that the hall is open"]),
        ([(CONCERT, "pieces: [tweed-kites]", "pieces: [tweed-kites, button-comets]")], ["cycles/winter/concert.yaml:7:27 piece-of-other-ensemble: `button-comets` is a piece of `lantern`, not of `harbor` | move it to the turn of `lantern`, or change the piece's ensemble"]),
        ([(CONCERT, "  - ensemble: harbor\n    pieces: [tweed-kites]\n", "")], ["cycles/winter/concert.yaml:5:1 warning ensemble-not-on-program: `harbor` is in this cycle, but not on the concert's program | add a turn for each, or say why not under not_playing"]),
        ([(CONCERT, "7:00 pm", "07:00")], ["cycles/winter/concert.yaml:3:11 warning morning-concert: the downbeat is in the morning, at 7:00 am | write `7:00 pm` if the evening is meant; a morning concert may stay as it is"]),
        ([(CONCERT, "7:00 pm", "noon")], []),
        ([(CONCERT, "    pieces: [tweed-kites]", "    pieces: [tweed-kites]\n    call: 7 pm")], ["cycles/winter/concert.yaml:8:11 call-after-downbeat: `harbor` opens the concert at 7:00 pm, but is to be ready in the room at 7:00 pm | state a time early enough to unpack, warm up and walk in"]),
        ([(CONCERT, "    pieces: [button-comets]", "    pieces: [button-comets]\n    call: 7:15 pm")], []),
        ([(CONCERT, "venue: hall", "venue: hall\npick_up: 08:30")], ["cycles/winter/concert.yaml:5:10 pick-up-before-downbeat: players are collected at 8:30 am, but the concert begins at 7:00 pm | did you mean `8:30 pm`?"]),
    ],
)  # fmt: skip
def test_concerts_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told
