"""The choice of a language: the same page in another one, and a device that remembers it."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.axe import WCAG_AND_BEST_PRACTICE, findings
from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

CONCERT = "winter-2026/concert/"


def test_the_choice_keeps_the_page_and_the_place(browser: Browser, site: str) -> None:
    with visiting(browser, site, now=None) as visit:
        page = visit.go(f"{CONCERT}#parking")
        page.locator(".languages").get_by_role("link", name="Español").click()
        page.wait_for_url(f"{site}es/{CONCERT}#parking")
        assert page.locator("html").get_attribute("lang") == "es"
        assert page.locator(".languages [aria-current]").inner_text() == "Español"
        assert findings(page, WCAG_AND_BEST_PRACTICE, ".languages") == []
        # Links within the site stay in the language.
        page.locator(".brand").click()
        page.wait_for_url(f"{site}es/")
        assert visit.errors == []


def test_who_chose_a_language_comes_to_it_from_outside(browser: Browser, site: str) -> None:
    with visiting(browser, site, now=None) as visit:
        page = visit.go("")
        page.locator(".languages").get_by_role("link", name="Español").click()
        page.wait_for_url(f"{site}es/")
        for path in ("words/", f"{CONCERT}#parking", f"{CONCERT}?from=mail"):
            page = visit.go(path)  # without a page that led here
            page.wait_for_url(f"{site}es/{path}")
        assert page.evaluate("history.length") == visit.go("es/").evaluate("history.length") - 1


def test_no_choice_is_overruled(browser: Browser, site: str) -> None:
    """Neither a click, nor going back, nor loading again leads to another language."""
    with visiting(browser, site, now=None) as visit:
        page = visit.go("words/")
        page.locator(".languages").get_by_role("link", name="Español").click()
        page.wait_for_url(f"{site}es/words/")
        page.go_back()
        page.wait_for_url(f"{site}words/")
        page.reload()
        assert page.url == f"{site}words/"
        page = visit.go("es/words/")
        page.locator(".languages").get_by_role("link", name="English").click()
        page.wait_for_url(f"{site}words/")
        assert visit.go("calendar/").url == f"{site}calendar/"
        # An address in Spanish leads to the English that was chosen last.
        visit.go("es/calendar/").wait_for_url(f"{site}calendar/")


def test_a_language_that_is_not_there_any_more_leads_nowhere(browser: Browser, site: str) -> None:
    with visiting(browser, site, now=None) as visit:
        page = visit.go("words/")
        page.evaluate("localStorage.setItem('handbook-language', 'ht')")
        assert visit.go("words/").url == f"{site}words/"


def test_it_works_from_a_folder(browser: Browser, demo: Path) -> None:
    with visiting(browser, f"{demo.as_uri()}/", now=None) as visit:
        page = visit.go("words/index.html")
        page.locator(".languages").get_by_role("link", name="Español").click()
        page.wait_for_url("**/es/words/index.html")
        visit.go("calendar/index.html").wait_for_url("**/es/calendar/index.html")


def test_the_page_for_lost_readers_is_in_the_language_of_the_address(
    browser: Browser, site: str, demo: Path
) -> None:
    lost = (demo / "404.html").read_text("utf-8")

    def answer(browser_page: object, path: str) -> None:
        browser_page.route(  # type: ignore[attr-defined]
            f"**/{path}",
            lambda route: route.fulfill(status=404, body=lost, content_type="text/html"),
        )

    with visiting(browser, site, now=None) as visit:
        for path, folder in (("nowhere/", ""), ("es/nowhere/", "es/"), ("estuary/", "")):
            answer(visit.page, path)
            page = visit.go(path)
            shown = page.locator("[data-lost]:visible")
            expect(shown).to_have_count(1)
            assert shown.get_attribute("data-lost") == folder
            assert page.url == f"{site}{path}"
    with visiting(browser, site, scripts=False) as visit:
        answer(visit.page, "nowhere/")
        expect(visit.go("nowhere/").locator("[data-lost]:visible")).to_have_count(4)


def test_vietnamese_is_remembered_until_english_is_chosen(browser: Browser, site: str) -> None:
    """And neither choice leads round in a loop."""
    with visiting(browser, site, now=None) as visit:
        page = visit.go("")
        page.locator(".languages").get_by_role("link", name="Tiếng Việt").click()
        page.wait_for_url(f"{site}vi/")
        visit.go("").wait_for_url(f"{site}vi/")
        page.locator(".languages").get_by_role("link", name="English").click()
        page.wait_for_url(site)
        for path in ("", CONCERT):
            assert visit.go(path).url == f"{site}{path}"
        page.reload()
        assert page.url == f"{site}{CONCERT}"
        assert visit.errors == []


def test_without_scripts_the_links_lead_to_the_same_page(browser: Browser, site: str) -> None:
    with visiting(browser, site, scripts=False) as visit:
        page = visit.go(CONCERT)
        for name, folder in (("Tiếng Việt", "vi/"), ("العربية", "ar/"), ("English", "")):
            page.locator(".languages").get_by_role("link", name=name).click()
            page.wait_for_url(f"{site}{folder}{CONCERT}")
            assert page.locator(".languages [aria-current]").inner_text() == name


def test_arabic_is_remembered_in_a_folder(browser: Browser, demo: Path) -> None:
    with visiting(browser, f"{demo.as_uri()}/", now=None) as visit:
        page = visit.go(f"{CONCERT}index.html#parking")
        page.locator(".languages").get_by_role("link", name="العربية").click()
        page.wait_for_url(f"**/ar/{CONCERT}index.html#parking")
        assert page.locator("html").get_attribute("dir") == "rtl"
        visit.go("index.html").wait_for_url("**/ar/index.html")
