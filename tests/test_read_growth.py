"""Checking takes time in a straight line: twice the content, twice the work.

Work is counted in calls, which are the same on every machine and under any load; seconds
are measured by tests/benchmarks/read_speed.py.
"""

from __future__ import annotations

import cProfile
import pstats
from pathlib import Path

from tests.benchmarks.read_speed import seconds_to_check, write_at_least

ROOM = 1.1  # what a straight line may bend by: shared files do not grow with the years


def calls_to_check(folder: Path, least_lines: int) -> tuple[int, int]:
    lines = write_at_least(folder, least_lines)
    profile = cProfile.Profile()
    profile.runcall(seconds_to_check, folder)
    return lines, int(pstats.Stats(profile).total_calls)  # type: ignore[attr-defined]


def test_twice_the_lines_take_twice_the_calls(tmp_path: Path) -> None:
    calls_to_check(tmp_path / "warm-up", 100)  # fills the caches of the libraries
    lines, calls = calls_to_check(tmp_path / "small", 2000)
    more_lines, more_calls = calls_to_check(tmp_path / "large", 8000)
    assert calls > lines
    assert more_calls / calls <= ROOM * more_lines / lines
