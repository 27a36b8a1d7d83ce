"""The whole of `check`, planning too, takes time in a straight line: twice the lines, twice the time.

By processor time, as a ratio within one test; in the weekly tests alone, since a busy machine
would make a timed test of every run flicker. Of some pairs of runs the best counts: whatever
else the machine does can spoil one, and no square can look like a line in any. The calls of
reading are counted in every run (tests/test_read_growth.py).
"""

from __future__ import annotations

import gc
import time
from pathlib import Path

import pytest

from handbook.pipeline import load_problems
from tests.benchmarks.read_speed import write_at_least

LEAST, RUNS, ROOM = 10_000, 3, 1.1


def seconds(folder: Path) -> float:
    begun = time.process_time()
    load_problems(folder)
    return time.process_time() - begun


@pytest.mark.weekly
def test_twice_the_lines_are_checked_in_twice_the_time(tmp_path: Path) -> None:
    gc.disable()  # the command hardly looks for rings either
    try:
        small, large = tmp_path / "small", tmp_path / "large"
        lines, more_lines = write_at_least(small, LEAST), write_at_least(large, 2 * LEAST)
        seconds(small)  # fills the caches of the libraries
        times = [(seconds(small), seconds(large)) for _ in range(RUNS)]
    finally:
        gc.enable()
    assert min(more / less for less, more in times) <= ROOM * more_lines / lines
