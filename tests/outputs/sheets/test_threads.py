"""The same work side by side gives what it gives one after the other."""

from __future__ import annotations

import threading
from time import sleep

import pytest

from handbook.outputs.sheets import threads
from tests.outputs.sheets.making import pdf_of


@pytest.fixture(autouse=True)
def three_processors(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(threads, "_processors", lambda: 3)


def test_sheets_are_the_same_bytes_in_their_order() -> None:
    words = [f"<h1>Sheet {n}</h1><p>{'B♭ ' * n}</p>" for n in range(12)]
    seen = set[str]()

    def made(html: str) -> bytes:
        seen.add(threading.current_thread().name)
        return pdf_of(html)

    assert threads.side_by_side(made, words) == [pdf_of(html) for html in words]
    assert threading.current_thread().name not in seen
    assert len(seen) <= 3


def test_what_is_done_first_does_not_come_first() -> None:
    def work(number: int) -> int:
        sleep((20 - number) / 2000)
        return number

    assert threads.side_by_side(work, range(20)) == [*range(20)]


def test_one_thing_needs_no_other_thread() -> None:
    seen = threads.side_by_side(lambda _: threading.current_thread(), range(1))
    assert seen == [threading.current_thread()]
    assert not threads.side_by_side(str, ())


def test_what_fails_is_told() -> None:
    def work(number: int) -> int:
        return 1 // (number - 10)

    with pytest.raises(ZeroDivisionError):
        threads.side_by_side(work, range(20))
