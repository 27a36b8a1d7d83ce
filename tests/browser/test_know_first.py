"""What to know first: ticked on the device, asked card by card, less of it from stage to stage."""

from __future__ import annotations

import io
from datetime import datetime
from zoneinfo import ZoneInfo

import pypdf
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.axe import WCAG_AND_BEST_PRACTICE, findings, findings_in_dark
from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

TRUMPET = "winter-2026/beacon/part/trumpet/"
SCHOOL = ZoneInfo("America/Chicago")
# Stages of the demo's Beacon Band: decode, then build, then polish.
FIRST, LATER, LAST = (
    datetime(*day, 18, tzinfo=SCHOOL) for day in ((2026, 10, 28), (2026, 11, 17), (2026, 12, 10))
)


def listed(page: Page, group: str) -> list[str]:
    """The cards of a group that are listed, opened or not."""
    found = page.locator(f"[data-know-group={group}] > ul > li")
    shown: list[str] = found.evaluate_all(
        "all => all.filter((one) => getComputedStyle(one).display !== 'none').map((one) => one.dataset.know)"
    )
    return shown


def test_what_is_known_is_ticked_and_leaves_the_list_after_the_first_stage(
    browser: Browser, site: str
) -> None:
    with visiting(browser, site, now=FIRST) as visit:
        page = visit.go(TRUMPET)
        assert page.locator("#know-first").get_attribute("open") is not None
        assert page.locator("[data-know-place] > #know-first").count() == 0
        page.locator("[data-know-group=notes] > summary").click()
        page.get_by_role("checkbox", name="I know: E flat").check()
        both = ["note/Bb", "note/Eb"]
        assert listed(page, "notes")[:2] == both
        page = visit.go(TRUMPET)
        expect(page.locator("[data-know-group=notes] [data-know-count]")).to_have_text("5 left")
        page.clock.set_fixed_time(LATER)
        page = visit.go(TRUMPET)
        assert page.locator("#know-first").get_attribute("open") is None
        assert page.locator(".tonight ~ [data-know-place] > #know-first").count() == 1
        assert "note/Eb" not in listed(page, "notes")
        page.locator("#know-first > summary").click()
        page.get_by_role("button", name="Show all").click()
        assert listed(page, "notes")[:2] == both
        page.clock.set_fixed_time(LAST)
        page = visit.go(TRUMPET)
        page.get_by_text("Goal tempos").first.click()
        shown = page.locator("[data-know-group]").filter(visible=True)
        assert shown.evaluate_all("all => all.map((one) => one.dataset.knowGroup)") == ["tempos"]
        assert page.locator("[data-know-group=tempos] .know-goal").first.is_visible()
        assert visit.errors == []


def test_a_card_hides_its_answer_and_comes_again_if_it_was_missed(
    browser: Browser, site: str
) -> None:
    with visiting(browser, site, now=FIRST) as visit:
        page = visit.go(TRUMPET)
        page.locator("[data-know-group=keys] > summary").click()
        page.get_by_role("button", name="Test yourself: Keys").press("Enter")
        asked: list[str] = []
        round_ = page.locator("dialog.know-round")
        # Three keys; the first is missed, so that four are asked.
        for turn in range(4):
            asked.append(round_.locator("[data-round-question]").inner_text())
            assert round_.locator("[data-round-answer]").is_hidden()
            assert findings(page, WCAG_AND_BEST_PRACTICE, "dialog.know-round") == []
            expect(round_.get_by_role("button", name="Show the answer")).to_be_focused()
            page.keyboard.press("Enter")
            expect(round_.locator("[data-round-answer]")).to_be_focused()
            page.keyboard.press("Tab")
            expect(round_.get_by_role("button", name="Knew it")).to_be_focused()
            if turn == 0:
                page.keyboard.press("Tab")
            page.keyboard.press("Enter")
        assert asked[3] == asked[0]
        assert len(set(asked)) == 3
        expect(round_.get_by_text("That was all of them.")).to_be_visible()
        assert findings_in_dark(page, "dialog.know-round") == []
        page.keyboard.press("Escape")
        expect(page.get_by_role("button", name="Test yourself: Keys")).to_be_focused()
        assert page.locator("[data-know-group=keys] input:checked").count() == 3
        assert findings(page, WCAG_AND_BEST_PRACTICE, "#know-first") == []
        assert visit.errors == []


def test_pencil_marks_print_on_one_sheet_and_nothing_else_with_them(
    browser: Browser, site: str
) -> None:
    with visiting(browser, site, now=FIRST) as visit:
        page = visit.go(TRUMPET)
        page.locator(".know-pencil > summary").click()
        page.evaluate("window.print = () => undefined")
        for paper in ("Letter", "A4"):  # after each, the browser says that it has printed
            page.get_by_role("button", name="Print this list").click()
            read = pypdf.PdfReader(io.BytesIO(page.pdf(format=paper)))
            assert len(read.pages) == 1
            words = read.pages[0].extract_text()
            assert "Trumpet, Beacon Band, Winter cycle" in words
            assert "Hold the first valve. Trill the second." in words
            assert "Practice this week" not in words
        assert page.locator(".pencil-print").count() == 0


def test_each_card_opens_without_scripts(browser: Browser, site: str) -> None:
    with visiting(browser, site, scripts=False) as visit:
        page = visit.go(TRUMPET)
        page.locator("#know-first > summary").click()
        page.locator("[data-know-group=words] > summary").click()
        page.locator("[data-know='word/soli'] summary").click()
        assert page.get_by_text("One section has the tune.").is_visible()
