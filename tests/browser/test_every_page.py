"""Every page, opened once: it keeps to itself, keeps quiet, keeps the policy, and fits the screen.

It is served under the strictest policy, opened on a small phone or a laptop in turn, and
made wider or narrower in place, so that whatever a width asks for is asked for. Of the many
players' parts the last of each instrument is; the others are opened at the width at hand.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from handbook.outputs.page import Context
from handbook.plan.model import Plan
from tests.browser.policy import BREACHES, NOTE_BREACHES
from tests.browser.visits import DESK, PHONE, OpenTab, visiting

pytestmark = pytest.mark.browser

# A phone at 400 % zoom or a small old one, a phone, a laptop: WCAG 2.2 SC 1.4.10 asks for 320.
WIDTHS = (320, PHONE, DESK)
UNFOLD = "for (const item of document.querySelectorAll('details:not(.menu)')) { item.open = true; item.hidden = false; }"
# Text that is a title, outside of anything that is kept from translation.
LOOSE = """
(titles) => {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const loose = [];
  while (walker.nextNode()) {
    const text = walker.currentNode.data.trim();
    if (titles.includes(text) && !walker.currentNode.parentElement.closest("[translate=no], dialog")) loose.push(text);
  }
  return loose;
}
"""


def too_wide(page: Page) -> list[tuple[int, int]]:
    """The widths that an unfolded page runs off the side of, each with how far it reaches.

    They are taken from the one at hand to the other end, since each change costs a layout.
    """
    page.evaluate(UNFOLD)
    found = []
    for width in WIDTHS if width_of(page) == WIDTHS[0] else reversed(WIDTHS):
        if width != width_of(page):
            page.set_viewport_size({"width": width, "height": 844})
        reach = page.evaluate("document.documentElement.scrollWidth")
        if reach > width:
            found.append((width, reach))
    return found


def width_of(page: Page) -> int:
    assert page.viewport_size is not None
    return page.viewport_size["width"]


@dataclass
class Crawl:
    """What was seen on the way through every page."""

    base: str
    visit: OpenTab
    too_wide: dict[str, list[tuple[int, int]]] = field(default_factory=dict)
    loose_titles: dict[str, list[str]] = field(default_factory=dict)
    breaches: object = None
    cookies: Sequence[object] = ()
    kept: Sequence[str] = ()


def titles(plan: Plan) -> list[str]:
    say = Context(plan, "en").say
    return [
        say(piece.item.title)
        for cycle in plan.cycles
        for ensemble in cycle.ensembles
        for piece in ensemble.pieces
    ]


@pytest.fixture(scope="module")
def crawl(
    browser: Browser, guarded: str, paths: list[str], varied: list[str], demo_plan: Plan
) -> Crawl:
    wanted = titles(demo_plan)
    with visiting(browser, guarded, width=WIDTHS[0]) as visit:
        visit.page.add_init_script(NOTE_BREACHES)
        seen = Crawl(guarded, visit)
        for path in paths:
            page = visit.go(path)
            if path not in varied:
                continue
            if loose := page.evaluate(LOOSE, wanted):
                seen.loose_titles[path] = loose
            if wide := too_wide(page):
                seen.too_wide[path] = wide
        seen.breaches = visit.page.evaluate(BREACHES)
        seen.cookies = visit.page.context.cookies()
        seen.kept = visit.page.evaluate("Object.keys(localStorage)")
    return seen


def test_asks_no_other_host_for_anything(crawl: Crawl, paths: list[str]) -> None:
    asked = crawl.visit.requested
    assert [url for url in asked if not url.startswith((crawl.base, "data:"))] == []
    assert len(asked) > len(paths)


def test_reports_no_error_and_breaks_no_policy(crawl: Crawl) -> None:
    assert crawl.visit.errors == []
    assert crawl.breaches is None


def test_leaves_nothing_on_the_device(crawl: Crawl) -> None:
    assert crawl.cookies == []
    assert [key for key in crawl.kept if not key.startswith("handbook-")] == []


def test_nothing_runs_off_the_side(crawl: Crawl) -> None:
    assert crawl.too_wide == {}


def test_titles_are_kept_from_translation(crawl: Crawl) -> None:
    assert crawl.loose_titles == {}


def test_each_kind_is_as_quiet_and_fits_in_dark_on_a_laptop(
    browser: Browser, site: str, kinds: dict[str, str]
) -> None:
    """Opened at the width of a laptop, since a page may look at its width as it loads."""
    wide = {}
    with visiting(browser, site, width=DESK, scheme="dark") as visit:
        for kind, path in kinds.items():
            visit.page.set_viewport_size({"width": DESK, "height": 844})
            if found := too_wide(visit.go(path)):
                wide[kind] = found
    assert wide == {}
    assert visit.errors == []
    assert [url for url in visit.requested if not url.startswith((site, "data:"))] == []


def test_no_trace_of_upstream_in_any_page(demo: Path) -> None:
    names = re.compile(r"mkdocs|material for|squidfunk|powered by|name=.?generator", re.IGNORECASE)
    assert [file.name for file in demo.rglob("*.html") if names.search(file.read_text())] == []


def test_storage_holds_choices_only_under_our_own_names(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("")
        page.get_by_role("button", name="Harbor Band").click()
        page.get_by_text("Dark", exact=True).click()
        kept = page.evaluate("({...localStorage})")
        session = page.evaluate("Object.keys(sessionStorage)")
        cookies = page.context.cookies()
    assert kept == {"handbook-ensemble": "harbor", "handbook-theme": "dark"}
    assert session == []
    assert cookies == []
