"""Tempo bands should lead up to the goal.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import CYCLE, Change, checked


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(CYCLE, "tempo: 90-100", "tempo: 40-100")], ["cycles/winter/cycle.yaml:16:12 warning stage-goes-back: the tempo band 40-100 goes back from 50-90 of `build` | let each stage begin where the one before it ended"]),
        ([(CYCLE, "tempo: 90-100", "tempo: 60-100")], []),
        ([(CYCLE, "tempo: 90-100", "tempo: 90-95")], ["cycles/winter/cycle.yaml:16:12 warning last-stage-below-goal: the last stage's band ends at 95 percent, so tempos jump to the goal at its end | let it end at 100: `90-100`"]),
        ([(CYCLE, "tempo: 50-90", "tempo: 50-100"), (CYCLE, "tempo: 90-100", "tempo: 90-95.5")], ["cycles/winter/cycle.yaml:16:12 warning stage-goes-back: the tempo band 90-95.5 goes back from 50-100 of `build` | let each stage begin where the one before it ended", "cycles/winter/cycle.yaml:16:12 warning last-stage-below-goal: the last stage's band ends at 95.5 percent, so tempos jump to the goal at its end | let it end at 100: `90-100`"]),
        *(([(CYCLE, "tempo: 90-100", f"tempo: 90-100\n    starts: {starts}")], []) for starts in ("Mon 2026-10-19", "Thu 2026-12-10")),
        *(([(CYCLE, "tempo: 90-100", f"tempo: 90-100\n    starts: {starts}")], [f"cycles/winter/cycle.yaml:17:13 stage-starts-outside-cycle: {starts} is outside the cycle (2026-10-19 to 2026-12-10) | choose a date between the first and the last rehearsal"]) for starts in ("Sun 2026-10-18", "Fri 2026-12-11")),
    ],
)  # fmt: skip
def test_stages_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told
