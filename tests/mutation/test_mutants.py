"""The machine that breaks the code: it must find places, break just one, and be the same each time."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from tests.mutation.collected import put_in
from tests.mutation.explained import explained
from tests.mutation.mutants import Mutant, layer_mutants, mutants, mutated, sample
from tests.mutation.reach import probed

ROOT = Path(__file__).resolve().parents[2]
MODULE = '''"""A module."""

from __future__ import annotations

LEAST = 3


def chosen(rows: tuple[int, ...], most: int = 5) -> tuple[int, ...]:
    """Give some rows."""
    found: list[int] = []
    for row in sorted(rows, key=abs):
        if not row or row > most:
            continue
        found.append(min(row, LEAST))
    return tuple(one for one in found[1:] if one and one != 2)
'''


def changes() -> list[str]:
    return [f"{one.operator}: {one.change}" for one in mutants("m.py", MODULE)]


@pytest.mark.parametrize(
    "change",
    [
        "constant: 3 -> 4",
        "constant: 5 -> 4",
        "call: sorted(rows, key=abs) -> list(rows)",
        "call: sorted(...) without key=abs",
        "logic: not row or row > most -> not row and row > most",
        "logic: not row or row > most -> row > most",
        "logic: not row -> row",
        "compare: row > most -> row >= most",
        "dropped: continue -> (dropped)",
        "dropped: found.append(min(row, LEAST)) -> (dropped)",
        "call: min(row, LEAST) -> max(row, LEAST)",
        "slice_end: 1: -> :",
        "compare: one != 2 -> one == 2",
        "condition: if not row or row > most -> if True",
        "condition: for one in found[1:] if one and one != 2 -> for one in found[1:]",
        "returned: return tuple((one for one in found[1:] if one and one != 2)) -> return ()",
    ],
)
def test_each_operator_finds_its_place(change: str) -> None:
    assert change in changes()


def test_hints_docstrings_and_texts_are_left_alone() -> None:
    assert not [change for change in changes() if "A module" in change or "list[int]" in change]


def test_each_mutant_changes_the_module_and_can_be_compiled() -> None:
    whole = ast.unparse(ast.parse(MODULE)) + "\n"
    texts = [mutated(MODULE, one) for one in mutants("m.py", MODULE)]
    assert whole not in texts
    assert len(set(texts)) == len(texts)
    for text in texts:
        compile(text, "m.py", "exec")


def test_names_are_each_once_and_keep_without_line_numbers() -> None:
    keys = [one.key for one in mutants("m.py", MODULE)]
    assert len(set(keys)) == len(keys)
    assert keys == [
        one.key for one in mutants("m.py", MODULE.replace("LEAST = 3", "\n\nLEAST = 3"))
    ]


def test_a_sample_is_the_same_for_its_seed_and_in_proportion_to_the_lines() -> None:
    chosen = sample(ROOT, ("report", "loader"), 40, 7)
    assert chosen == sample(ROOT, ("report", "loader"), 40, 7)
    assert chosen != sample(ROOT, ("report", "loader"), 40, 8)
    assert abs(len(chosen) - 40) <= 1
    assert len({one.path.split("/")[1] for one in chosen}) == 2


def test_a_probe_notes_each_function_that_is_entered() -> None:
    text = probed("m.py", MODULE)
    assert "function_probe.ENTERED.add('m.py::chosen')" in text
    assert text.index('"""A module."""') < text.index("import function_probe")


def test_each_explained_survivor_is_a_mutant_that_there_is_and_has_a_reason() -> None:
    layers = {key.split("/")[1] for key in explained()}
    known: set[str] = {one.key for layer in layers for one in layer_mutants(ROOT, layer)}
    assert set(explained()) - known == set()
    assert all(len(reason) > 20 for reason in explained().values())


def example() -> Mutant:
    return mutants("m.py", MODULE)[0]


def test_a_mutant_tells_its_line() -> None:
    assert example().line == MODULE.splitlines().index("LEAST = 3") + 1


def test_a_change_is_put_into_the_functions_that_are_there(tmp_path: Path) -> None:
    before = "def half(n, by=2):\n    return n // by\n\nclass Pair:\n\n    @property\n    def size(self):\n        return 2\n"
    file = str(tmp_path / "m.py")
    names: dict[str, Any] = {}
    exec(compile(before, file, "exec"), names)
    half, pair = names["half"], names["Pair"]()
    assert put_in(file, before, before.replace("//", "*"))
    assert (half(6), pair.size) == (12, 2)
    assert put_in(file, before, before.replace("return 2", "return 3"))
    assert pair.size == 3
    assert not put_in(file, before, before.replace("by=2", "by=3"))
    assert not put_in(str(tmp_path / "other.py"), before, before.replace("//", "*"))


@pytest.mark.weekly
@pytest.mark.skipif(not hasattr(os, "fork"), reason="each change is tried in a forked process")
def test_few_changes_survive(tmp_path: Path) -> None:
    """Other changes each week; at most five in a hundred survive without a reason."""
    week = datetime.now(UTC).strftime("%G%V")
    arguments = ["--number", "150", "--seed", week, "--folder", str(tmp_path)]
    command = [sys.executable, "-m", "tests.mutation", *arguments]
    ended = subprocess.run(command, cwd=ROOT, check=False, capture_output=True, text=True)
    assert ended.returncode == 0, ended.stdout[-5000:] + ended.stderr[-2000:]
