"""With scripts refused every fact is on the page, and the menu and the filter still work."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.visits import DESK, PHONE, visiting

pytestmark = pytest.mark.browser

# The lines of text on a page, all folds opened and all parts shown that scripts may hide, which are
# hidden again: the page may be asked again at another width, and what is hidden may hide others.
LINES = """
() => {
  for (const fold of document.querySelectorAll("main details")) fold.open = true;
  for (const part of document.querySelectorAll(OFFERS)) part.remove();
  const hidden = [...document.querySelectorAll("main [hidden]")].map((part) => [part, part.hidden]);
  for (const [part] of hidden) part.hidden = false;
  const text = document.querySelector("main").innerText;
  for (const [part, how] of hidden) part.hidden = how;
  return text.split("\\n").map((line) => line.trim()).filter(Boolean);
}
"""
# What scripts add: buttons, boxes to tick, click and drone, and the current week's own line,
# whose facts stand in the tables of all weeks. Tonight's list is reckoned with what was ticked.
# A chart's key names the marks of today and of the next time where scripts have set them.
# How many days are left is what only the reader's own clock can tell.
OFFERS = (
    "main :is(button, select, .chooser, [data-show-all], [data-show-past], [data-over],"
    " .now-only, .click, .drone, .tick, .tick-note, .practice-kept, .tonight, [data-exercise-count],"
    " [data-know-count], [data-know-left], .key-today, .key-soon, .key-next, [data-days-to])"
)
# What else only the reader's own clock can tell.
_CLOCK = re.compile(
    r"(?:^|\s*·?\s*)(?:in \d+ days|today|tomorrow|this week|\((?:not )?finished(?: yet)?\))(?=$|\s|,)",
    re.IGNORECASE,
)


def lines(page: Page) -> set[str]:
    found = page.evaluate(LINES.replace("OFFERS", f"`{OFFERS}`"))
    # What the clock leaves empty has spaces on either side.
    cleared = (" ".join(_CLOCK.sub("", line).split()).strip(" ·") for line in found)
    return {line for line in cleared if line}


# Text that is never seen, but for what the same page says in another place: the end of a
# line of the run of show is its start and length, a sheet's own head is for paper, and so are a
# part's keys and notes in short; the chart of a piece's first passage, set large beside wide
# screens' text, stands in the passage's row as well. A chart's key leaves out the marks of today. That a band has
# no dates is said once that band is chosen, and so is how to see the whole evening again, see below.
# The link to the sheet of the band that is chosen stands among those of all bands, too.
UNSEEN = """
() => {
  for (const fold of document.querySelectorAll("main details")) fold.open = true;
  const walker = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  const unseen = [];
  while (walker.nextNode()) {
    const item = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || item.closest("script, template, [hidden], svg, .now-only, .show-table tr > :last-child, .paper-head, .on-paper, .lead-chart, .key-today, .key-soon, .key-next, .none-of-band, .rest-of-evening, .crew-link .mine")) continue;
    if (!item.checkVisibility({ opacityProperty: true, visibilityProperty: true })) unseen.push(`${item.className}: ${walker.currentNode.data.trim()}`);
  }
  return unseen;
}
"""


@dataclass
class ScriptlessCrawl:
    """What was missing or unseen without scripts, by width and page."""

    missing: dict[tuple[int, str], list[str]] = field(default_factory=dict)
    unseen: dict[tuple[int, str], list[str]] = field(default_factory=dict)


@pytest.fixture(scope="module")
def crawl(browser: Browser, site: str, varied: list[str], kinds: dict[str, str]) -> ScriptlessCrawl:
    """The fullest page of each kind and every third other one, with scripts and without, at two widths.

    The next one opens at the width that the last was left at: each change costs a layout.
    """
    seen = ScriptlessCrawl()
    widths = (PHONE, DESK)
    with visiting(browser, site) as on, visiting(browser, site, scripts=False) as off:
        for path in dict.fromkeys([*kinds.values(), *varied[::3]]):
            on.go(path)
            off.go(path)
            for width in widths:
                for page in (on.page, off.page):
                    if page.viewport_size != (size := {"width": width, "height": 844}):
                        page.set_viewport_size(size)  # type: ignore[arg-type]
                if unseen := off.page.evaluate(UNSEEN):
                    seen.unseen[width, path] = unseen[:5]
                if missing := lines(on.page) - lines(off.page):
                    seen.missing[width, path] = sorted(missing)[:5]
            widths = widths[::-1]
    return seen


def test_every_page_tells_the_same(crawl: ScriptlessCrawl) -> None:
    assert crawl.missing == {}


def test_nothing_is_hidden_that_a_reader_cannot_open(crawl: ScriptlessCrawl) -> None:
    assert crawl.unseen == {}


def test_each_weeks_tempos_stand_in_a_table(browser: Browser, site: str) -> None:
    """The week's own tempo beside a passage's name needs the clock; the table has all weeks."""
    with visiting(browser, site, scripts=False) as visit:
        page = visit.go("winter-2026/harbor/sleds-on-mitten-hill/")
        expect(page.locator("#hot-chocolate table tbody tr")).to_have_count(8)
        expect(page.get_by_text("this week, goal")).to_have_count(0)
        expect(page.locator(".now-only").first).to_be_hidden()


def test_every_week_unfolds(browser: Browser, site: str) -> None:
    with visiting(browser, site, scripts=False) as visit:
        page = visit.go("winter-2026/harbor/")
        weeks = page.locator("details.week")
        assert weeks.count() == 8
        for week in weeks.all():
            week.locator("> summary").click()
            expect(week.locator(".days")).to_be_visible()
            pieces = week.locator("details")
            assert pieces.count() == week.locator(".targets").count() > 0
            for piece in pieces.all():
                piece.locator("> summary").click()
                expect(piece.locator(".targets")).to_be_visible()


def test_the_menu_works(browser: Browser, site: str) -> None:
    with visiting(browser, site, width=320, scripts=False) as visit:
        page = visit.go("")
        page.locator("details.menu summary").click()
        page.locator(".menu").get_by_role("link", name="Words").click()
        page.wait_for_url(f"{site}words/")


def test_the_calendar_filter_works(browser: Browser, site: str) -> None:
    with visiting(browser, site, scripts=False) as visit:
        page = visit.go("calendar/")
        harbor = page.locator(".event", has_text="Harbor Band Band Room")
        lantern = page.locator(".event", has_text="Lantern Band Band Room")
        concert = page.locator(".event.concert", has_text="Winter Concert")
        expect(lantern.first).to_be_visible()
        page.locator(".filter label", has_text="Harbor Band").click()
        expect(harbor.first).to_be_visible()
        expect(lantern.first).to_be_hidden()
        expect(concert).to_be_visible()
        page.locator(".filter label", has_text="Everyone").click()
        expect(lantern.first).to_be_visible()


def test_a_band_without_dates_is_told_so(browser: Browser, site: str) -> None:
    with visiting(browser, site, scripts=False) as visit:
        for path in ("calendar/", "events/"):
            page = visit.go(path)
            page.locator(".filter label", has_text="Lantern Band").click()
            expect(page.locator(".none-of-band")).to_be_hidden()
            page.evaluate("document.querySelectorAll('main .who-1').forEach((row) => row.remove())")
            expect(page.locator(".none-of-band")).to_be_visible()
            page.locator(".filter label", has_text="Everyone").click()
            expect(page.locator(".none-of-band")).to_be_hidden()


def test_who_chose_a_role_can_go_back_to_the_whole_evening(browser: Browser, site: str) -> None:
    with visiting(browser, site, scripts=False) as visit:
        page = visit.go("winter-2026/concert/crew/")
        back = page.locator(".rest-of-evening label")
        expect(back).to_be_hidden()
        page.locator(".band-filter label").nth(1).click()
        expect(page.locator(".role.mine").nth(1)).to_be_hidden()
        back.click()
        expect(page.locator(".role.mine").nth(1)).to_be_visible()
        expect(back).to_be_hidden()


def test_no_button_is_offered_that_needs_scripts(
    browser: Browser, site: str, kinds: dict[str, str]
) -> None:
    with visiting(browser, site, scripts=False) as visit:
        for path in kinds.values():
            page = visit.go(path)
            assert page.locator("button:visible, input[type=search]:visible").count() == 0, path
