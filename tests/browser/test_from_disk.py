"""The site opens from a folder, such as an unpacked zip, without any server or network."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from handbook.publishing.standing import standing_site
from handbook.publishing.zip_copy import zip_copy
from tests.browser.links import lost_links
from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

EARLY_TYPEFACE = re.compile(
    r"Access to font|A preload for|Failed to load resource: net::ERR_FAILED"
)


def test_pages_menu_search_and_choices_work(browser: Browser, demo: Path) -> None:
    base = f"{demo.as_uri()}/"
    with visiting(browser, base) as visit:
        failed: list[str] = []
        visit.page.on("requestfailed", lambda request: failed.append(request.url))
        visit.page.context.set_offline(True)
        page = visit.go("index.html")
        expect(page.locator(".concert-card .big-figure")).to_have_text("22 days")
        assert page.evaluate(
            "document.fonts.ready.then(() => document.fonts.check('1em \"Handbook Text\"'))"
        )
        page.get_by_role("button", name="Harbor Band").click()
        page.get_by_role("button", name="Oboe").click()
        page.get_by_role("link", name="What we rehearse").click()
        page.wait_for_url(f"{base}winter-2026/harbor/index.html#2026-11-30")
        expect(page.locator('[id="2026-11-30"] .agenda')).to_be_visible()
        page.locator("details.menu summary").click()
        page.locator(".menu").get_by_role("link", name="Calendar").click()
        page.wait_for_url(f"{base}calendar/index.html")
        page.locator("[data-open-search]").click()
        page.get_by_role("searchbox").fill("sleds m. 43")
        page.locator("[data-search-results] a").first.click()
        page.wait_for_url(f"{base}winter-2026/harbor/sleds-on-mitten-hill/index.html#hot-chocolate")
        expect(page.locator("#hot-chocolate")).to_be_in_viewport()
        page.locator("a.brand").click()
        page.wait_for_url(f"{base}index.html")
        expect(page.locator("#lantern")).to_be_hidden()
        assert [url for url in visit.requested if not url.startswith((base, "data:"))] == []
        # A browser refuses to fetch typefaces from disk ahead of time; the style sheet still may.
        ahead = ("atkinson-hyperlegible-next.woff2", "fraunces.woff2")
        assert [url for url in failed if not url.endswith(ahead)] == []
        assert [text for text in visit.errors if not EARLY_TYPEFACE.search(text)] == []


def test_every_link_of_every_page_leads_to_a_file(demo: Path, varied: list[str]) -> None:
    """And to a place in it. The page of a wrong address is shown by servers only."""
    lost = {path: lost_links(demo, path) for path in varied if not path.endswith("404.html")}
    assert {path: links for path, links in lost.items() if links} == {}


def test_every_link_names_its_file_when_opened_from_disk(
    browser: Browser, demo: Path, kinds: dict[str, str]
) -> None:
    """A folder has no index of its own, so scripts complete each address."""
    lost = {}
    base = f"{demo.as_uri()}/"
    with visiting(browser, base) as visit:
        for path in kinds.values():
            if path == "404.html":
                continue
            page = visit.go(f"{path}index.html")
            links = page.evaluate(
                "[...document.querySelectorAll('a[href]')].map((link) => link.href.split('#')[0])"
            )
            assert links, path
            missing = [
                link
                for link in set(links)
                if link.startswith("file:") and not (demo / link.removeprefix(base)).is_file()
            ]
            if missing:
                lost[path] = missing
    assert lost == {}


def test_an_unpacked_copy_works_by_double_click(
    browser: Browser, demo: Path, tmp_path: Path
) -> None:
    """Without scripts by its links alone, and with them by search too."""
    site = standing_site(demo)
    assert site is not None
    with zip_copy(site.files, tmp_path / "copy.zip"):
        pass
    with zipfile.ZipFile(tmp_path / "copy.zip") as copy:
        copy.extractall(tmp_path)
    base = f"{(tmp_path / 'handbook').as_uri()}/"
    with visiting(browser, base, scripts=False) as visit:
        page = visit.go("index.html")
        page.locator("main a[href^='./winter-2026/']:visible").first.click()
        assert page.url.startswith(f"{base}winter-2026/")
        assert page.url.split("#")[0].endswith("/index.html")
        page.locator("a.brand").click()
        page.wait_for_url(f"{base}index.html")
    with visiting(browser, base) as visit:
        visit.page.context.set_offline(True)
        page = visit.go("index.html")
        page.locator("[data-open-search]").click()
        page.get_by_role("searchbox").fill("sleds m. 43")
        page.locator("[data-search-results] a").first.click()
        page.wait_for_url(f"{base}winter-2026/harbor/sleds-on-mitten-hill/index.html#hot-chocolate")
        assert [text for text in visit.errors if not EARLY_TYPEFACE.search(text)] == []
