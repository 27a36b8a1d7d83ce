"""Who plays what in percussion, where several bands play a piece."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import MUSIC, PROGRAM, checked


@pytest.mark.parametrize(
    ("turns", "told"),
    [
        ("{1: [snare-drum], 2: [], 3: []}", []),  # harbor has three players, lantern two
        (
            "{1: [snare-drum], 2: []}",
            ["warning player-without-instrument: nothing is said of player 3 of Harbor Band"],
        ),
        (
            "{1: [snare-drum], 2: [], 3: [], 4: []}",
            ["player-number-too-high: there is no player 4: Harbor Band has 3"],
        ),
        (
            "{1: [snare-drum], 2: [], 3: [snare-drum]}",
            ["warning percussion-twice: players 1 and 3 both have `snare-drum`"],
        ),
    ],
)
def test_a_number_is_one_of_any_band_that_plays(
    turns: str, told: list[str], tmp_path: Path
) -> None:
    found = checked(
        tmp_path,
        (
            PROGRAM,
            "{flute: 6, clarinet: 8, trumpet: 7}",
            "{flute: 6, clarinet: 8, trumpet: 7, snare-drum: 1, percussion: 1}",
        ),
        (PROGRAM, "{flute: 4, trumpet: 5}", "{flute: 4, trumpet: 5, snare-drum: 1, percussion: 2}"),
        (
            MUSIC,
            "    ensemble: lantern\n",
            f"    ensembles: [lantern, harbor]\n    percussion: {turns}\n",
        ),
        (
            "cycles/winter/concert.yaml",
            "pieces: [tweed-kites]",
            "pieces: [tweed-kites, button-comets]",
        ),
    )
    assert len(found) == len(told), found
    for one, words in zip(found, told, strict=True):
        assert words in one
