"""What workers share is made by one of them, and by another if that one fails."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from threading import Thread
from time import sleep

import pytest

from tests import shared
from tests.shared import made_once, share_in


@pytest.fixture(autouse=True)
def _own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(shared._FOLDER, "")
    share_in(tmp_path)


def test_only_the_first_makes_it() -> None:
    made = list[int]()

    def make() -> list[int]:
        made.append(1)
        sleep(0.2)
        return [*made]

    found = list[list[int]]()
    workers = [Thread(target=lambda: found.append(made_once("list", make))) for _ in range(4)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert found == [[1]] * 4
    assert made_once("another", lambda: [2]) == [2]


def test_what_could_not_be_made_is_made_by_the_next() -> None:
    with pytest.raises(ZeroDivisionError):
        made_once("number", lambda: 1 // 0)
    assert made_once("number", lambda: 7) == 7


def test_who_was_killed_is_waited_for_no_longer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "number.begun").touch()
    monkeypatch.setattr(shared, "_PATIENCE", 0.1)
    assert made_once("number", lambda: 7) == 7


def test_without_a_folder_each_makes_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(shared._FOLDER)
    assert [made_once("number", partial(int, n)) for n in (1, 2)] == [1, 2]
