"""Work in a second process gives what it would give here, faults included."""

from __future__ import annotations

import os
import threading
from pathlib import Path

import pytest

from handbook.outputs import second_process
from handbook.outputs.second_process import begun_elsewhere
from handbook.outputs.site import render_site
from handbook.pipeline import load_plan

CONTENT = Path(__file__).resolve().parents[2] / "content"

SQUARES = [number * number for number in range(200)]


def squares() -> list[int]:
    return [number * number for number in range(200)]


@pytest.fixture
def _two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(second_process, "_can_copy", lambda: True)


@pytest.mark.usefixtures("_two_cores")
def test_the_answer_is_that_of_one_process() -> None:
    assert begun_elsewhere(squares)() == SQUARES


@pytest.mark.usefixtures("_two_cores")
def test_the_work_is_done_elsewhere() -> None:
    assert begun_elsewhere(os.getpid)() != os.getpid()


@pytest.mark.usefixtures("_two_cores")
def test_what_is_not_worth_it_is_done_here() -> None:
    assert begun_elsewhere(os.getpid, worth_it=False)() == os.getpid()


def test_with_other_threads_all_is_done_here() -> None:
    done = threading.Event()
    thread = threading.Thread(target=done.wait)
    thread.start()
    try:
        answer = begun_elsewhere(os.getpid)()
    finally:
        done.set()
        thread.join()
    assert answer == os.getpid()


@pytest.mark.usefixtures("_two_cores")
def test_a_copy_that_dies_is_made_up_for(tmp_path: Path) -> None:
    here = os.getpid()

    def dying() -> list[int]:
        if os.getpid() != here:
            (tmp_path / "died").touch()
            os._exit(9)
        return squares()

    assert begun_elsewhere(dying)() == SQUARES
    assert (tmp_path / "died").exists()


@pytest.mark.usefixtures("_two_cores")
def test_a_fault_is_raised_as_ever() -> None:
    def faulty() -> float:
        return 1 / (os.getpid() - os.getpid())

    with pytest.raises(ZeroDivisionError):
        begun_elsewhere(faulty)()


def test_a_site_is_the_same_in_every_byte(monkeypatch: pytest.MonkeyPatch) -> None:
    plan = load_plan(CONTENT).plan
    assert plan is not None
    asked: list[bool] = []

    def may_copy() -> bool:
        asked.append(len(asked) == 0)
        return asked[-1]

    monkeypatch.setattr(second_process, "_can_copy", may_copy)
    assert render_site(plan) == render_site(plan)
    assert asked == [True, False]
