"""What is promised to stand on one page: how close its lines come, and how much of it gives way.

Sheets of all lengths are typeset, and compared with one another, or with such as have by
themselves what stays of another when parts of it give way.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
import typst

from handbook.outputs.sheets import typesetting
from handbook.outputs.sheets.model import Layout
from tests.outputs.sheets.making import pdf_of
from tests.outputs.sheets.reading import page_texts, runs, words_of

FOOT_ROOM = 65.2  # points: 23 mm, which `sheet.typ` leaves at the foot of a page
LENGTHS = (5, 34, 35, 37, 39, 40, 42, 44, 45, 60)


def lines(count: int, word: str = "Row") -> str:
    return "".join(f"<p>{word} number {n}</p>" for n in range(count))


def gap(content: bytes) -> float:
    """Give the way from the first line to the second, in points."""
    first, second = (run.y for run in runs(content)[1:3])
    return round(first - second, 1)


@pytest.fixture(scope="module")
def by_length() -> dict[int, bytes]:
    return {count: pdf_of(f"<h1>A</h1>{lines(count)}") for count in LENGTHS}


def test_the_longer_a_sheet_the_closer_its_lines_and_then_it_goes_on(
    by_length: dict[int, bytes],
) -> None:
    looks = [(len(page_texts(content)), -gap(content)) for content in by_length.values()]
    assert all(first <= second for first, second in pairwise(looks))
    on_one = {gap for pages, gap in looks if pages == 1}
    assert len(on_one) == 3
    assert {gap for pages, gap in looks if pages > 1} == {max(on_one)}


def test_all_is_there_and_nothing_runs_into_the_foot(by_length: dict[int, bytes]) -> None:
    for count, content in by_length.items():
        said = words_of(" ".join(page_texts(content)))
        assert all(f"Row number {n} " in said for n in range(count))
        assert min(run.y for run in runs(content) if run.text.startswith("Row")) >= FOOT_ROOM


def test_the_number_of_pages_is_that_of_what_was_chosen(by_length: dict[int, bytes]) -> None:
    for content in by_length.values():
        pages = page_texts(content)
        counted = [f"{n} of {len(pages)}" in words_of(page) for n, page in enumerate(pages, 1)]
        assert all(counted) is (len(pages) > 1)


def test_where_the_search_begins_changes_nothing(
    by_length: dict[int, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    for letters in (0, 10**9):
        monkeypatch.setattr(typesetting, "_FULL", letters)
        for count, content in by_length.items():
            assert pdf_of(f"<h1>A</h1>{lines(count)}") == content, count


SIZES = ((1, 1, 1), (9, 12, 9), (9, 9, 22), (9, 25, 9), (22, 9, 9), (1, 30, 30), (30, 30, 30))


@pytest.mark.parametrize("sizes", SIZES)
def test_as_few_parts_give_way_as_is_enough(sizes: tuple[int, ...]) -> None:
    names = dict(enumerate(("Third", "Second", "First")[-len(sizes) :], 1))

    def sheet(given: int, *, by_itself: bool) -> bytes:
        parts = ["<h1>A</h1>"]
        for (number, name), size in reversed([*zip(names.items(), sizes, strict=True)]):
            heading, rest = f"<h2>{name}</h2>", f"<p>{name} is elsewhere</p>"
            if by_itself and number <= given:
                parts.append(f'<section class="row">{heading}{rest}</section>')
            elif by_itself:
                parts.append(f"<section>{heading}{lines(size, name)}</section>")
            else:
                instead = rest.replace("<p>", '<p class="instead">')
                parts.append(
                    f'<section class="gives-{number}">{heading}{lines(size, name)}{instead}</section>'
                )
        return pdf_of("".join(parts))

    fits = (n for n in range(len(sizes) + 1) if len(page_texts(sheet(n, by_itself=True))) == 1)
    given = next(fits)
    said = words_of(" ".join(page_texts(sheet(0, by_itself=False))))
    assert [n for n, name in names.items() if f"{name} is elsewhere" in said] == [
        *range(1, given + 1)
    ]


class _Watched:
    """A typesetter that takes no warning, such as that a sheet did not come to rest."""

    def __init__(self, real: typst.Compiler) -> None:
        self._real = real

    def compile(self, **given: Any) -> object:
        made, warnings = self._real.compile_with_warnings(**given)
        assert not warnings
        return made


def test_every_sheet_comes_to_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    real = typesetting._compiler
    monkeypatch.setattr(typesetting, "_compiler", lambda *given: _Watched(real(*given)))
    for letters in (0, 10**9):
        monkeypatch.setattr(typesetting, "_FULL", letters)
        for count in LENGTHS:
            assert pdf_of(f"<h1>A</h1>{lines(count)}")
    for first, second in ((40, 40), (80, 1), (1, 80)):
        parts = "".join(
            f'<section class="gives-{number}"><h2>B</h2>{lines(count)}</section>'
            for number, count in ((1, first), (2, second), (3, 9))
        )
        assert pdf_of(f"<h1>A</h1>{parts}{lines(60)}")
        assert pdf_of(f"<h1>A</h1>{parts}")


FIVE = ("Fifth", "Fourth", "Third", "Second", "First")
PAGES = (
    (1,) * 5,
    (20, 4, 4, 4, 4),
    (12, 12, 6, 5, 5),
    (8,) * 5,
    (9, 9, 9, 9, 18),
    (9, 9, 9, 9, 30),
)
FIXED = 18


def of_five(sizes: tuple[int, ...], given: int) -> str:
    """Write a page of five parts, of which the last ones named have given way; none below 0, but each may."""
    parts = [f"<h1>A</h1>{lines(FIXED, 'Fixed')}"]
    for number, (name, size) in enumerate(zip(FIVE, sizes, strict=True), 1):
        heading, rest = f"<h2>{name}</h2>", f"{name} is elsewhere</p>"
        if given < 0:
            body = f'{lines(size, name)}<p class="instead">{rest}'
            parts.append(f'<div class="gives-{number}">{heading}{body}</div>')
        else:
            body = f"<p>{rest}" if number <= given else lines(size, name)
            parts.append(f"<div>{heading}{body}</div>")
    return f"<section>{''.join(parts)}</section>"


def test_each_page_of_several_gives_what_it_must_whatever_the_others_do() -> None:
    """Alone, and with parts that are away by themselves, a page takes one sheet of paper or more."""
    whole = pdf_of("".join(of_five(sizes, -1) for sizes in PAGES), layout=Layout.PAGES)
    pages = iter(page_texts(whole))
    found = []
    for sizes in PAGES:
        alone = (len(page_texts(pdf_of(of_five(sizes, n), layout=Layout.PAGES))) for n in range(6))
        enough = next(n for n, count in enumerate(alone) if count == 1)
        said = words_of(next(pages))
        assert sum(f"{name} is elsewhere" in said for name in FIVE) == enough, sizes
        found.append(enough)
    assert not [*pages]
    assert found == [0, 1, 2, 3, 4, 5]
