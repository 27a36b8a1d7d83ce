"""How long commands take, beside the same pages as Markdown; how a build grows, and what it weighs.

    python -m tests.benchmarks.build_ratio --pages 400

Every run is a whole process that has kept nothing of the one before but Python's own
compiled modules. The other way is MkDocs with the theme Material and its search: every
built page's main content as Markdown, under the same addresses and in the same
navigation, pruned, which is its quicker way. Both are run by turns, and the median counts;
processor time stands beside, since others may use the machine. `--other` names one more
generator, such as a compiled one, which is run in the folder that holds the Markdown in
`docs/`. Ends with 1 if anything is over its bar.
"""

from __future__ import annotations

import argparse
import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from math import log
from pathlib import Path
from statistics import median
from typing import NamedTuple

import yaml
from markdownify import markdownify

from tests.benchmarks.invented_content import write_content

RATIO_BAR, EXPONENT_BAR = 0.20, 1.05
PAGE_BAR, SEARCH_BAR, MEMORY_BAR = 200_000, 150_000, 600_000_000  # bytes
RUNS, GROWTH_RUNS = 5, 2
SIZES = (100, 400, 1600, 5000)
CHECKOUT = Path(__file__).resolve().parents[2]
_MAIN = re.compile(r"<main\b[^>]*>(.*)</main>", re.DOTALL)
_TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)
_MARKDOWN_FOLDER = "plain"


class Cost(NamedTuple):
    """What a run took: seconds on the clock and of the processor, bytes at its peak."""

    wall: float
    processor: float
    memory: int

    def __str__(self) -> str:
        return f"{self.wall:6.2f} s, processor {self.processor:6.2f} s"


