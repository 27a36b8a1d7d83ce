"""Everything can be reached, seen and worked by keyboard."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.visits import DESK, PHONE, visiting

pytestmark = pytest.mark.browser

NARROW = 320  # a laptop at 400 % zoom: WCAG 2.2 SC 1.4.10


def tab_to(page: Page, selector: str, *, within: int = 20) -> None:
    for _ in range(within):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    pytest.fail(f"{selector} was not reached in {within} steps")


@pytest.mark.parametrize("scripts", [True, False])
def test_the_menu_opens_and_leads_on(browser: Browser, site: str, scripts: bool) -> None:
    with visiting(browser, site, width=NARROW, scripts=scripts) as visit:
        page = visit.go("")
        tab_to(page, "details.menu > summary")
        page.keyboard.press("Enter")
        expect(page.get_by_role("navigation", name="Menu")).to_be_visible()
        tab_to(page, ".menu a[href$='calendar/']")
        page.keyboard.press("Enter")
        page.wait_for_url(f"{site}calendar/")
        expect(page.get_by_role("heading", level=1)).to_have_text("Calendar")


def test_escape_closes_the_menu_and_gives_the_focus_back(browser: Browser, site: str) -> None:
    with visiting(browser, site, width=NARROW) as visit:
        page = visit.go("")
        tab_to(page, "details.menu > summary")
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        page.keyboard.press("Escape")
        expect(page.get_by_role("navigation", name="Menu")).to_be_hidden()
        expect(page.locator("details.menu > summary")).to_be_focused()


def test_the_first_step_skips_to_the_page(browser: Browser, site: str) -> None:
    with visiting(browser, site, width=DESK) as visit:
        page = visit.go("words/")
        page.keyboard.press("Tab")
        skip = page.get_by_role("link", name="Skip to the page")
        expect(skip).to_be_focused()
        expect(skip).to_be_in_viewport()
        page.keyboard.press("Enter")
        expect(page.locator("main")).to_be_focused()
        page.keyboard.press("Tab")
        assert page.evaluate("!!document.activeElement.closest('main')")


# WCAG 2.2 SC 2.4.7 and 2.4.11: what has the focus shows it, and nothing lies over it. Gives
# "end" past the last item.
FOCUS_FAULT = """
() => {
  const item = document.activeElement;
  if (item === document.body) return "end";
  const style = getComputedStyle(item);
  const name = item.outerHTML.slice(0, 110);
  if (style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2) return `no ring: ${name}`;
  const box = item.getClientRects()[0];
  if (!box) return `no box: ${name}`;
  const left = Math.max(box.left, 0), upper = Math.max(box.top, 0);
  const right = Math.min(box.right, innerWidth), lower = Math.min(box.bottom, innerHeight);
  if (right - left < 2 || lower - upper < 2) return `off screen: ${name}`;
  // Of what is taller than half the screen the middle is asked for: the line with the contents
  // may lie over its top, as long as it is not hidden entirely.
  const x = left + Math.min((right - left) / 2, 40), tall = lower - upper > innerHeight / 2;
  const y = tall ? (upper + lower) / 2 : upper + Math.min((lower - upper) / 2, 20);
  const top = document.elementFromPoint(x, y);
  const label = item.closest("label");
  return top && (item.contains(top) || top.contains(item) || (label && label.contains(top))) ? null : `hidden under ${top && top.outerHTML.slice(0, 60)}: ${name}`;
}
"""


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_the_focus_is_always_seen(
    browser: Browser, site: str, kinds: dict[str, str], width: int
) -> None:
    faults = []
    with visiting(browser, site, width=width) as visit:
        for kind, path in kinds.items():
            page = visit.go(path)
            for _ in range(45):
                page.keyboard.press("Tab")
                fault = page.evaluate(FOCUS_FAULT)
                if fault == "end":
                    break
                if fault:
                    faults.append(f"{kind}: {fault}")
    assert faults == []


def test_a_rehearsal_unfolds(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("winter-2026/harbor/")
        page.locator("details:has(> #r20) > summary").focus()
        page.keyboard.press("Enter")
        expect(page.locator("details:has(> #r20) .agenda")).to_be_visible()
        page.keyboard.press("Enter")
        expect(page.locator("details:has(> #r20) .agenda")).to_be_hidden()


def test_the_own_band_is_chosen_and_kept(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("")
        page.get_by_role("button", name="Harbor Band").focus()
        page.keyboard.press("Space")
        page.get_by_role("button", name="Oboe", exact=True).focus()
        page.keyboard.press("Enter")
        expect(page.locator("[data-chosen-name]")).to_be_visible()
        expect(page.locator("#lantern")).to_be_hidden()
        page.reload()
        expect(page.locator("#lantern")).to_be_hidden()
        expect(page.locator("[data-chosen-name]")).to_contain_text("Harbor Band")


def test_light_or_dark_is_chosen_and_kept(browser: Browser, site: str) -> None:
    with visiting(browser, site, scheme="light") as visit:
        page = visit.go("")
        ground = "getComputedStyle(document.documentElement).backgroundColor"
        light = page.evaluate(ground)
        page.locator("[data-theme-choice] input[value=system]").focus()
        page.keyboard.press("ArrowUp")  # round to the last one
        expect(page.locator("[data-theme-choice] input[value=dark]")).to_be_checked()
        dark = page.evaluate(ground)
        assert dark != light
        visit.go("calendar/")
        assert page.evaluate(ground) == dark
        page.locator("[data-theme-choice] input[value=dark]").focus()
        page.keyboard.press("ArrowDown")
        assert page.evaluate(ground) == light
