"""Pages that gather a whole site's dates stay light: the calendar and the first page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from handbook.outputs.addresses import SUBSCRIBE, is_sheet
from handbook.outputs.model import RenderedPage
from handbook.outputs.page import Context
from handbook.outputs.pages import WHOLE, calendar, today
from handbook.outputs.site import Renderer, framed, menus_of, render_site, without_cycles
from handbook.pipeline import load_plan
from handbook.plan.model import Plan
from tests.benchmarks.invented_content import write_content
from tests.demo import demo_plan, demo_site

CONTENT = Path(__file__).resolve().parents[2] / "content"
RURAL = Path(__file__).resolve().parents[1] / "rural_year"
MOST_BYTES = 200_000
MOST_BYTES_OF_TODAY, MOST_NODES_OF_TODAY = 60_000, 1_500
_EVENT = re.compile(r'<li class="event .*?</li>', re.DOTALL)
_LINK = re.compile(r'<a href="((?:\.\./)+calendar/[^"]*)">')


def gathered(plan: Plan) -> list[RenderedPage]:
    """Make the pages about the whole handbook alone, in its first language, as a site has them."""
    renderer, whole = Renderer(), Context(plan, plan.languages[0])
    with whole.speaking():
        context = without_cycles(whole)
        shares = [renderer.cycle(context, cycle).shares for cycle in plan.cycles]
        frame = renderer.frame(whole, menus_of(whole, plan.cycles))
        return [
            framed(page, frame, whole)
            for kind in WHOLE
            for page in renderer.whole(context, kind, [share[kind.name] for share in shares])
        ]


def test_they_are_those_of_the_site() -> None:
    plan = demo_plan()
    found = gathered(replace(plan, languages=plan.languages[:2]))  # as of the site below
    paths = {page.path for page in found}
    assert paths > {"", "calendar/"}
    assert found == [page for page in demo_site().pages if page.path in paths]


def calendar_pages(plan: Plan) -> list[RenderedPage]:
    """Give the pages of dates, without that on which families subscribe to them."""
    pages = (page for page in gathered(plan) if page.path.startswith("calendar/"))
    return [page for page in pages if page.path != SUBSCRIBE]


def events(pages: list[RenderedPage]) -> Iterator[str]:
    for page in pages:
        for event in _EVENT.findall(page.body):
            yield event.replace("../../", "../")


def test_a_long_calendar_has_a_page_for_each_old_month(monkeypatch: pytest.MonkeyPatch) -> None:
    [whole] = calendar_pages(demo_plan())
    monkeypatch.setattr(calendar, "_MOST_DATES", 60)
    parted = calendar_pages(demo_plan())
    assert len(parted) > 2
    newest, *old = parted
    assert newest.path == whole.path == "calendar/"
    assert [page.path for page in old] == sorted(page.path for page in old)
    assert list(events([*old, newest])) == list(events([whole])), "each date once, in order"
    assert len(_EVENT.findall(newest.body)) <= 60
    linked = [link.removeprefix("../") for link in _LINK.findall(newest.body)]
    assert [page.path for page in old] == [
        link for link in linked if link not in {"calendar/", SUBSCRIBE} and not is_sheet(link)
    ]
    for before, page, after in zip([None, *old], old, [*old[1:], newest], strict=False):
        around = {link.removeprefix("../../") for link in _LINK.findall(page.body)}
        assert around >= {one.path for one in (before, after, newest) if one and one is not page}


def test_a_month_is_never_parted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(calendar, "_MOST_DATES", 0)
    newest, *_ = calendar_pages(demo_plan())
    assert newest.body.count('class="cal-month"') == 1


def first_page(plan: Plan) -> RenderedPage:
    [page] = [page for page in gathered(plan) if page.path == ""]
    return page


@pytest.mark.parametrize("content", [CONTENT, RURAL], ids=lambda path: path.name)
def test_the_first_page_is_light_in_any_year(content: Path) -> None:
    plan = load_plan(content).plan
    assert plan is not None
    body = first_page(plan).body
    assert len(body.encode()) <= MOST_BYTES_OF_TODAY
    assert len(re.findall(r"<[a-z]", body)) <= MOST_NODES_OF_TODAY


def test_a_first_page_of_many_years_keeps_the_newest(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("_MOST_BAND_LINES", "_MOST_CONCERTS", "_MOST_EVENTS", "_MOST_SCHOOL_DATES"):
        monkeypatch.setattr(today, name, 1)
    body = first_page(demo_plan()).body
    assert body.count('class="band-cycle"') == body.count("data-concert=") == 1
    assert 'href="./winter-2026/beacon/" data-of-cycle' in body
    assert 'data-concert="winter-2026/concert/"' in body
    assert "Last day, early release" in body
    assert body.count('<li class="event') == 1


@pytest.mark.weekly
def test_no_page_of_a_large_site_is_over_200_kilobytes(tmp_path: Path) -> None:
    write_content(tmp_path / "content", 24)
    plan = load_plan(tmp_path / "content").plan
    assert plan is not None
    sizes = {page.path: len(page.body.encode()) for page in render_site(plan).pages}
    assert max(sizes.values()) <= MOST_BYTES, max(sizes, key=sizes.__getitem__)
