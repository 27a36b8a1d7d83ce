"""Which tests enter which functions: each test file is run once with a probe in every function."""

from __future__ import annotations

import ast
import importlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from hashlib import sha256
from pathlib import Path
from time import perf_counter
from typing import Any

import pytest

from tests.mutation.tree import Child, quiet_pytest, run_child

PROBE = "function_probe"
PROBE_TEXT = "ENTERED = set()\n"
OPTIONS = ("-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-m", "not browser and not weekly")


@dataclass
class TestRow:
    """One test: its seconds, and the functions it entered by `path::scope`."""

    name: str
    seconds: float
    entered: frozenset[str]


@dataclass
class Reach:
    """All tests by file, and the names each module takes from each other module."""

    tests: Mapping[str, Sequence[TestRow]]
    imports: Mapping[str, frozenset[str]] = field(default_factory=dict)

    @cached_property
    def everything(self) -> frozenset[str]:
        """All functions that any test enters."""
        return frozenset().union(*(row.entered for rows in self.tests.values() for row in rows))


def functions(tree: ast.AST, scope: str = "") -> Iterator[tuple[str, ast.FunctionDef]]:
    """Give all functions with their dotted names."""
    for node in ast.iter_child_nodes(tree):
        name = getattr(node, "name", None)
        inner = f"{scope}.{name}".strip(".") if isinstance(name, str) else scope
        if isinstance(node, ast.FunctionDef):
            yield inner, node
        yield from functions(node, inner)


def probed(path: str, text: str) -> str:
    """Give a module's text with a probe at the start of every function."""
    tree = ast.parse(text)
    for scope, function in functions(tree):
        after_docstring = int(ast.get_docstring(function) is not None)
        probe = ast.parse(f"{PROBE}.ENTERED.add({f'{path}::{scope}'!r})").body
        function.body[after_docstring:after_docstring] = probe
    first = next(
        place
        for place, node in enumerate([*tree.body, ast.Pass()])
        if not isinstance(node, ast.Expr)
        and not (isinstance(node, ast.ImportFrom) and node.module == "__future__")
    )
    tree.body[first:first] = ast.parse(f"import {PROBE}").body
    return ast.unparse(ast.fix_missing_locations(tree)) + "\n"


class Recorder:
    """A pytest plugin that notes for each test what it entered and how long it took."""

    def __init__(self, entered: set[str]) -> None:
        self.entered = entered
        self.rows: list[dict[str, Any]] = []

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        started = perf_counter()
        result = yield
        row = {"name": item.nodeid, "seconds": perf_counter() - started}
        self.rows.append({**row, "entered": sorted(self.entered)})
        self.entered.clear()
        return result  # a wrapper gives the result on


def _record(test_file: str, report: Path) -> int:
    recorder = Recorder(importlib.import_module(PROBE).ENTERED)  # only the copied tree has it
    code = quiet_pytest([*OPTIONS, test_file], recorder)
    report.write_text(json.dumps(recorder.rows), encoding="utf-8")
    return code


def test_files(tree: Path) -> list[str]:
    """Give the test files that may run for a mutant, in order."""
    left_out = {"browser", "browser_sound", "benchmarks", "mutation"}
    files = sorted((tree / "tests").rglob("test_*.py"))
    names = [path.relative_to(tree) for path in files]
    return [name.as_posix() for name in names if name.parts[1] not in left_out]


def digests(tree: Path) -> dict[str, str]:
    """Give a digest of each test file's text."""
    return {name: sha256((tree / name).read_bytes()).hexdigest() for name in test_files(tree)}


def make_map(tree: Path, files: Iterable[str], seconds: float) -> dict[str, list[dict[str, Any]]]:
    """Run test files of a copied tree once with probes in it, each in a process of its own."""
    (tree / f"{PROBE}.py").write_text(PROBE_TEXT, encoding="utf-8")
    for path in sorted((tree / "handbook").rglob("*.py")):
        name = path.relative_to(tree).as_posix()
        path.write_text(probed(name, path.read_text("utf-8")), encoding="utf-8")
    rows = {}
    report = tree / "reach.json"
    for name in files:
        report.unlink(missing_ok=True)
        code = run_child(Child(tree, seconds), partial(_record, name, report))
        rows[name] = json.loads(report.read_text("utf-8")) if report.exists() else []
        if code not in {0, 5}:
            print(f"{name} falls without any change (exit code {code})", flush=True)  # noqa: T201
            rows[name] = []
    return rows


def imports(root: Path) -> dict[str, frozenset[str]]:
    """Give for each module the paths of the modules of ours that import from it."""
    users: dict[str, set[str]] = {}
    for path in sorted((root / "handbook").rglob("*.py")):
        name = path.relative_to(root).as_posix()
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("handbook"):
                base = (node.module or "").replace(".", "/")
                for one in (base, *(f"{base}/{alias.name}" for alias in node.names)):
                    users.setdefault(f"{one}.py", set()).add(name)
    return {name: frozenset(who) for name, who in users.items()}


def read_map(rows: Mapping[str, list[dict[str, Any]]], root: Path) -> Reach:
    """Turn the kept rows into a map."""
    tests = {
        name: [TestRow(row["name"], row["seconds"], frozenset(row["entered"])) for row in found]
        for name, found in rows.items()
    }
    return Reach(tests, imports(root))
