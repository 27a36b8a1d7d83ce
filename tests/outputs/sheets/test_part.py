"""The sheet of a part's weeks, beside the pages of the parts that it is of."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import pytest

from handbook.domain.values.paper import Paper
from handbook.outputs.page import Context, Page
from handbook.outputs.pages import part
from handbook.outputs.pages.part import PartView
from handbook.outputs.sheets.kinds import part as part_kind
from handbook.outputs.sheets.kinds.part import PartSheetView, part_sheet
from handbook.outputs.sheets.model import MadeSheet
from handbook.plan.model import EnsemblePlan
from tests.outputs.sheets.reading import page_texts, structure, words_of
from tests.outputs.sheets.small_plan import (
    lines_of,
    made,
    pdf_on,
    small_plan,
    stands_in,
    words_on,
)

HANGING = re.compile(r'<p class="hang">(.*?)</p>', re.DOTALL)
CYCLE = small_plan().cycles[-1]


def parts(
    language: str, ensemble: EnsemblePlan
) -> tuple[Context, list[Page], dict[str, MadeSheet]]:
    context = Context(small_plan(), language)
    with context.speaking():
        pages = list(part.pages(context, CYCLE, ensemble))
        return context, pages, made(context, pages)


@pytest.fixture(scope="module", params=["en", "ar"])
def of_a_band(request: pytest.FixtureRequest) -> tuple[Context, list[Page], dict[str, MadeSheet]]:
    return parts(request.param, CYCLE.ensembles[0])


def view_of(page: Page) -> PartView:
    assert isinstance(page.view, PartView)
    return page.view


def practiced(page: Page) -> list[tuple[str, str]]:
    """Name all that the page of a part has a row for."""
    return [(p.item.id, one.item.id) for p in view_of(page).pieces for one in p.passages]


def test_parts_have_a_sheet_together_if_they_practice_the_same(
    of_a_band: tuple[Context, list[Page], dict[str, MadeSheet]],
) -> None:
    _, pages, sheets = of_a_band
    for page in pages:
        for other in pages:
            alike = practiced(page) == practiced(other)
            assert (view_of(page).sheet == view_of(other).sheet) is alike
    assert {view_of(page).sheet for page in pages if view_of(page).sheet} == set(sheets)


def test_each_tempo_of_the_page_stands_under_its_week(
    of_a_band: tuple[Context, list[Page], dict[str, MadeSheet]],
) -> None:
    _, pages, sheets = of_a_band
    for page in pages:
        if not view_of(page).sheet:
            continue
        rows = re.findall(r"<tr>(<td>.*?)</tr>", sheets[view_of(page).sheet].html)
        passages = [one for piece in view_of(page).pieces for one in piece.passages]
        assert len(rows) == len(passages)
        for row, passage in zip(rows, passages, strict=True):
            cells = [
                re.sub("<[^>]+>", "", one).strip() for one in re.findall("<td>(.*?)</td>", row)
            ][1:]
            # A box to tick stands beside the goal and nothing else.
            assert row.count("<input") == cells.count(passage.item.goal.bpm_text)
            for week, cell in zip(view_of(page).weeks, cells, strict=True):
                expected = [
                    one.target.bpm_text
                    for one in (passage.targets.weeks if passage.targets else ())
                    if one.monday <= week.monday <= one.sunday
                ]
                assert [cell] == (expected or [""])


def test_its_words_are_those_of_each_page_that_it_is_of(
    of_a_band: tuple[Context, list[Page], dict[str, MadeSheet]],
) -> None:
    context, pages, sheets = of_a_band
    with context.speaking():
        for page in pages:
            if view_of(page).sheet:
                shown = words_on(context, page)
                html = re.sub(r'<span class="beat".*?</span>', "", sheets[view_of(page).sheet].html)
                said = [*lines_of(html, "li"), *lines_of(html, "h3")]
                said += [line for line in lines_of(html, "td") if line]
                said += [
                    line.removesuffix(".")
                    for told in HANGING.findall(html)
                    for one in told_to(view_of(page).name, told)
                    for line in lines_of(f"<p>{one.replace('<br>', '</p><p>')}</p>", "p")
                ]
                assert [line for line in said if not stands_in(line, shown)] == []


def told_to(name: str, told: str) -> list[str]:
    """Leave out of what is said of an exercise the lines of others, and the names before the own."""
    first, *own = re.split(r"(?:<br>)?\s*<b>([^<]+)</b>: ", told)
    named = zip(own[::2], own[1::2], strict=True)
    return [first, *(words for names, words in named if name in re.split("[,،] ", names))]


@pytest.mark.parametrize("paper", list(Paper))
def test_all_of_it_is_on_the_paper(paper: Paper) -> None:
    _, _, sheets = parts("en", CYCLE.ensembles[0])
    for sheet in sheets.values():
        said = words_of(" ".join(page_texts(pdf_on(sheet, paper))))
        lines = [line for tag in ("li", "h2", "td", "th") for line in lines_of(sheet.html, tag)]
        assert [line for line in lines if line not in said] == []


def test_each_week_heads_a_column(
    of_a_band: tuple[Context, list[Page], dict[str, MadeSheet]],
) -> None:
    _, pages, sheets = of_a_band
    content = pdf_on(next(iter(sheets.values())))
    kinds = [one.kind for one in structure(content).walk()]
    assert kinds.count("TH") == len(view_of(pages[0]).weeks) + 1
    assert len(page_texts(content)) <= 2


@pytest.mark.parametrize(("weeks", "columns"), [(9, [9]), (10, [5, 5]), (19, [7, 7, 5])])
def test_weeks_that_need_several_tables_are_shared_evenly(
    weeks: int, columns: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nine fit beside each other; a tenth alone in a table would be a waste of a page."""
    monkeypatch.setattr(part_kind, "evening_weeks", lambda *_: ())
    context = Context(small_plan(), "en")
    mondays: Any = tuple(
        SimpleNamespace(monday=date(2026, 8, 31) + timedelta(weeks=week)) for week in range(weeks)
    )
    with context.speaking():
        page = next(part.pages(context, CYCLE, CYCLE.ensembles[0]))
        view = replace(view_of(page), weeks=mondays)
        (sheet,) = part_sheet(context, CYCLE, CYCLE.ensembles[0], [view])
    assert isinstance(sheet.view, PartSheetView)
    assert [len(table.weeks) for table in sheet.view.tables] == columns
