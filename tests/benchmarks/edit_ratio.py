"""How long a build takes after one line was edited, and after nothing was, beside a build from nothing.

    python -m tests.benchmarks.edit_ratio --cycles 8 31

The line is one goal tempo of one passage. Each is timed as a whole process, by turns, with a
cache folder and a site of its own: from nothing, after an edit, unchanged. The medians of
five count, in seconds by the clock and of the processor. Ends with 1 if a ratio, of either,
is over its bar.
"""

from __future__ import annotations

import argparse
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from tests.benchmarks.invented_content import write_content

RUNS = 5
EDIT_BARS = {8: 0.25, 31: 0.10}
UNCHANGED_BAR = 0.15
CHECKOUT = Path(__file__).resolve().parents[2]
_GOAL = re.compile(r"(?<=\bgoal: quarter = )\d+")
_TEMPOS = (60, 64, 62, 66, 58)


def main() -> int:
    """Measure, print, and compare with the bars."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--cycles", type=int, nargs="+", default=list(EDIT_BARS))
    wanted = parser.parse_args()
    return int(sum(map(_over, wanted.cycles)) > 0)


def _over(cycles: int) -> bool:
    """Measure one size; whether it is over a bar."""
    times: dict[str, list[tuple[float, float]]] = {
        "from nothing": [],
        "edited": [],
        "unchanged": [],
    }
    with tempfile.TemporaryDirectory(prefix="handbook-measured-") as name:
        folder = Path(name)
        write_content(folder / "content", cycles)
        files = sorted((folder / "content" / "cycles").glob("*/music/*.yaml"))
        for tempo in _TEMPOS[:RUNS]:
            for made in ("site", "cache"):
                shutil.rmtree(folder / made, ignore_errors=True)
            times["from nothing"].append(_build(folder))
            edited = files[len(files) // 2]
            edited.write_text(_GOAL.sub(str(tempo), edited.read_text("utf-8"), count=1), "utf-8")
            times["edited"].append(_build(folder))
            times["unchanged"].append(_build(folder))
        pages = sum(1 for _ in (folder / "site").rglob("index.html"))
    print(f"{pages} pages, medians of {RUNS}: seconds by the clock, of the processor")  # noqa: T201
    whole = _medians(times["from nothing"])
    bars = {"from nothing": 1.0, "edited": EDIT_BARS.get(cycles, 1.0), "unchanged": UNCHANGED_BAR}
    over = False
    for what, bar in bars.items():
        clock, processor = _medians(times[what])
        ratios = clock / whole[0], processor / whole[1]
        over |= max(ratios) > bar
        print(  # noqa: T201
            f"  {what:13} {clock:6.2f} {processor:6.2f}"
            f"  ratios {ratios[0]:.3f} {ratios[1]:.3f}, bar {bar:.2f}"
        )
    return over


def _medians(times: list[tuple[float, float]]) -> tuple[float, float]:
    return median(clock for clock, _ in times), median(processor for _, processor in times)


def _build(folder: Path) -> tuple[float, float]:
    """Give the seconds of a build by the clock and of the processor."""
    content, site = str(folder / "content"), str(folder / "site")
    command = [sys.executable, "-m", "handbook", "build", content, "--site", site]
    cache = {"XDG_CACHE_HOME": str(folder / "cache"), "PYTHONPATH": str(CHECKOUT)}
    before, begun = _spent(), time.perf_counter()
    subprocess.run(command, env={**os.environ, **cache}, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun, _spent() - before


def _spent() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


if __name__ == "__main__":
    sys.exit(main())
