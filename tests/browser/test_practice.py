"""A student's own part and this week's ticks: remembered on the device, and only there."""

from __future__ import annotations

from datetime import datetime
from urllib.parse import unquote
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.visits import AN_EARLIER_MORNING, DESK, SCHEMES, visiting

pytestmark = pytest.mark.browser

CLARINET = "winter-2026/lantern/part/clarinet/"
LANTERN = '[data-ensemble-parts="lantern"]'
A_WEEK_LATER = datetime(2026, 12, 2, 9, tzinfo=ZoneInfo("America/Chicago"))


def own_part(page: Page) -> str:
    """The band and the instrument that the first page answers for; nothing while it asks."""
    line = page.locator("[data-chosen-name]").locator("visible=true")
    return line.inner_text() if line.count() else ""


def test_an_instrument_is_chosen_once_and_stands_on_the_first_page(
    browser: Browser, site: str
) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("")
        assert own_part(page) == ""
        page = visit.go("winter-2026/lantern/")
        card = page.locator(LANTERN).locator("visible=true").first
        card.get_by_text("Choose your instrument").click()
        card.get_by_role("link", name="Clarinet").click()
        page.wait_for_url(f"**/{CLARINET}")
        page = visit.go("")
        assert own_part(page) == "Lantern Band, Clarinet"
        page.get_by_role("link", name="Your part: Clarinet").click()
        page.wait_for_url(f"**/{CLARINET}")
        assert visit.errors == []


