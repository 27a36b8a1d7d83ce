"""How a band counts what its percussion players have."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.plan.percussion import counted_as, percussion_players
from tests.content_folders import base_files, changed
from tests.plan.planning import planned

COUNTS = "{flute: 6, snare-drum: 2, cymbals: 1, timpani: 1, percussion: 2}"


@pytest.mark.parametrize(
    ("name", "counted"),
    [
        ("snare-drum", "snare-drum"),
        ("snare", "snare-drum"),  # another name of it
        ("cymbals", "cymbals"),
        ("suspended-cymbal", "suspended-cymbal"),  # a thing of its own
        ("triangle", "triangle"),
    ],
)
def test_what_an_instrument_is_counted_as(name: str, counted: str, tmp_path: Path) -> None:
    files = changed(base_files(), "program.yaml", "{flute: 6, clarinet: 8, trumpet: 7}", COUNTS)
    program = planned(tmp_path, {"program.yaml": files["program.yaml"]}).plan.program
    band = program.ensembles[0]
    assert counted_as(program, band, name) == counted
    assert percussion_players(program, band) == 6
