"""A process in which all tests are collected once: each change is tried in a copy of it.

A change inside a function is put into the functions that are already there, so that nothing is
imported or collected again. What is reckoned while modules are imported cannot be tried so; nor
can the default of an argument.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator, Sequence
from multiprocessing import Pipe
from multiprocessing.connection import Connection
from pathlib import Path
from types import CodeType, FunctionType

import pytest

from tests.mutation.tree import Child, quiet_pytest, run_child, settle

NOT_PUT_IN = 90  # exit code of a copy that has no function to put the change into
FELL = 1
Request = tuple[str, str, str, list[str], float, str]
"""Path, text before, text with the change, tests in order, seconds, and where to name what fell."""


class Collected:
    """All tests of a copied tree, waiting."""

    def __init__(self, tree: Path, files: Sequence[str], options: Sequence[str]) -> None:
        self.asks, answers = Pipe()
        self.process = os.fork()
        if self.process == 0:
            self.asks.close()
            settle(tree)
            base = f"--basetemp={tree / 'places-of-tests'}"  # emptied by each copy
            quiet_pytest([*options, base, *files], _Waiting(answers, tree))
            os._exit(0)
        answers.close()

    def run(self, request: Request) -> int:
        """Try a change; give the exit code of the copy, NOT_PUT_IN or OUT_OF_TIME."""
        self.asks.send(request)
        return int(self.asks.recv())

    def close(self) -> None:
        """Let the process end."""
        self.asks.close()
        os.waitpid(self.process, 0)


class _Waiting:
    """A pytest plugin that runs no test itself, but those it is asked for in copies."""

    def __init__(self, answers: Connection, tree: Path) -> None:
        self.answers, self.tree = answers, tree
        self.fell = ""

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed and not self.fell:
            self.fell = report.nodeid

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = {item.nodeid: item for item in session.items}
        while True:
            try:
                request: Request = self.answers.recv()
            except EOFError:
                return True
            seconds = request[4]

            def work(request: Request = request) -> int:
                return self._try(items, request)

            self.answers.send(run_child(Child(None, seconds), work))

    def _try(self, items: dict[str, pytest.Item], request: Request) -> int:
        path, before, after, names, _, report = request
        if not put_in(str(self.tree / path), before, after):
            return NOT_PUT_IN
        chosen = [items[name] for name in names if name in items]
        for item, following in zip(chosen, [*chosen[1:], None], strict=True):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if self.fell:
                Path(report).write_text(self.fell, encoding="utf-8")
                return FELL
        return 0


def put_in(file: str, before: str, after: str) -> bool:
    """Give the functions of a file the code that is other after a change; tell if there are any."""
    old, new = codes(before, file), codes(after, file)
    other = {name: code for name, code in new.items() if name in old and code != old[name]}
    found = False
    for one in gc.get_objects():
        if isinstance(one, FunctionType) and one.__code__.co_filename == file:
            code = other.get(one.__code__.co_qualname)
            if code and code.co_freevars == one.__code__.co_freevars:
                one.__code__ = code
                found = True
    return found


def codes(text: str, file: str) -> dict[str, CodeType]:
    """Give the code of all functions of a module by their dotted names."""
    return {code.co_qualname: code for code in _inner(compile(text, file, "exec"))}


def _inner(code: CodeType) -> Iterator[CodeType]:
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            yield constant
            yield from _inner(constant)