def test_a_part_can_be_kept_from_its_own_page(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go(CLARINET)
        page.get_by_role("button", name="This is my part").click()
        expect(page.get_by_role("button", name="This is my part")).to_have_count(0)
        assert page.evaluate("localStorage.getItem('handbook-instrument-lantern')") == "clarinet"
        assert own_part(visit.go("")) == "Lantern Band, Clarinet"


def test_looking_at_a_friends_part_changes_nothing(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go(CLARINET)
        page.get_by_role("button", name="This is my part").click()
        visit.go("winter-2026/lantern/part/trumpet/")
        assert own_part(visit.go("")) == "Lantern Band, Clarinet"


def test_tonight_and_the_list_of_this_week_are_on_the_first_screen(
    browser: Browser, site: str
) -> None:
    with visiting(browser, site) as visit:
        page = visit.go(CLARINET)
        for text in (
            "Tonight",
            "Week of Mon, Nov 23",
            "The Snowplow Parade",
            "Engine start",
        ):
            box = page.get_by_text(text, exact=False).locator("visible=true").first.bounding_box()
            assert box is not None, text
            assert box["y"] + box["height"] < 844, text
        assert "C major" in page.locator(".practice-piece").first.inner_text()


def test_ticks_are_kept_for_their_week_alone(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go(CLARINET)
        box = page.get_by_role("checkbox", name="Practiced: First tune", exact=True)
        box.check()
        page.reload()
        expect(box).to_be_checked()
        expect(page.get_by_role("checkbox", name="Practiced: Stuck")).not_to_be_checked()
        visit.go("winter-2026/lantern/part/trumpet/")
        expect(box).not_to_be_checked()
        page.clock.set_fixed_time(A_WEEK_LATER)
        visit.go(CLARINET)
        expect(box).not_to_be_checked()
        page.clock.set_fixed_time(AN_EARLIER_MORNING)
        visit.go(CLARINET)
        expect(box).to_be_checked()
        kept = "JSON.parse(localStorage.getItem('handbook-ticks-winter-2026-lantern-clarinet'))"
        assert page.evaluate(kept) == {"days": {"2026-11-25": ["snowplow-parade/first-tune"]}}
        box.uncheck()
        assert page.evaluate(kept) == {"days": {}}


# Words that are seen, without what only screen readers say and what lies in closed folds.
WORDS = """
() => {
  const walker = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  let text = "";
  while (walker.nextNode()) {
    const item = walker.currentNode.parentElement;
    const { width, height } = item.getBoundingClientRect();
    if (!item.closest("script, template, .vh") && item.checkVisibility() && width && height) text += ` ${walker.currentNode.data}`;
  }
  return text.split(/\\s+/).filter((word) => /[\\p{L}\\p{N}]/u.test(word)).length;
}
"""


@pytest.mark.parametrize("day", ["2026-10-26", "2026-11-17"])
def test_a_page_is_short_until_something_is_opened(day: str, browser: Browser, site: str) -> None:
    """At phone width, in the first stage and a later one, of the parts with most on them."""
    with visiting(browser, site, now=datetime.fromisoformat(f"{day}T18:00-06:00")) as visit:
        for part in ("trumpet", "timpani", "xylophone"):
            page = visit.go(f"winter-2026/beacon/part/{part}/")
            page.wait_for_load_state("networkidle")
            assert page.evaluate("document.documentElement.scrollHeight") <= 2700, part
            assert 100 < page.evaluate(WORDS) <= 400, part


def test_tonights_list_leads_and_its_ticks_are_the_weeks(browser: Browser, site: str) -> None:
    """Lantern's evening of Wed, Nov 25, from what the same page reckons in Python."""
    with visiting(browser, site) as visit:
        page = visit.go(CLARINET)
        tonight = page.locator(".tonight")
        rows = tonight.locator("[data-rows] > li")
        expect(rows.first).to_be_visible()
        minutes = [int(text) for text in rows.locator("[data-number]").all_inner_texts()]
        assert sum(minutes) == int(tonight.locator("h2 [data-number]").inner_text())
        kept_free = tonight.locator(".tonight-room > [data-is-picked]").get_attribute("class") or ""
        assert f"room-{rows.count()}" in kept_free.split()
        assert (box := rows.last.bounding_box()) is not None
        assert box["y"] + box["height"] < 844
        row = rows.filter(has=page.locator("[data-piece]")).first
        name = row.locator("[data-name]").inner_text()
        for button in row.get_by_role("button").all():
            assert (size := button.bounding_box()) is not None
            assert min(size["width"], size["height"]) >= 44
        row.get_by_role("link", name=name).click()
        opened = page.locator(f"[id='{row_id(page)}']")
        expect(opened).to_have_attribute("open", "")
        page.get_by_role("checkbox", name=f"Practiced tonight: {name}", exact=True).check()
        of_the_week = page.get_by_role("checkbox", name=f"Practiced: {name}", exact=True)
        assert any(box.is_checked() for box in of_the_week.all())
        for tick in tonight.get_by_role("checkbox").all():
            tick.check()
        expect(tonight.get_by_role("status")).to_have_text("All done for tonight.")
        assert visit.errors == []


def test_the_large_tempo_of_tonight_is_the_one_that_plays(browser: Browser, site: str) -> None:
    """In the cycle's last week Harbor's steps begin below the goal, by the demo's weeks."""
    evening = datetime(2026, 12, 10, 20, tzinfo=ZoneInfo("America/Chicago"))
    with visiting(browser, site, now=evening) as visit:
        page = visit.go("winter-2026/harbor/part/trumpet/")
        rows = page.locator(".tonight [data-rows] > li").filter(has=page.locator(".mark"))
        expect(rows.first).to_be_visible()
        small = []
        for row in rows.all():
            large = row.locator(".mark b").inner_text()
            small.append(row.locator("[data-tempo] .small").inner_text().split()[0])
            row.locator(".play").click()
            expect(page.locator("#player-bar [data-mark]")).to_have_text(large)
            assert row.evaluate("(row) => row.scrollWidth <= row.clientWidth")
        assert small
        assert set(small) <= {"goal", "this", "the"}
        assert visit.errors == []
        told = [" ".join(text.split()) for text in rows.locator("[data-tempo]").all_inner_texts()]
        page.evaluate(
            """localStorage.setItem("handbook-ensemble", "harbor");
            localStorage.setItem("handbook-instrument-harbor", "trumpet");"""
        )
        page = visit.go("")
        on_today = page.locator("[data-tonight-list] .target-tempo")
        expect(on_today.first).to_be_visible()
        assert [" ".join(text.split()) for text in on_today.all_inner_texts()] == told


def test_on_its_day_the_concert_leads_with_what_is_next(browser: Browser, site: str) -> None:
    """The steps of Beacon's day as its concert page has them; the day after, the cycle is over."""
    said = {
        "2026-12-17T16:00": "5:40 pm Be at the bus",
        "2026-12-17T17:45": "5:55 pm Buses leave",
        "2026-12-17T22:00": "It is over. Thank you!",
    }
    trumpet = "winter-2026/beacon/part/trumpet/"
    for moment, next_step in said.items():
        with visiting(browser, site, now=datetime.fromisoformat(f"{moment}-06:00")) as visit:
            line = visit.go(trumpet).locator(".concert-today")
            expect(line).to_contain_text(next_step)
            expect(line.get_by_role("link", name="Concert today")).to_be_in_viewport()
            assert visit.errors == []
    with visiting(browser, site, now=datetime.fromisoformat("2026-12-18T09:00-06:00")) as visit:
        page = visit.go(trumpet)
        expect(page.locator(".concert-today")).to_be_hidden()
        expect(page.locator(".practice h2")).to_have_text("The cycle is over", use_inner_text=True)
        assert page.get_by_role("checkbox").count() == 0


def test_the_lists_of_a_part_end_and_begin_at_one_line(browser: Browser, site: str) -> None:
    """Tonight's rows and the week's, and the words of a row that is ticked."""
    edges = (
        "item => { const { left, right } = item.getBoundingClientRect(); return [left, right]; }"
    )
    for width in (390, 768, DESK):
        with visiting(browser, site, width=width) as visit:
            page = visit.go("winter-2026/beacon/part/trumpet/")
            rows = page.locator(".tonight-rows > li")
            expect(rows.first).to_be_visible()
            week = page.locator(".practice .targets > li").first
            assert rows.first.evaluate(edges) == pytest.approx(week.evaluate(edges), abs=0.6), width
            line = "item => getComputedStyle(item).textDecorationLine"
            around = f"item => ({line})(item.parentElement)"
            rows.first.get_by_role("checkbox").check()
            assert "line-through" in rows.first.locator(".target-name a").first.evaluate(line)
            words = rows.first.locator(".target-name .small").first
            assert "line-through" in (words.evaluate(line), words.evaluate(around))


def row_id(page: Page) -> str:
    """The place that the page's address names."""
    return unquote(page.url.partition("#")[2])


def test_what_an_address_names_is_open(browser: Browser, site: str) -> None:
    """A passage's row, a piece's fold, and an exercise of another week than this."""
    with visiting(browser, site) as visit:
        page = visit.go(CLARINET)
        shut = page.locator("#snowplow-parade-first-tune")
        expect(shut.get_by_text("At home.")).to_be_hidden()
        other = page.locator("[data-weeks][hidden] details").first.get_attribute("id")
        for place in ("snowplow-parade-first-tune", "snowplow-parade", "tuning", other):
            page.goto("about:blank")
            page = visit.go(f"{CLARINET}#{place}")
            named = page.locator(f"[id='{place}']")
            expect(named).to_have_attribute("open", "")
            expect(named.locator("p").filter(visible=True).first).to_be_visible()
            expect(named).to_be_in_viewport()
        page.goto(f"{site}{CLARINET}#snowplow-parade-first-tune")
        expect(shut.get_by_text("At home.")).to_be_visible()


def test_nothing_of_it_leaves_the_device(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go(CLARINET)
        page.wait_for_load_state("networkidle")
        before = len(visit.requested)
        page.get_by_role("button", name="This is my part").click()
        page.get_by_role("checkbox").first.check()
        page.wait_for_timeout(300)
        assert visit.requested[before:] == []
        assert page.context.cookies() == []
        assert all(url.startswith(site) for url in visit.requested)


def test_boxes_can_be_reached_and_are_large_enough_to_tap(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go(CLARINET)
        for label in page.locator(".tick").locator("visible=true").all():
            box = label.bounding_box()
            assert box is not None
            assert min(box["width"], box["height"]) >= 44
        first = page.get_by_role("checkbox").first
        first.focus()
        page.keyboard.press("Space")
        expect(first).to_be_checked()


def test_without_scripts_the_goals_and_all_parts_stand_there(browser: Browser, site: str) -> None:
    with visiting(browser, site, scripts=False) as visit:
        page = visit.go(CLARINET)
        text = page.locator("main").inner_text()
        assert "First tune" in text
        assert "= 104" in " ".join(text.split())
        assert page.get_by_role("checkbox").count() == 0
        assert page.get_by_role("button").count() == 0
        page = visit.go("winter-2026/lantern/")
        page.locator(f"{LANTERN} summary").first.click()
        expect(page.locator(LANTERN).first.get_by_role("link", name="Tuba")).to_be_visible()


def test_a_part_draws_its_music_in_the_pages_ink(browser: Browser, site: str) -> None:
    inks = []
    with visiting(browser, site) as visit:
        page = visit.go(CLARINET)
        drawing = page.locator(".engraved").first
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            inks.append(drawing.evaluate("item => getComputedStyle(item).fill"))
            assert inks[-1] == page.evaluate("getComputedStyle(document.documentElement).color")
            box = drawing.bounding_box()
            assert box is not None
            assert box["width"] <= 390
    assert inks[0] != inks[1]
