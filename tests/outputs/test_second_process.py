"""Work in a second process gives what it would give here, faults included."""

from __future__ import annotations

import os
import threading
from collections.abc import Sequence
from pathlib import Path

import pytest

from handbook.outputs import second_process
from handbook.outputs.second_process import begun_elsewhere

MANY = range(200)


def squares(numbers: Sequence[int]) -> list[str]:
    return [str(number * number) for number in numbers]


def whose(numbers: Sequence[int]) -> list[str]:
    return [str(os.getpid())] * len(numbers)


@pytest.fixture
def _two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(second_process, "_can_copy", lambda: True)


@pytest.mark.usefixtures("_two_cores")
@pytest.mark.parametrize("count", [0, 1, 29, 30, 200])
def test_the_answer_is_that_of_one_process(count: int) -> None:
    assert begun_elsewhere(squares, range(count))() == squares(range(count))


@pytest.mark.usefixtures("_two_cores")
def test_the_work_is_done_elsewhere() -> None:
    assert set(begun_elsewhere(whose, MANY)()) - {str(os.getpid())}


@pytest.mark.usefixtures("_two_cores")
def test_a_little_work_is_done_here() -> None:
    assert begun_elsewhere(whose, range(5))() == whose(range(5))


def test_with_other_threads_all_is_done_here() -> None:
    done = threading.Event()
    thread = threading.Thread(target=done.wait)
    thread.start()
    try:
        answer = begun_elsewhere(whose, MANY)()
    finally:
        done.set()
        thread.join()
    assert set(answer) == {str(os.getpid())}


@pytest.mark.usefixtures("_two_cores")
def test_a_copy_that_dies_is_made_up_for(tmp_path: Path) -> None:
    here = os.getpid()

    def dying(numbers: Sequence[int]) -> list[str]:
        if os.getpid() != here:
            (tmp_path / "died").touch()
            os._exit(9)
        return squares(numbers)

    assert begun_elsewhere(dying, MANY)() == squares(MANY)
    assert (tmp_path / "died").exists()


@pytest.mark.usefixtures("_two_cores")
def test_a_fault_is_raised_as_ever() -> None:
    def faulty(numbers: Sequence[int]) -> list[str]:
        return [str(1 // (number - 150)) for number in numbers]

    with pytest.raises(ZeroDivisionError):
        begun_elsewhere(faulty, MANY)()
