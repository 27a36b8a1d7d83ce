"""How long checking takes: reading, validating and the reference checks, and how it grows.

    python -m tests.benchmarks.read_speed --lines 10000

Prints process seconds, the best of the runs, without the time that Python and the
libraries need to start. Ends with 1 if 10,000 lines take longer than the bar.
"""

from __future__ import annotations

import argparse
import re
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import count
from pathlib import Path

from handbook.checks import REFERENCE_CHECKS
from handbook.loader import load
from tests.content_folders import base_files, write_folder

_COPIES = 12
_DATE = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")
_PIECE_ID = re.compile(r"(?m)^  - id: .*$")
_PIECES = re.compile(r"\[((?:tweed-kites)|(?:button-comets))\]")

BAR = 1.0  # seconds for 10,000 lines
BAR_LINES = 10_000
RUNS = 5


def main(arguments: Sequence[str]) -> int:
    """Measure one size, or sizes that double."""
    parser = argparse.ArgumentParser(description="Time reading and checking content.")
    parser.add_argument("--lines", type=int, default=BAR_LINES)
    parser.add_argument(
        "--doublings", type=int, default=1, help="how many sizes, each twice the last"
    )
    options = parser.parse_args(arguments)
    worst = 0.0
    for step in range(options.doublings):
        lines, seconds = measured(options.lines * 2**step)
        worst = max(worst, seconds * BAR_LINES / lines)
        rate = seconds * BAR_LINES / lines
        sys.stdout.write(f"{lines:7} lines {seconds:7.3f} s {rate:7.3f} s for 10,000 lines\n")
    return 1 if worst > BAR else 0


def measured(least_lines: int) -> tuple[int, float]:
    """Write content of at least so many lines and give its lines and the seconds to check it."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        lines = write_at_least(folder, least_lines)
        return lines, min(seconds_to_check(folder) for _ in range(RUNS))


def write_at_least(folder: Path, least_lines: int) -> int:
    """Write the shared small folder with as many years as need be, and count the lines.

    Every year has the base's cycle, moved by 52 weeks so that weekdays stay right, with its
    pieces twelve times over; all is in order, as a program's files are most of the time.
    """
    files = base_files()
    lines = 0
    for year in count():
        written = (
            {name: text for name, text in files.items() if not _of_a_year(name)} if not year else {}
        )
        written |= dict(_year(files, year))
        lines += sum(text.count("\n") for text in written.values())
        write_folder(folder, written)
        if lines >= least_lines:
            return lines
    raise AssertionError


def _of_a_year(name: str) -> bool:
    return name.startswith(("years/", "cycles/"))


def _year(files: Mapping[str, str], number: int) -> Iterator[tuple[str, str]]:
    """Move a year's files on; ids that name the year move with it."""
    old, new = "2026-27", f"{2026 + number}-{27 + number:02}"
    for name, text in files.items():
        if not _of_a_year(name):
            continue
        moved = _DATE.sub(lambda found: _later(found[0], number), text.replace(old, new))
        if name.endswith("music.yaml"):
            moved = "pieces:\n" + "".join(_copy(moved, copy) for copy in range(_COPIES))
        if name.endswith("concert.yaml"):
            moved = _PIECES.sub(lambda found: f"[{', '.join(_ids(found[1]))}]", moved)
        place = name.replace("cycles/winter/", f"cycles/winter-{number}/").replace(old, new)
        yield place, moved


def _later(day: str, number: int) -> str:
    return (date.fromisoformat(day) + timedelta(weeks=52 * number)).isoformat()


def _copy(music: str, number: int) -> str:
    body = music.removeprefix("pieces:\n")
    return _PIECE_ID.sub(lambda found: f"{found[0]}-{number}", body)


def _ids(name: str) -> list[str]:
    return [f"{name}-{copy}" for copy in range(_COPIES)]


def seconds_to_check(folder: Path) -> float:
    """Give the process seconds of one reading and checking; the content must be in order."""
    begun = time.process_time()
    result = load(folder)
    found = list(result.problems)
    if result.handbook is not None:
        found += [problem for check in REFERENCE_CHECKS for problem in check(result.handbook)]
    seconds = time.process_time() - begun
    if result.handbook is None or any(problem.severity == "error" for problem in found):
        raise SystemExit(f"the content is not in order: {found[0].message}")
    return seconds


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
