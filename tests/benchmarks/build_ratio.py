"""How long a build takes beside the same pages as Markdown, and how it grows with the site.

    python -m tests.benchmarks.build_ratio --pages 400

Both ways are timed as whole processes, by turns, and the best of the runs counts. The
other way is MkDocs with the theme Material and its search: every built page's main
content as Markdown, under the same addresses and in the same navigation, pruned, which is
its quicker way. Ends with 1 if the ratio is over the bar.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

import yaml
from markdownify import markdownify

from tests.benchmarks.invented_content import write_content

BAR = 0.30
RUNS, GROWTH_RUNS = 3, 2
SIZES = (100, 200, 400, 800, 1600)
CHECKOUT = Path(__file__).resolve().parents[2]
_MAIN = re.compile(r"<main\b[^>]*>(.*)</main>", re.DOTALL)
_TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)


def main() -> int:
    """Measure, print, and compare with the bar."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--pages", type=int, default=400, help="about so many pages")
    parser.add_argument("--no-growth", action="store_true", help="do not time other sizes")
    wanted = parser.parse_args()
    cycles_for = _yield_of_a_cycle()
    with tempfile.TemporaryDirectory(prefix="handbook-measured-") as folder:
        ratio = _compare(Path(folder), cycles_for(wanted.pages))
    if not wanted.no_growth:
        _grow(cycles_for)
    return int(ratio > BAR)


def _compare(folder: Path, cycles: int) -> float:
    lines = write_content(folder / "content", cycles)
    _build(folder)
    count = _as_markdown(folder / "site", folder / "plain")
    ours, theirs = [], []
    for _ in range(RUNS):
        ours.append(_seconds(_our_command(folder), folder))
        theirs.append(_seconds(_their_command(), folder / "plain"))
    ratio = min(ours) / min(theirs)
    print(f"{count} pages from {lines} lines of YAML, best of {RUNS}")  # noqa: T201
    print(f"  handbook build                     {min(ours):6.2f} s")  # noqa: T201
    print(f"  the same as Markdown, with search  {min(theirs):6.2f} s")  # noqa: T201
    print(f"  ratio {ratio:.3f}, bar {BAR:.2f}")  # noqa: T201
    return ratio


def _grow(cycles_for: Callable[[int], int]) -> None:
    print(f"growth, best of {GROWTH_RUNS}")  # noqa: T201
    for size in SIZES:
        with tempfile.TemporaryDirectory(prefix="handbook-measured-") as name:
            folder = Path(name)
            write_content(folder / "content", cycles_for(size))
            best = min(_seconds(_our_command(folder), folder) for _ in range(GROWTH_RUNS))
            count = _page_count(folder / "site")
            print(f"  {count:5} pages {best:6.2f} s {1000 * best / count:6.2f} ms a page")  # noqa: T201


def _yield_of_a_cycle() -> Callable[[int], int]:
    """Find how many pages one cycle adds, and give the function from pages to cycles."""
    counts = []
    for cycles in (1, 2):
        with tempfile.TemporaryDirectory(prefix="handbook-measured-") as folder:
            write_content(Path(folder) / "content", cycles)
            _build(Path(folder))
            counts.append(_page_count(Path(folder) / "site"))
    added = counts[1] - counts[0]
    return lambda pages: max(1, round((pages - counts[0]) / added) + 1)


def _page_count(site: Path) -> int:
    return sum(1 for _ in site.rglob("index.html"))


def _our_command(folder: Path) -> list[str]:
    content, site = str(folder / "content"), str(folder / "site")
    return [sys.executable, "-m", "handbook", "build", content, "--site", site]


def _their_command() -> list[str]:
    return [sys.executable, "-m", "mkdocs", "build", "--quiet"]


def _build(folder: Path) -> None:
    subprocess.run(_our_command(folder), cwd=CHECKOUT, check=True, stdout=subprocess.DEVNULL)


def _seconds(command: Sequence[str], folder: Path) -> float:
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "PYTHONPATH": str(CHECKOUT)}
    begun = time.perf_counter()
    subprocess.run(command, cwd=folder, env=environment, check=True, capture_output=True)
    return time.perf_counter() - begun


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
