"""The stand view under a director's hand: the page turns when it should, and nothing is taken away."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.binder.stand_content import stand_files
from tests.browser.axe import ENHANCED, WCAG_AND_BEST_PRACTICE, findings
from tests.browser.tablet import Tablet, stand_address
from tests.content_folders import changed, write_folder

pytestmark = pytest.mark.browser

# Lantern meets on Monday from 10:05 to 10:50, and harbor then from 10:52; on a Tuesday evening
# lantern has sectionals in two rooms.
EXTRA = """\
  - {ensemble: harbor, date: Mon 2026-10-26, start: 10:52, end: 11:30}
  - ensemble: lantern
    date: Tue 2026-11-03
    start: 18:30
    end: 19:30
    kind: sectional
    fundamentals: none
    sections:
      flutes: {name: Flutes, who: [flute], room: hut, passages: [opening]}
      others: {name: Clarinets and trumpets, who: [clarinet, trumpet], room: band-room, passages: [chase]}
"""
# Harbor plays first: 7:00 pm less 5, 5, 20 and 10 minutes is 6:20 pm, when it must be ready.
ALLOWANCES = "allowances: {unpack: 10, warm_up: 20, walk: 5, in_place: 5, walk_back: 5, pack: 10, to_door: 5}\n"


@pytest.fixture(scope="module")
def tablet(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Tablet]:
    files = stand_files()
    files["cycles/winter/concert.yaml"] += ALLOWANCES
    files = changed(files, "cycles/winter/cycle.yaml", "slots:", f"{EXTRA}slots:")
    files = changed(
        files,
        "cycles/winter/music.yaml",
        "    title: Button Comets\n",
        "    title: Button Comets\n    private: Borrow the ratchet\n",
    )
    folder = tmp_path_factory.mktemp("podium") / "content"
    opened = Tablet(browser, stand_address(write_folder(folder, files)))
    yield opened
    opened.close()
    assert opened.faults == []


def band(page: Page) -> str:
    return page.locator(".top .band").inner_text()


def top_of_card(page: Page) -> float:
    return float(page.evaluate("document.querySelector('.card').getBoundingClientRect().top"))


# --- The log and the turn of the page -------------------------------------------------------------


def test_a_log_is_not_taken_away_while_it_is_written(tablet: Tablet) -> None:
    """Tapped at 10:50:40; harbor would stand there by itself two minutes before its 10:52."""
    page = tablet.at("2026-10-26T10:49:30-05:00")
    tablet.tap("log not opening")
    tablet.later("2026-10-26T10:50:05-05:00")
    assert band(page) == "Lantern Band"
    expect(page.locator('[data-key="to now"]')).to_have_text("Harbor Band begins in 2 min")
    tablet.tap("log not chase")
    tablet.later("2026-10-26T10:51:02-05:00")
    assert band(page) == "Lantern Band"
    expect(page.locator('[data-key="to now"]')).to_have_text("Harbor Band begins in 1 min")
    page.evaluate("window.scrollTo(0, 600)")
    tablet.tap("to now")
    assert band(page) == "Harbor Band"
    assert page.evaluate("window.scrollY") == 0
    # While harbor plays, one button of the head saves the other band's log.
    tablet.later("2026-10-26T10:53:00-05:00")
    page.evaluate("redraw()")
    with page.expect_download() as saving:
        tablet.tap("save in head")
    assert saving.value.suggested_filename == "2026-10-26-lantern.yaml"
    expect(page.locator('[data-key="save in head"]')).to_have_count(0)


def test_the_next_class_comes_by_itself_and_from_its_top(tablet: Tablet) -> None:
    page = tablet.at("2026-10-26T10:49:30-05:00")
    page.evaluate("window.scrollTo(0, 600)")
    tablet.later("2026-10-26T10:50:05-05:00")
    assert band(page) == "Harbor Band"
    assert page.evaluate("window.scrollY") == 0


def test_a_new_block_comes_into_view_but_never_under_a_hand(tablet: Tablet) -> None:
    page = tablet.at("2026-10-26T10:14:40-05:00")
    page.evaluate("window.scrollTo(0, 700)")
    tablet.later("2026-10-26T10:15:00-05:00")  # notices begin
    assert 0 <= top_of_card(page) < 400
    page.evaluate("window.scrollTo(0, 700)")
    page.clock.set_fixed_time("2026-10-26T10:17:57-05:00")
    page.mouse.move(5, 300)
    page.mouse.down()
    page.mouse.up()
    page.wait_for_timeout(350)  # as long as a finger is waited for
    tablet.later("2026-10-26T10:18:00-05:00")
    assert page.evaluate("shown.on") == 3
    assert top_of_card(page) < 0


def test_past_the_bell_it_says_how_long_and_who_waits(tablet: Tablet) -> None:
    page = tablet.at("2026-10-26T10:46:00-05:00")
    tablet.tap("stay")
    tablet.later("2026-10-26T10:51:30-05:00")
    expect(page.locator(".bell")).to_have_text("1 min past the end; Harbor Band at 10:52 am")
    tablet.later("2026-10-26T10:53:10-05:00")
    expect(page.locator(".bell")).to_have_text("3 min past the end; Harbor Band at 10:52 am")


# --- What was kept, and what is to be in sight ----------------------------------------------------


def test_a_kept_tempo_stands_there_after_a_reload(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:20:30-05:00")
    tablet.tap("card slower opening")
    reached = page.locator('[data-key="card reached opening"]')
    reached.tap()
    kept = reached.inner_text()
    assert kept.startswith("✓ Reached ")
    page.reload()
    expect(reached).to_have_text(kept)
    expect(reached).to_have_attribute("aria-pressed", "true")
    log = page.locator('[data-key="log reached opening"]')
    expect(log).to_have_attribute("aria-pressed", "true")


def test_private_notes_are_in_the_card_before_class_and_in_set_up(tablet: Tablet) -> None:
    page = tablet.at("2026-10-26T10:00:00-05:00")
    expect(page.locator(".card .own")).to_contain_text("Borrow the ratchet")
    tablet.later("2026-10-26T10:06:00-05:00")
    expect(page.locator(".card.is-on .own")).to_contain_text("Borrow the ratchet")
    expect(page.locator(".own")).to_have_count(1)
    tablet.later("2026-10-26T10:20:00-05:00")
    expect(page.locator(".side .own")).to_contain_text("Borrow the ratchet")


def test_rooms_of_sectionals_stand_large_in_the_card(tablet: Tablet) -> None:
    """6:30 pm and 4, 6 and 3 minutes: sectionals begin at 6:43 pm, five minutes before is 6:38 pm."""
    page = tablet.at("2026-11-03T18:37:50-06:00")
    rooms = page.locator(".card .rooms li")
    expect(rooms).to_have_count(0)
    tablet.later("2026-11-03T18:38:00-06:00")
    expect(rooms).to_have_text(["Flutes: Music hut", "Clarinets and trumpets: Band room"])
    tablet.later("2026-11-03T18:44:00-06:00")
    expect(rooms).to_have_count(2)
    assert page.evaluate("parseFloat(getComputedStyle(document.querySelector('.rooms li')).fontSize)") >= 28  # fmt: skip
    tablet.later("2026-11-03T19:28:00-06:00")
    expect(rooms).to_have_count(0)


# --- Late, and the hand on the baton ----------------------------------------------------------------


def test_it_says_how_far_behind_class_is(tablet: Tablet) -> None:
    """Notices are planned for 10:15 to 10:18."""
    page = tablet.at("2026-10-21T10:16:00-05:00")
    behind = page.locator(".behind")
    expect(behind).to_be_hidden()
    tablet.tap("stay")
    planned = page.locator(".line-time").all_inner_texts()
    tablet.later("2026-10-21T10:22:10-05:00")
    expect(behind).to_have_text("Behind by 4 min")
    # What is ahead stands at the hours that it would have if class went on now.
    hours = page.locator(".line-time").all_inner_texts()
    assert hours[:3] == planned[:3]
    assert hours[3] == "10:22 am"
    assert hours[-1] == planned[-1], "the close"
    tablet.later("2026-10-21T10:23:05-05:00")
    assert page.locator(".line-time").all_inner_texts()[3] == "10:23 am"
    expect(behind).to_have_text("Behind by 5 min")
    tablet.tap("next")
    assert page.locator(".line-time").all_inner_texts()[3] == "10:23 am"
    expect(page.locator(".pace-row .pace-button")).to_have_text(["Next now", "Stay", "Late …"])


def test_what_helps_when_late_and_where_sections_go_is_read_by_all(tablet: Tablet) -> None:
    page = tablet.at("2026-11-03T18:39:00-06:00")  # the rooms of the sectionals are in the card
    tablet.tap("late")
    expect(page.locator(".rooms")).to_be_visible()
    found = findings(page, WCAG_AND_BEST_PRACTICE) + findings(page, ENHANCED)
    page.emulate_media(color_scheme="dark")
    found += findings(page, ENHANCED)
    page.emulate_media(color_scheme="light")
    assert found == []


def test_a_pedal_that_turns_pages_goes_on_and_back(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:16:00-05:00")
    at = "shown.on"
    assert page.evaluate(at) == 2
    page.keyboard.press("PageDown")
    assert page.evaluate(at) == 3
    page.keyboard.press("ArrowRight")  # within two seconds it is the same foot
    assert page.evaluate(at) == 3
    page.clock.set_fixed_time("2026-10-21T10:16:03-05:00")
    page.locator("#log-note").focus()
    page.keyboard.press("ArrowRight")
    assert page.evaluate(at) == 3
    page.locator("#log-note").blur()
    page.keyboard.press("ArrowLeft")
    assert page.evaluate(at) == 2
    page = tablet.at("2026-10-21T09:55:00-05:00")
    page.keyboard.press("PageDown")
    assert page.evaluate(at) == -1, "before class it is a key that scrolls"


def test_joins_are_kept_row_by_row_or_all_at_once_above_what_to_watch(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:44:30-05:00")
    rows = page.locator(".card .reached")
    expect(rows).to_have_count(2)
    lowest = max(one["y"] for one in (row.bounding_box() for row in rows.all()) if one)
    notes = page.locator(".card .notes").first.bounding_box()
    assert notes is not None
    assert lowest < notes["y"]
    every = page.locator('[data-key="all as planned"]')
    every.tap()
    for row in rows.all():
        expect(row).to_have_attribute("aria-pressed", "true")
    kept = page.evaluate("Object.keys(shown.went.reached).sort()")
    assert kept == ["chase", "opening"]
    every.tap()
    assert page.evaluate("Object.keys(shown.went.reached)") == []


def test_thanks_come_first_in_the_log_and_its_button_stays_in_sight(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:51:00-05:00")
    keys = page.locator(".log button").evaluate_all("all => all.map((one) => one.dataset.key)")
    assert keys[0] == "log thanked"
    tablet.tap("log thanked")
    expect(page.locator(".log-text")).to_contain_text("thanked: [")
    page.set_viewport_size({"width": 820, "height": 360})
    page.locator(".log-thanked").evaluate("(one) => one.scrollIntoView({ block: 'start' })")
    expect(page.locator('[data-key="save log"]')).to_be_in_viewport(ratio=1)
    page.set_viewport_size({"width": 820, "height": 1180})


def test_what_stops_all_sound_lies_over_no_other_band(tablet: Tablet) -> None:
    page = tablet.at("2026-10-26T10:20:30-05:00")
    page.locator(".drone").first.tap()
    stop, head = page.locator("[data-stop]"), page.locator(".stand-head")
    expect(stop).to_be_visible()
    lies, below = stop.bounding_box(), head.bounding_box()
    assert lies is not None
    assert below is not None
    assert lies["y"] + lies["height"] <= below["y"]
    assert lies["height"] >= 44  # WCAG 2.2 SC 2.5.5
    stop.tap()


# --- A device whose clock is off -------------------------------------------------------------------


def test_the_bell_sets_the_clock_for_the_day_in_all_windows(tablet: Tablet) -> None:
    """The class ends at 10:50; the device says 10:47:20 when the bell rings."""
    page = tablet.at("2026-10-26T10:47:20-05:00")
    expect(page.locator(".clock")).to_have_text("10:47 am")
    other = page.context.new_page()
    other.goto(tablet.address)
    page.locator("[data-bell]").tap()
    assert page.evaluate("clockAt(shown.rehearsal, moment())") == "10:50 am"
    tablet.later("2026-10-26T10:47:21-05:00")
    assert band(page) == "Harbor Band", "which begins two minutes later"
    expect(other.locator("[data-no-bell]")).to_be_visible()
    assert other.evaluate("schoolBell.by") == 160
    other.close()
    page.reload()
    assert page.evaluate("schoolBell.by") == 160
    page.clock.set_fixed_time("2026-10-27T09:00:00-05:00")
    page.evaluate("tick()")
    assert page.evaluate("schoolBell.by") == 0
    expect(page.locator("[data-bell]")).to_be_hidden()  # no bell is near


def test_a_date_far_from_the_cycle_is_told(tablet: Tablet) -> None:
    page = tablet.at("2025-10-26T10:00:00-05:00")
    expect(page.locator(".unsafe")).to_contain_text("This device says Sunday, October 26, 2025")
    expect(tablet.at("2026-10-10T10:00:00-05:00").locator(".unsafe")).to_have_count(0)


# --- The day of a concert --------------------------------------------------------------------------


def test_the_concert_says_the_hour_the_next_step_and_who_plays(tablet: Tablet) -> None:
    """Harbor is ready at 6:20 pm (above), and plays first from 7:00 pm."""
    page = tablet.at("2026-12-10T18:18:00-06:00")
    expect(page.locator(".clock")).to_have_text("6:18 pm")
    label = page.locator(".concert-label")
    expect(label).to_have_text("In 2 min: Harbor Band, Ready in the room")
    on = page.locator(".concert-hours [aria-current=step]")
    expect(on).to_have_count(0)
    tablet.later("2026-12-10T18:20:10-06:00")
    expect(on.first).to_contain_text("Ready in the room")  # and to unpack, at once
    expect(page.locator(".on-stage")).to_be_hidden()
    tablet.later("2026-12-10T19:00:10-06:00")
    expect(page.locator(".on-stage")).to_have_text("On stage: Harbor Band")
    over = page.evaluate("data.concerts[0].over")
    for minutes, is_there in ((59, True), (61, False)):
        page.clock.set_fixed_time(over + minutes * 60)
        page.evaluate("tick()")
        expect(label).to_have_count(int(is_there))


def test_the_first_screen_of_class_tells_of_the_concert(tablet: Tablet) -> None:
    page = tablet.at("2026-12-10T10:50:00-06:00")
    line = page.locator(".card .concert-line")
    expect(line).to_have_text("Concert today, 7:00 pm; for Harbor Band first at 6:20 pm: Ready in the room")  # fmt: skip
    tablet.later("2026-12-10T10:56:00-06:00")
    expect(line).to_have_count(1)
    expect(tablet.at("2026-12-09T10:00:00-06:00").locator(".concert-line")).to_have_count(0)
