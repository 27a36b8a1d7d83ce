"""A reader comes back after publications, and is told what is new since the last look."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.axe import WCAG_AND_BEST_PRACTICE, findings, findings_in_dark
from tests.browser.served import serving
from tests.browser.visits import AN_EARLIER_MORNING, visiting
from tests.publications import Bytes, MemoryLedger, copied, edit

pytestmark = pytest.mark.browser

TWO_BANDS = Path(__file__).parents[1] / "sites/two-bands/content"
FIRST = datetime(2026, 11, 16, 21, 0, tzinfo=UTC)
FOLD = ".since details"


def _put(files: Bytes, folder: Path) -> None:
    for path, content in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)


def test_who_comes_back_is_told_what_is_new(browser: Browser, tmp_path: Path) -> None:
    content, site = copied(TWO_BANDS, tmp_path / "content"), tmp_path / "site"
    winter, ledger = content / "cycles/winter", MemoryLedger(content)
    _put(ledger.publish(FIRST), site)
    with serving(site) as base, visiting(browser, base) as visit:
        page = visit.go("")
        expect(page.locator(FOLD)).to_have_count(0)  # the first publication has no changes
        page.get_by_role("link", name="All changes").click()
        expect(page.locator("main")).to_contain_text("Nothing has changed since")

        edit(winter / "concert.yaml", "doors: 6:40 pm", "doors: 6:30 pm")
        edit(winter / "cycle.yaml", "end: 4:30 pm", "end: 4:25 pm")  # of Ferry Band alone
        _put(ledger.publish(FIRST + timedelta(days=4)), site)
        page = visit.go("")
        fold, name = page.locator(FOLD), page.locator("[data-since-name]")
        expect(name).to_have_text("New since you last looked")
        expect(fold.locator("li:visible")).to_have_count(2)
        assert (
            findings(page, WCAG_AND_BEST_PRACTICE, ".since") + findings_in_dark(page, ".since")
            == []
        )
        page.get_by_role("button", name="Ferry Brass").click()
        page.get_by_role("button", name="No instrument").click()
        expect(fold.locator("li:visible")).to_have_count(1)
        expect(fold.locator("li:visible")).to_contain_text("doors: now 6:30 pm, before 6:40 pm")
        page.get_by_role("button", name="Got it").click()
        expect(fold).to_be_hidden()
        page.reload()
        expect(page.locator(FOLD)).to_be_hidden()
        assert page.evaluate("Object.keys(localStorage).sort()") == [
            *("handbook-ensemble", "handbook-instrument-brass", "handbook-seen-/")
        ]

        # The page of changes remembers the band, and the concert's page has a note for two weeks.
        page = visit.go("changes/")
        assert findings(page, WCAG_AND_BEST_PRACTICE, "main") + findings_in_dark(page, "main") == []
        expect(page.get_by_label("Ferry Brass")).to_be_checked()
        expect(page.get_by_role("heading", name="For Ferry Band and Ferry Brass")).to_be_visible()
        expect(page.get_by_role("heading", name="For Ferry Band", exact=True)).to_be_hidden()
        note = visit.go("winter/concert/").locator("[data-news]")
        expect(note).to_contain_text("Changed Nov 20.")
        page.clock.set_fixed_time(AN_EARLIER_MORNING + timedelta(days=10))  # December 5
        page.reload()
        expect(note).to_be_hidden()
        assert visit.errors == []

    with serving(site) as base, visiting(browser, base, scripts=False) as visit:
        page = visit.go("")
        page.locator(FOLD).get_by_text("Changed Nov 20").click()
        expect(page.locator(f"{FOLD} li:visible")).to_have_count(2)
    with serving(site) as base, visiting(browser, base) as visit:
        expect(visit.go("").locator(FOLD)).to_be_hidden()  # a first visit
