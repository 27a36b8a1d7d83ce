"""What is said of the way back of equipment without effect is told; common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import CONCERT, checked

DOWNBEAT = "downbeat: 7:00 pm"
GONG = "equipment: [{id: gong, name: Gong, from: band-room, to: band-room%s}]"
BACK = "goes_back: yes"


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ([BACK], ["`goes_back` changes nothing here: nothing is moved: there is no `equipment`"]),
        ([GONG % ", stays: yes"], ["`stays` changes nothing here: nothing is said to go back: there is no `goes_back: yes`"]),
        ([BACK, GONG % ", stays: yes"], []),
        ([BACK, GONG % ""], []),
        ([GONG % ""], []),
    ],
)  # fmt: skip
def test_the_way_back_needs_what_goes_back(
    tmp_path: Path, more: list[str], told: list[str]
) -> None:
    found = checked(tmp_path, (CONCERT, DOWNBEAT, "\n".join([DOWNBEAT, *more])))
    said = [
        line.partition(" | ")[0].partition("field-without-effect: ")[2]
        for line in found
        if "field-without-effect" in line
    ]
    assert said == told
