"""Nothing that scripts put on a page is left in English: a site whose every message is in brackets.

What stands in no brackets after the scripts have run is in no catalogue (`tests/catalogues/pseudo.py`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Browser, Page, expect

from handbook.plan.model import Plan
from tests.browser.served import serving
from tests.browser.visits import visiting
from tests.catalogues.pseudo import bracketing, forgotten
from tests.whole_sites import make_site

pytestmark = pytest.mark.browser

CONTENT = Path(__file__).resolve().parents[2] / "content"
# Mail addresses, and what a table of formats writes: units, the last link of a list.
_DATA = re.compile(r"\S+@\S+|(?:[\d ]|min|h|s)+|and")
CLARINET = "winter-2026/lantern/part/clarinet/"


@pytest.fixture(scope="module")
def pseudo_site(demo_plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the demo in a language of brackets."""
    folder = tmp_path_factory.mktemp("pseudo") / "site"
    with bracketing():
        make_site(replace(demo_plan, languages=("en",)), CONTENT, folder)
    with serving(folder) as address:
        yield address


def at(moment: str) -> datetime:
    return datetime.fromisoformat(moment).replace(tzinfo=ZoneInfo("America/Chicago"))


def left_over(page: Page, *places: str) -> list[str]:
    """Give the words in places of a page that are in no brackets, and are no data or units."""
    script = "(found) => found.map((one) => one.outerHTML).join(' ')"
    html = [str(page.locator(place).evaluate_all(script)) for place in places]
    return [words for words in forgotten(" ".join(html)) if not _DATA.fullmatch(words)]


@pytest.mark.parametrize(
    "moment",
    [
        "2026-11-25T18:00",  # homework and the next rehearsal
        "2026-11-30T09:00",  # a rehearsal today
        "2026-10-22T17:30",  # the fall concert, from its first step on
        "2026-12-17T17:25",  # the winter concert
        "2026-12-18T12:00",  # it is over
        "2026-12-28T12:00",  # no school
        "2027-07-06T12:00",  # nothing is planned
    ],
)
def test_today(browser: Browser, pseudo_site: str, moment: str) -> None:
    with visiting(browser, pseudo_site, now=at(moment)) as visit:
        page = visit.go("")
        page.locator("[data-today][data-ready]").wait_for(state="attached")
        assert left_over(page, "main") == []
        page.evaluate("choice.keep('lantern')")
        page.wait_for_timeout(300)
        assert left_over(page, "main") == []
        page.evaluate("choice.keep('lantern', 'clarinet')")
        page.wait_for_timeout(300)
        assert left_over(page, "main") == []
        assert visit.errors == []


def test_the_choice_of_an_instrument(browser: Browser, pseudo_site: str) -> None:
    with visiting(browser, pseudo_site) as visit:
        page = visit.go("")
        page.locator("[data-choose=harbor]").click()
        expect(page.locator("[data-parts] button").first).to_be_visible()
        assert left_over(page, ".chooser") == []


def test_a_part_with_tonights_list_and_the_player(browser: Browser, pseudo_site: str) -> None:
    with visiting(browser, pseudo_site, now=at("2026-11-25T18:00")) as visit:
        page = visit.go(CLARINET)
        page.locator(".tonight [data-rows] > li").first.wait_for()
        page.locator(".tonight .play").first.click()
        expect(page.locator(".player")).to_be_visible()
        page.locator(".player [data-options]").click()
        for control in (
            "[data-clean]",
            "[data-clean]",
            "[data-clean]",
            "[data-next]",
            "[data-play]",
        ):
            page.locator(f".player {control}").first.click()
            assert left_over(page, "main", ".player", "[data-state]") == []
        page.locator(".tonight .tick input").first.check()
        assert left_over(page, "main") == []
        assert visit.errors == []


def test_what_to_know_first(browser: Browser, pseudo_site: str) -> None:
    with visiting(browser, pseudo_site, now=at("2026-10-27T18:00")) as visit:
        page = visit.go(CLARINET)
        page.locator("#know-first .know-start").click()
        dialog = page.locator("dialog[open]")
        assert left_over(page, "dialog[open]", "#know-first") == []
        dialog.locator("[data-round-show]").click()
        dialog.locator("[data-round-knew]").click()
        assert left_over(page, "dialog[open]", "#know-first") == []


@pytest.mark.parametrize("moment", ["2026-12-17T16:00", "2026-12-17T18:20", "2026-12-17T22:30"])
def test_concert_day_as_it_goes_on(browser: Browser, pseudo_site: str, moment: str) -> None:
    with visiting(browser, pseudo_site, now=at(moment)) as visit:
        for path in ("winter-2026/concert/", "winter-2026/concert/crew/", CLARINET):
            page = visit.go(path)
            page.wait_for_load_state("networkidle")
            expect(page.locator("[data-live-steps], .concert-today").first).to_be_attached()
            assert left_over(page, "main") == [], path


def test_search(browser: Browser, pseudo_site: str) -> None:
    with visiting(browser, pseudo_site) as visit:
        page = visit.go("")
        page.locator("[data-open-search]").click()
        for query in ("", "fermata", "pick-up", "zzzzqqqq"):
            page.get_by_role("searchbox").fill(query)
            page.locator(f'[data-search][data-answered="{query}"]').wait_for()
            # What was found shows stretches of text, and a bracket may lie outside.
            places = (".search-form", "[data-search-state]", ".search-key", "[data-search-help]")
            assert left_over(page, *places) == [], query


@pytest.mark.parametrize(
    "path", ["calendar/", "past/", "events/", "subscribe/", "winter-2026/", "winter-2026/lantern/"]
)
def test_pages_that_follow_the_day(browser: Browser, pseudo_site: str, path: str) -> None:
    with visiting(browser, pseudo_site) as visit:
        page = visit.go(path)
        page.wait_for_load_state("networkidle")
        assert left_over(page, "main", ".masthead") == []
