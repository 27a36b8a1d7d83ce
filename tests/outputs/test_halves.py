"""Work in two processes gives what one gives, faults included."""

from __future__ import annotations

import os
import threading
from collections.abc import Sequence
from pathlib import Path

import pytest

from handbook.outputs import halves
from handbook.outputs.halves import in_halves

MANY = range(200)


def squares(numbers: Sequence[int]) -> list[str]:
    return [str(number * number) for number in numbers]


@pytest.mark.parametrize("count", [0, 1, 59, 60, 61, 200])
def test_the_answer_is_that_of_one_process_in_order(count: int) -> None:
    assert in_halves(squares, range(count)) == squares(range(count))


def test_the_second_half_is_done_elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(halves, "_can_copy", lambda: True)
    workers = in_halves(lambda numbers: [str(os.getpid())] * len(numbers), MANY)
    assert set(workers[:100]) == {str(os.getpid())}
    assert len(set(workers[100:])) == 1
    assert workers[0] != workers[-1]


def test_with_other_threads_all_is_done_here() -> None:
    done = threading.Event()
    thread = threading.Thread(target=done.wait)
    thread.start()
    try:
        workers = in_halves(lambda numbers: [str(os.getpid())] * len(numbers), MANY)
    finally:
        done.set()
        thread.join()
    assert set(workers) == {str(os.getpid())}


def test_a_copy_that_dies_is_made_up_for(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(halves, "_can_copy", lambda: True)
    here = os.getpid()

    def dying(numbers: Sequence[int]) -> list[str]:
        if os.getpid() != here:
            (tmp_path / "died").touch()
            os._exit(9)
        return squares(numbers)

    assert in_halves(dying, MANY) == squares(MANY)
    assert (tmp_path / "died").exists()


def test_a_fault_is_raised_as_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(halves, "_can_copy", lambda: True)

    def faulty(numbers: Sequence[int]) -> list[str]:
        return [str(1 // (number - 150)) for number in numbers]

    with pytest.raises(ZeroDivisionError):
        in_halves(faulty, MANY)
