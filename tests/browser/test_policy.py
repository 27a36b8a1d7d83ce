"""Everything works under the strictest content policy that allows the site itself.

That no page breaks it as it opens is seen in test_every_page.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.links import file_at
from tests.browser.policy import BREACHES, NOTE_BREACHES, POLICY
from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

_META = re.compile(r'<meta http-equiv="Content-Security-Policy" content="([^"]+)">')


def test_every_page_carries_the_policy_before_anything_it_rules(
    demo: Path, paths: list[str]
) -> None:
    for path in paths:
        page = file_at(demo, path).read_text()
        found = _META.search(page)
        assert found, path
        assert found[1] == POLICY
        assert page.index("<script") > found.start()
        assert (
            page.index(
                "<link rel=stylesheet" if "<link rel=stylesheet" in page else 'rel="stylesheet"'
            )
            > found.start()
        )


def test_no_page_holds_script_or_style_of_its_own(demo: Path, paths: list[str]) -> None:
    inline = re.compile(
        r"<style|\sstyle=\"|\son[a-z]+=\"|javascript:|<script(?![^>]*(?:\ssrc=|application/))[^>]*>",
        re.IGNORECASE,
    )
    found = {
        path: match[0]
        for path in paths
        if (match := inline.search(file_at(demo, path).read_text()))
    }
    assert found == {}


def test_all_features_work_under_it(browser: Browser, guarded: str) -> None:
    with visiting(browser, guarded) as visit:
        page = visit.page
        page.add_init_script(NOTE_BREACHES)
        visit.go("")
        assert page.evaluate(
            "document.fonts.ready.then(() => document.fonts.check('1em \"Handbook Text\"'))"
        )
        expect(page.locator(".concert-card .big-figure")).to_have_text("22 days")
        page.get_by_role("button", name="Harbor Band").click()
        expect(page.locator("#lantern")).to_be_hidden()
        page.locator("[data-theme-choice] label", has_text="Dark").click()
        assert page.evaluate("document.documentElement.dataset.theme") == "dark"
        page.locator("[data-open-search]").click()
        page.get_by_role("searchbox").fill("fermata")
        page.locator("[data-search-results] a").first.click()
        page.wait_for_url("**/words/#fermata")
        visit.go("winter-2026/harbor/")
        page.locator("details:has(> #r20) > summary").click()
        expect(page.locator("details:has(> #r20) .agenda")).to_be_visible()
        visit.go("calendar/")
        page.locator(".filter label", has_text="Harbor Band").click()
        page.get_by_role("button", name="Show dates that are over").click()
        assert page.evaluate(BREACHES) is None
        assert visit.errors == []
