"""One mutant put into the copy, and the tests that may fall for it, the likeliest first."""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import count
from pathlib import Path

import pytest

from tests.mutation.collected import Collected
from tests.mutation.mutants import Mutant, mutated, unparsed
from tests.mutation.reach import OPTIONS, Reach, TestRow
from tests.mutation.tree import OUT_OF_TIME, Child, quiet_pytest, run_child

PASSED, NOTHING_RUN = 0, 5
KEPT_PAGES, BROKEN = "tests/test_sites.py", "tests/test_broken.py"
NEAR = {
    "domain": ("tests/property/",),
    "plan": (BROKEN, KEPT_PAGES),
    "outputs": (KEPT_PAGES,),
    "checks": (BROKEN,),
}
GRACE = 20.0  # seconds for the start of a child, and as a floor for slow hours
SLOWER = 4  # times as long as in the map, before a child is stopped
_TICKS = count(1_000_000_000)  # times of change, so that no compiled module is taken for another


class Fate(StrEnum):
    """What became of a mutant."""

    KILLED = "killed"
    TIME = "killed by time"
    SURVIVED = "survived"
    UNREACHED = "reached by no test"


@dataclass(frozen=True)
class Outcome:
    """A mutant's fate, and the test that fell."""

    key: str
    line: int
    fate: Fate
    by: str = ""


class Chosen:
    """A pytest plugin that runs only some tests, in a given order, and notes the first that fell."""

    def __init__(self, order: Sequence[str]) -> None:
        self.rank = {name: place for place, name in enumerate(order)}
        self.fell = ""

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted(
            (item for item in items if item.nodeid in self.rank),
            key=lambda item: self.rank[item.nodeid],
        )

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed and not self.fell:
            self.fell = report.nodeid

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed and not self.fell:
            self.fell = report.nodeid


def likely_tests(mutant: Mutant, reach: Reach, seconds: float) -> list[tuple[str, TestRow]]:
    """Give file and test: a check's broken folder first, then the module's own file, its layer, all others.

    Within these the files take turns, each with its cheapest test first. Tests that enter the
    function come before their neighbors, which may use what an earlier one has kept.
    """
    folder_of_check = f"[{mutant.scope.replace('_', '-')}]"
    wanted = _entered(mutant, reach)
    stem, layer = Path(mutant.path).stem.strip("_"), mutant.path.split("/")[1]
    near = {f"tests/{layer}/", *NEAR.get(layer, ())}
    found = []
    for name, rows in reach.tests.items():
        hits = [bool(row.entered & wanted) for row in rows]
        if name == KEPT_PAGES:  # whose tests look at one site that the first of them makes
            hits = [any(hits)] * len(hits)
        if any(hits):
            far = (stem not in name, not any(name.startswith(folder) for folder in near))
            turns = sorted(
                zip(rows, hits, strict=True),
                key=lambda one: (not one[1], len(one[0].entered) * one[0].seconds),
            )
            found += [
                ((not hit, folder_of_check not in row.name, *far, turn, row.seconds), name, row)
                for turn, (row, hit) in enumerate(turns)
            ]
    found.sort(key=lambda one: one[0])
    kept: list[tuple[str, TestRow]] = []
    spent = 0.0
    for _, name, row in found:
        spent += row.seconds
        if kept and spent > seconds:
            break
        kept.append((name, row))
    return kept


def _entered(mutant: Mutant, reach: Reach) -> set[str]:
    """Give the functions whose run may show the change."""
    everything = reach.everything
    own = {f"{mutant.path}::{mutant.scope}"} & everything
    if own:
        return own
    own = {one for one in everything if one.startswith(f"{mutant.path}::")}
    if own and not _is_function(mutant):
        return own
    if _is_function(mutant):
        return set()
    users = reach.imports.get(mutant.path, frozenset())
    return {one for one in everything if one.partition("::")[0] in users}


def _is_function(mutant: Mutant) -> bool:
    """Tell whether the change stands in a function: its scope ends in a small letter."""
    name = mutant.scope.rpartition(".")[2].lstrip("_")
    return bool(name) and name[0].islower()


def try_mutant(
    mutant: Mutant, tree: Path, reach: Reach, budget: float, collected: Collected
) -> Outcome:
    """Put the mutant in, run its tests in rising numbers, take it out.

    What survives among the collected tests is tried anew from the first import on.
    """
    chosen = likely_tests(mutant, reach, budget)
    if not chosen:
        return Outcome(mutant.key, mutant.line, Fate.UNREACHED)
    path = tree / mutant.path
    text = path.read_text("utf-8")
    changed = mutated(text, mutant)
    if _is_function(mutant):
        outcome = _asked(mutant, tree, chosen, collected, (unparsed(text), changed))
        if outcome.fate is not Fate.SURVIVED:
            return outcome
    _write(path, changed)
    try:
        first = _first(chosen)
        for part in filter(None, (chosen[:first], chosen[first:])):
            outcome = _run(mutant, tree, part)
            if outcome.fate is not Fate.SURVIVED:
                break
    finally:
        _write(path, text)
    return outcome


def _asked(
    mutant: Mutant,
    tree: Path,
    chosen: Sequence[tuple[str, TestRow]],
    collected: Collected,
    texts: tuple[str, str],
) -> Outcome:
    """Try a change of a function among tests that are collected already."""
    report = tree / "fell.txt"
    report.unlink(missing_ok=True)
    names = [row.name for _, row in chosen]
    seconds = GRACE + SLOWER * sum(row.seconds for _, row in chosen)
    code = collected.run((mutant.path, *texts, names, seconds, str(report)))
    if code == OUT_OF_TIME:
        return Outcome(mutant.key, mutant.line, Fate.TIME)
    if not report.exists():
        return Outcome(mutant.key, mutant.line, Fate.SURVIVED)
    return Outcome(mutant.key, mutant.line, Fate.KILLED, report.read_text("utf-8"))


def _first(chosen: Sequence[tuple[str, TestRow]]) -> int:
    """Count the tests of a short first run."""
    spent = 0.0
    for place, (_, row) in enumerate(chosen):
        spent += row.seconds
        if spent > 3 or place > 200:
            return max(place, 1)
    return len(chosen)


def _run(mutant: Mutant, tree: Path, part: Sequence[tuple[str, TestRow]]) -> Outcome:
    report = tree / "fell.json"
    report.unlink(missing_ok=True)
    ranked = list(dict.fromkeys(name for name, _ in part))
    grouped = sorted(part, key=lambda one: ranked.index(one[0]))

    def work() -> int:
        plugin = Chosen([row.name for _, row in grouped])
        code = quiet_pytest([*OPTIONS, "-x", "--tb=no", *ranked], plugin)
        report.write_text(json.dumps(plugin.fell), encoding="utf-8")
        return code

    seconds = GRACE + SLOWER * sum(row.seconds for _, row in part)
    code = run_child(Child(tree, seconds), work)
    fell = json.loads(report.read_text("utf-8")) if report.exists() else ""
    if code == OUT_OF_TIME:
        return Outcome(mutant.key, mutant.line, Fate.TIME)
    fate = Fate.SURVIVED if code in {PASSED, NOTHING_RUN} else Fate.KILLED
    return Outcome(mutant.key, mutant.line, fate, fell)


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8")
    tick = next(_TICKS)
    os.utime(path, (tick, tick))
