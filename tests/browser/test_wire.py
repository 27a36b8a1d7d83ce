"""What the first page weighs on a weak signal, and what it spares a reader who minds motion."""

from __future__ import annotations

import gzip
import urllib.request

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

FIRST_VIEW = 150_000  # bytes, gzipped as servers do by default; our own budget
_PACKED = (".woff2", ".png", ".jpg", ".ogg", ".mp3")


def on_the_wire(url: str) -> int:
    with urllib.request.urlopen(url) as answer:
        content: bytes = answer.read()
    return (
        len(content) if url.partition("?")[0].endswith(_PACKED) else len(gzip.compress(content, 6))
    )


@pytest.mark.parametrize("path", ["", "winter-2026/concert/", "winter-2026/harbor/"])
def test_the_first_view_is_light(browser: Browser, site: str, path: str) -> None:
    with visiting(browser, site) as visit:
        visit.go(path).wait_for_load_state("networkidle")
    sizes = {url.removeprefix(site): on_the_wire(url) for url in visit.requested}
    assert sum(sizes.values()) < FIRST_VIEW, sizes


MOVING = """
() => [...document.querySelectorAll("*")].filter((item) => {
  const style = getComputedStyle(item);
  return style.animationName !== "none" || style.transitionDuration.split(",").some((time) => parseFloat(time) > 0) || style.scrollBehavior === "smooth";
}).map((item) => item.tagName)
"""


def test_nothing_moves_for_who_asked_for_less(
    browser: Browser, site: str, kinds: dict[str, str]
) -> None:
    with visiting(browser, site, calm=True) as visit:
        for path in kinds.values():
            assert visit.go(path).evaluate(MOVING) == [], path


def test_the_page_glides_for_everyone_else(browser: Browser, site: str) -> None:
    with visiting(browser, site, calm=False) as visit:
        assert visit.go("words/").evaluate(MOVING) == ["HTML"]


def test_what_plays_a_warm_up_comes_when_it_is_near(browser: Browser, site: str) -> None:
    """A band's page is long, and few readers go down to its warm-up; who does finds the button."""
    with visiting(browser, site) as visit:
        page = visit.go("winter-2026/harbor/")
        page.wait_for_load_state("networkidle")
        assert not [url for url in visit.requested if "player.js" in url]
        page.locator("#warm-up").scroll_into_view_if_needed()
        play = page.get_by_role("button", name="Play this warm-up Three keys")
        play.click()
        steps = page.locator(".warm-up .steps-list > li")
        expect(steps.first).to_have_attribute("aria-current", "step")
        page.keyboard.press("ArrowRight")
        expect(steps.nth(1)).to_have_attribute("aria-current", "step")
        page.keyboard.press("Escape")
        expect(play).to_be_visible()