def main() -> int:
    """Measure, print, and compare with the bars."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--pages", type=int, default=400, help="about so many pages")
    parser.add_argument("--no-growth", action="store_true", help="do not time other sizes")
    parser.add_argument("--other", metavar="COMMAND", help="one more generator to run by turns")
    wanted = parser.parse_args()
    cycles_for = _yield_of_a_cycle()
    with tempfile.TemporaryDirectory(prefix="handbook-measured-") as folder:
        kept = _compare(Path(folder), cycles_for(wanted.pages), wanted.other)
    if not wanted.no_growth:
        kept &= _grow(cycles_for)
    return int(not kept)


def _compare(folder: Path, cycles: int, other: str | None) -> bool:
    lines = write_content(folder / "content", cycles)
    _run(_our_command(folder), folder)
    count = _as_markdown(folder / "site", folder / _MARKDOWN_FOLDER)
    ways = {
        "handbook build": (_our_command(folder), folder),
        "handbook check": ([*_HANDBOOK, "check", str(folder / "content")], folder),
        "handbook --help": ([*_HANDBOOK, "--help"], folder),
        "the same as Markdown, with search": (_their_command(), folder / _MARKDOWN_FOLDER),
    }
    if other and shutil.which(shlex.split(other)[0]):
        ways[other] = (shlex.split(other), folder / _MARKDOWN_FOLDER)
    elif other:
        _say(f"not installed: {other}")
    costs = _by_turns(ways)
    _say(f"{count} pages from {lines} lines of YAML, median of {RUNS} by turns")
    for name, cost in costs.items():
        _say(f"  {name:34} {cost}")
    ours, theirs = costs["handbook build"], costs["the same as Markdown, with search"]
    return _within("ratio on the clock", ours.wall / theirs.wall, RATIO_BAR) & _within(
        "ratio of the processor", ours.processor / theirs.processor, RATIO_BAR
    )


def _by_turns(ways: dict[str, tuple[list[str], Path]]) -> dict[str, Cost]:
    taken: dict[str, list[Cost]] = {name: [] for name in ways}
    for turn in range(RUNS + 1):
        for name, (command, folder) in ways.items():
            cost = _run(command, folder)
            if turn:  # the first one only compiles modules
                taken[name].append(cost)
    return {
        name: Cost(*(median(values) for values in zip(*costs, strict=True)))
        for name, costs in taken.items()
    }


def _grow(cycles_for: Callable[[int], int]) -> bool:
    _say(f"growth, best of {GROWTH_RUNS} by processor time")
    kept = True
    before: tuple[int, float] | None = None
    for size in SIZES:
        with tempfile.TemporaryDirectory(prefix="handbook-measured-") as name:
            folder = Path(name)
            write_content(folder / "content", cycles_for(size))
            costs = [_run(_our_command(folder), folder) for _ in range(GROWTH_RUNS)]
            best = min(costs, key=lambda cost: cost.processor)
            pages = list((folder / "site").rglob("index.html"))
            _say(
                f"  {len(pages):5} pages {best}, {1000 * best.processor / len(pages):.2f} ms a page"
            )
            if before:
                exponent = log(best.processor / before[1]) / log(len(pages) / before[0])
                kept &= _within("  exponent", exponent, EXPONENT_BAR)
            before = len(pages), best.processor
            largest = max(page.stat().st_size for page in pages)
            kept &= _within("  largest page in bytes", largest, PAGE_BAR)
            kept &= _within("  search before a letter, bytes", _before_a_letter(folder), SEARCH_BAR)
            kept &= _within("  peak memory in bytes", best.memory, MEMORY_BAR)
    return kept


def _before_a_letter(folder: Path) -> int:
    """Sum the scripts that opening the search loads."""
    site = folder / "site"
    return sum(
        path.stat().st_size
        for path in (site / "search" / "index.js", site / "assets" / "vendor" / "minisearch.js")
    )


def _within(name: str, value: float, bar: float) -> bool:
    shown = f"{value:.3f}" if value < 100 else f"{value:,.0f}"
    limit = f"{bar:.2f}" if bar < 100 else f"{bar:,}"
    _say(f"  {name:34} {shown}, bar {limit}{'' if value <= bar else ': OVER'}")
    return value <= bar


def _say(line: str) -> None:
    print(line, flush=True)  # noqa: T201 - what a benchmark is for


def _yield_of_a_cycle() -> Callable[[int], int]:
    """Find how many pages one cycle adds, and give the function from pages to cycles."""
    counts = []
    for cycles in (1, 2):
        with tempfile.TemporaryDirectory(prefix="handbook-measured-") as name:
            folder = Path(name)
            write_content(folder / "content", cycles)
            _run(_our_command(folder), folder)
            counts.append(sum(1 for _ in (folder / "site").rglob("index.html")))
    added = counts[1] - counts[0]
    return lambda pages: max(1, round((pages - counts[0]) / added) + 1)


_HANDBOOK = [sys.executable, "-m", "handbook"]


def _our_command(folder: Path) -> list[str]:
    return [*_HANDBOOK, "build", str(folder / "content"), "--site", str(folder / "site")]


def _their_command() -> list[str]:
    return [sys.executable, "-m", "mkdocs", "build", "--quiet"]


def _run(command: Sequence[str], folder: Path) -> Cost:
    """Run a command that finds nothing kept: no site, and an empty home for its caches."""
    shutil.rmtree(folder / "site", ignore_errors=True)
    with tempfile.TemporaryDirectory(prefix="handbook-home-") as home:
        environment = {
            **os.environ,
            "HOME": home,
            "XDG_CACHE_HOME": home,
            "LOCALAPPDATA": home,
            "NO_MKDOCS_2_WARNING": "1",
            "PYTHONPATH": str(CHECKOUT),
        }
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        begun = time.perf_counter()
        process = subprocess.Popen(
            command,
            cwd=folder,
            env=environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        _, status, usage = os.wait4(process.pid, 0)
        wall = time.perf_counter() - begun
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise subprocess.CalledProcessError(process.returncode, command)
    unit = 1 if sys.platform == "darwin" else 1024  # of ru_maxrss, as getrusage(2) has it
    return Cost(wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss * unit)


def _as_markdown(site: Path, plain: Path) -> int:
    """Write every page of a built site as Markdown, with a mkdocs.yml, and count them."""
    pages = sorted(site.rglob("index.html"))
    nav: list[object] = []
    for page in pages:
        html = page.read_text(encoding="utf-8")
        name = page.relative_to(site).with_suffix(".md")
        (plain / "docs" / name).parent.mkdir(parents=True, exist_ok=True)
        (plain / "docs" / name).write_text(_markdown(html), encoding="utf-8")
        _add(nav, list(name.parts[:-1]), name.as_posix(), _found(_TITLE, html))
    config = {
        "site_name": "Measured",
        "theme": {"name": "material", "font": False, "features": ["navigation.prune"]},
        "plugins": ["search"],
        "nav": nav,
    }
    (plain / "mkdocs.yml").write_text(yaml.safe_dump(config, sort_keys=False), encoding="utf-8")
    return len(pages)


def _markdown(html: str) -> str:
    return str(
        markdownify(_found(_MAIN, html), heading_style="ATX", strip=["script", "style", "svg", "a"])
    )


def _found(pattern: re.Pattern[str], html: str) -> str:
    match = pattern.search(html)
    if match is None:
        raise ValueError(pattern.pattern)
    return match[1]


def _add(nav: list[object], steps: list[str], name: str, title: str) -> None:
    """Put a page into the navigation, in one section for each step of its address."""
    for step in steps[:-1]:
        section = next(
            (item[step] for item in nav if isinstance(item, dict) and step in item), None
        )
        if not isinstance(section, list):
            section = []
            nav.append({step: section})
        nav = section
    nav.append({title: name})


if __name__ == "__main__":
    sys.exit(main())
