"""The long tests stay out of an ordinary run."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

pytest_plugins = ["pytester"]

TWO_TESTS = """
import pytest

@pytest.mark.weekly
def test_long(): pass

def test_short(): pass
"""


@pytest.mark.parametrize(("option", "run"), [((), "test_short"), (("--weekly",), "test_long")])
def test_one_kind_is_run(pytester: pytest.Pytester, option: tuple[str, ...], run: str) -> None:
    shutil.copy(Path(__file__).with_name("conftest.py"), pytester.path)
    pytester.makeini("[pytest]\nmarkers =\n    weekly: long")
    pytester.makepyfile(TWO_TESTS)
    result = pytester.runpytest_inprocess("-v", "-p", "no:cacheprovider", *option)
    result.assert_outcomes(passed=1, deselected=1)
    result.stdout.fnmatch_lines([f"*::{run} PASSED*"])
