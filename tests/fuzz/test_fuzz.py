"""Spoilt content: a few inputs in every run, a hundred thousand in the weekly one."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests.fuzz.seeds import folder_of
from tests.fuzz.spoiling import LEVELS
from tests.fuzz.trial import trial

WEEKLY = 100_000


@pytest.mark.parametrize("seed", range(0, 6_000, 100))
def test_a_spoilt_folder_is_told_or_published(seed: int) -> None:
    verdict = trial(folder_of(seed))
    assert not verdict.fault
    assert verdict.planned or verdict.told


def test_an_input_is_the_same_on_every_run() -> None:
    assert folder_of(7) == folder_of(7) != folder_of(8)
    assert len(LEVELS) == 6


@pytest.mark.weekly
def test_nothing_escapes_a_hundred_thousand_inputs() -> None:
    command = [sys.executable, "-m", "tests.fuzz", "--number", str(WEEKLY), "--jobs", "2"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout
