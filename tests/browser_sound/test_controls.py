"""The controls by finger, keyboard and screen reader, before, while and after something sounds."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser_sound.conftest import MakePage
from tests.browser_sound.player import (
    GOAL,
    THIS_WEEK,
    bar,
    button,
    ready,
    status,
    stop_or_play,
    unfold,
)
from tests.browser_sound.waiting import until

pytestmark = pytest.mark.browser

_WATCH_STATE = """() => {
  window.said = [];
  const state = document.querySelector("[role=status]");
  new MutationObserver(() => said.push(state.textContent)).observe(state, { childList: true, characterData: true, subtree: true });
}"""
# What has the focus, once the page has scrolled: within the player, or wholly above it.
_IN_SIGHT = """() => {
  window.inSight = () => {
    const { top, bottom } = document.activeElement.getBoundingClientRect();
    const bar = document.querySelector("#player-bar");
    return bar.contains(document.activeElement) || (top >= 0 && bottom <= bar.getBoundingClientRect().top);
  };
}"""
_STEADY = "Play 69, quarter note, Steady"


def sounds(page: Page) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = page.evaluate("starts")
    return found


def states(page: Page) -> list[str]:
    found: list[str] = page.evaluate("contexts.map((context) => context.state)")
    return found


def test_nothing_sounds_before_a_tap(make_page: MakePage) -> None:
    page = make_page()
    page.mouse.move(200, 400)
    page.mouse.wheel(0, 600)
    for _ in range(6):
        page.keyboard.press("Tab")
    expect(bar(page)).to_be_hidden()
    assert page.evaluate("contexts.length") == 0
    button(page, "steady").click()
    until(page, "starts.length > 2")
    assert states(page) == ["running"]


def test_this_week_is_chosen_in_the_schools_zone(make_page: MakePage) -> None:
    """It begins at the first step of the week."""
    page = make_page(timezone_id="Asia/Tokyo")
    weeks = page.locator("#steady").evaluate(
        "(place) => JSON.parse(place.firstElementChild.dataset.click).weeks"
    )
    for today, week in (
        ("2026-08-01T12:00:00-05:00", weeks[0]),
        ("2026-09-14T00:30:00-05:00", weeks[1]),
        ("2026-09-13T23:30:00-05:00", weeks[0]),
        ("2026-10-09T12:00:00-05:00", weeks[4]),
    ):
        page.clock.set_fixed_time(today)
        page.reload()
        first = min(week[2:])
        expect(button(page, "steady")).to_have_accessible_name(
            f"Play {first}, quarter note, Steady"
        )
    button(page, "steady").click()
    week_button = unfold(page).get_by_role("button", name=THIS_WEEK)
    expect(week_button).to_have_attribute("aria-pressed", "true")
    page.clock.set_fixed_time("2026-10-12T12:00:00-05:00")
    page.reload()
    expect(button(page, "steady")).to_have_accessible_name("Play 96, quarter note, Steady")
    button(page, "steady").click()
    expect(unfold(page).get_by_role("button", name=THIS_WEEK)).to_be_hidden()


def test_marks_lead_up_to_the_goal_and_no_further(make_page: MakePage) -> None:
    page = make_page()
    ready(page, "steady")
    expect(button(page, "steady")).to_have_accessible_name("Play 96, quarter note, Steady")
    faster = bar(page).get_by_role("button", name="Faster by one mark")
    expect(faster).to_have_attribute("aria-disabled", "true")
    faster.click(force=True)
    for bpm in (92, 88, 84, 80, 76, 72, 69, 66, 63, 60):
        bar(page).get_by_role("button", name="Slower by one mark").click()
        expect(status(page)).to_have_text(str(bpm))
        expect(stop_or_play(page)).to_have_accessible_name(f"Play {bpm}, quarter note")
    faster.click()
    expect(button(page, "steady")).to_have_accessible_name("Play 63, quarter note, Steady")


def test_three_clean_times_lead_one_step_up_as_far_as_this_weeks_tempo(
    make_page: MakePage,
) -> None:
    """The steps of the week are 69, 72, 76 and 80; from below them the next mark comes first."""
    page = make_page()
    button(page, "steady").click()
    until(page, "starts.length > 1")
    page.evaluate(_WATCH_STATE)
    clean = bar(page).get_by_role("button", name="Played it clean")
    expect(clean).to_have_accessible_name("Played it clean: 0 of 3")
    bar(page).get_by_role("button", name="Slower by one mark").click()
    for up in ("69", "72", "76", "80"):
        for times in ("1 of 3 clean", "2 of 3 clean", f"3 of 3 clean: up to {up}"):
            clean.click()
            expect(status(page)).to_have_text(times)
    for times in ("1 of 3 clean", "2 of 3 clean", "3 of 3 clean. Well done!"):
        clean.click()
        expect(status(page)).to_have_text(times)
    expect(stop_or_play(page)).to_have_accessible_name("Stop 80, quarter note")
    clean.click()
    expect(clean).to_have_accessible_name("Played it clean: 1 of 3")
    bar(page).get_by_role("button", name="Slower by one mark").click()
    expect(clean).to_have_accessible_name("Played it clean: 0 of 3")


def test_state_is_told_and_not_every_beat(make_page: MakePage) -> None:
    page = make_page()
    ready(page, "fastest")
    page.evaluate(_WATCH_STATE)
    button(page, "fastest").click()
    expect(stop_or_play(page)).to_have_accessible_name("Stop 208, quarter note")
    until(page, "starts.length > 16")
    stop_or_play(page).click()
    expect(button(page, "fastest")).to_have_accessible_name("Play 208, quarter note, Fastest")
    assert page.evaluate("said") == ["Count-in", "Playing 208", "Stopped"]


def test_count_in_may_be_left_out(make_page: MakePage) -> None:
    page = make_page()
    ready(page, "steady")
    unfold(page).get_by_label("Count in one measure").uncheck()
    page.evaluate(_WATCH_STATE)
    button(page, "steady").click()
    until(page, "starts.length > 3")
    assert page.evaluate("said")[0].startswith("Playing")


@pytest.mark.parametrize("key", ["Enter", "Space"])
def test_by_keyboard_alone(make_page: MakePage, key: str) -> None:
    page = make_page()
    page.keyboard.press("Tab")
    expect(button(page, "steady")).to_be_focused()
    page.keyboard.press(key)
    until(page, "starts.length > 1")
    expect(button(page, "steady")).to_be_focused()
    page.keyboard.press("+")
    expect(stop_or_play(page)).to_have_accessible_name("Stop 72, quarter note")
    page.keyboard.press("-")
    expect(stop_or_play(page)).to_have_accessible_name("Stop 69, quarter note")
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="To the player")).to_be_focused()
    page.keyboard.press("Enter")
    expect(bar(page)).to_be_focused()
    for name in ("Stop 69", "Slower", "Faster", "Played it clean", "Next", "Options", "Close"):
        page.keyboard.press("Tab")
        expect(bar(page).get_by_role("button", name=name)).to_be_focused()
    page.keyboard.press("Escape")
    expect(status(page)).to_have_text("Stopped")
    expect(button(page, "steady")).to_be_focused()
    count = page.evaluate("starts.length")
    page.wait_for_timeout(700)
    assert page.evaluate("starts.length") == count


def test_one_sound_at_a_time_and_the_player_says_which(make_page: MakePage) -> None:
    page = make_page()
    button(page, "steady").click()
    until(page, "starts.length > 1")
    button(page, "waltz").click()
    expect(bar(page)).to_contain_text("Waltz")
    expect(button(page, "steady")).to_have_accessible_name(_STEADY)
    button(page, "drone").click()
    until(page, "starts.some(({ kind }) => kind === 'OscillatorNode')")
    expect(bar(page)).to_contain_text("Drone: concert B♭ (tuning note)")
    count = page.evaluate("starts.length")
    page.wait_for_timeout(600)
    assert page.evaluate("starts.length") == count
    assert page.evaluate("contexts.length") == 1


def test_next_goes_through_the_list_it_was_started_from(make_page: MakePage) -> None:
    page = make_page()
    following = bar(page).get_by_role("button", name="Next")
    page.locator("#list .play").first.click()
    expect(following).to_have_accessible_name("Next Steady")
    following.click()
    expect(bar(page)).to_contain_text("Steady")
    expect(following).to_be_hidden()  # the list is at its end
    expect(stop_or_play(page)).to_be_focused()
    button(page, "steady").click()  # stops it
    button(page, "steady").click()
    expect(following).to_have_accessible_name("Next Fastest")


def test_the_player_stays_until_it_is_closed_and_covers_nothing(make_page: MakePage) -> None:
    page = make_page()
    last = page.get_by_role("link", name="Another page")
    last.evaluate("(link) => link.after(document.querySelector('#list'))")
    page.evaluate(_IN_SIGHT)
    button(page, "steady").click()
    until(page, "starts.length > 1")
    for _ in range(40):
        page.keyboard.press("Tab")
        until(page, "inSight()")
        if page.evaluate("document.activeElement.closest('#player-bar') !== null"):
            break
    page.evaluate("scrollTo(0, 1e6)")
    page.wait_for_timeout(100)
    box, foot = bar(page).bounding_box(), page.locator("#list .play").last.bounding_box()
    assert box is not None
    assert foot is not None
    assert foot["y"] + foot["height"] <= box["y"]
    assert box["height"] < 844 / 5
    stop_or_play(page).click()
    expect(bar(page)).to_be_visible()
    bar(page).get_by_role("button", name="Close").click()
    expect(bar(page)).to_be_hidden()
    expect(button(page, "steady")).to_be_focused()


def test_the_screen_stays_on_only_while_something_sounds(make_page: MakePage) -> None:
    """Screen Wake Lock, W3C: a lock is let go by release(), and by itself when the page is hidden."""
    page = make_page(
        script="""
        window.held = 0;
        Object.defineProperty(navigator, "wakeLock", { value: { request: async (kind) => {
          if (kind === "screen") held += 1;
          return { released: false, async release() { if (!this.released) held -= 1; this.released = true; } };
        } } });"""
    )
    assert page.evaluate("held") == 0
    button(page, "steady").click()
    until(page, "held === 1")
    button(page, "drone").click()
    until(page, "starts.some(({ kind }) => kind === 'OscillatorNode')")
    assert page.evaluate("held") == 1
    stop_or_play(page).click()
    until(page, "held === 0")


def test_taps_in_haste_leave_one_click(make_page: MakePage) -> None:
    page = make_page()
    button(page, "fastest").evaluate(
        "(button) => { button.click(); button.click(); button.click(); }"
    )
    until(page, "starts.length > 8")
    whens = [sound["when"] for sound in sounds(page)]
    assert len(set(whens)) == len(whens)
    assert whens == sorted(whens)


def test_stops_when_the_reader_leaves(make_page: MakePage) -> None:
    page = make_page()
    button(page, "steady").click()
    until(page, "starts.length > 2")
    page.evaluate("window.dispatchEvent(new PageTransitionEvent('pagehide', { persisted: true }))")
    until(page, "contexts[0].state === 'closed'")
    expect(status(page)).to_have_text("Stopped")
    count = page.evaluate("starts.length")
    page.wait_for_timeout(600)
    assert page.evaluate("starts.length") == count
    button(page, "steady").click()
    until(page, f"starts.length > {count}")
    assert states(page) == ["closed", "running"]


def test_is_still_when_the_reader_comes_back(make_page: MakePage) -> None:
    page = make_page()
    button(page, "steady").click()
    until(page, "starts.length > 1")
    page.get_by_role("link", name="Another page").click()
    page.go_back()
    expect(button(page, "steady")).to_have_accessible_name(_STEADY)


@pytest.mark.parametrize("state", ["interrupted", "closed"])
def test_a_lost_context_is_made_anew_by_the_next_tap(make_page: MakePage, state: str) -> None:
    """As after a phone call; `interrupted` is a state of one maker's phones, given here by hand."""
    page = make_page()
    button(page, "steady").click()
    until(page, "starts.length > 1")
    page.evaluate(
        """(state) => {
          Object.defineProperty(contexts[0], "state", { value: state });
          contexts[0].dispatchEvent(new Event("statechange"));
        }""",
        state,
    )
    expect(status(page)).to_have_text("Stopped")
    count = page.evaluate("starts.length")
    button(page, "steady").click()
    until(page, f"starts.length > {count} + 1")
    assert page.evaluate("contexts.length") == 2


def test_a_device_that_refuses_is_told(make_page: MakePage) -> None:
    page = make_page(
        script="AudioContext.prototype.resume = () => new Promise(() => {}); Object.defineProperty(BaseAudioContext.prototype, 'state', { value: 'suspended' });"
    )
    button(page, "steady").click()
    expect(status(page)).to_have_text("No sound yet. Tap again.")
    expect(button(page, "steady")).to_have_accessible_name(_STEADY)


def test_sounds_on_a_muted_phone_and_gives_the_speaker_back(make_page: MakePage) -> None:
    page = make_page(
        script="Object.defineProperty(navigator, 'audioSession', { value: { type: 'auto' } });"
    )
    assert page.evaluate("navigator.audioSession.type") == "auto"
    button(page, "steady").click()
    until(page, "starts.length > 1")
    assert page.evaluate("navigator.audioSession.type") == "playback"
    button(page, "steady").click()
    until(page, "navigator.audioSession.type === 'auto'")
    until(page, "contexts[0].state === 'suspended'")
    button(page, "steady").click()
    until(page, "contexts[0].state === 'running'")


def test_volume_is_shared_and_kept(make_page: MakePage) -> None:
    page = make_page()
    button(page, "steady").click()
    unfold(page).get_by_label("Volume").fill("0.3")
    assert page.evaluate("Object.entries(localStorage)") == [["handbook-volume", "0.3"]]
    button(page, "drone").click()
    expect(bar(page).get_by_label("Volume")).to_have_value("0.3")
    for kept, shown in (("0.3", "0.3"), ("loud", "0.8")):
        page.evaluate("(kept) => localStorage.setItem('handbook-volume', kept)", kept)
        page.reload()
        button(page, "steady").click()
        expect(unfold(page).get_by_label("Volume")).to_have_value(shown)


def test_meter_choices(make_page: MakePage) -> None:
    page = make_page()
    meters = bar(page).locator("[data-meter]")
    button(page, "steady").click()
    expect(unfold(page)).to_be_visible()
    assert meters.locator("option").all_text_contents() == ["4/4"]
    expect(meters).to_be_hidden()
    button(page, "mixed").click()
    assert meters.locator("option").all_text_contents() == ["as written", "4/4", "3/4"]
    button(page, "open").click()
    assert meters.locator("option").all_text_contents() == [
        "7/8", "7/8 (2+2+3)", "7/8 (2+3+2)", "7/8 (3+2+2)",
    ]  # fmt: skip
    places = bar(page).locator(".beats i")
    expect(places).to_have_count(7)
    bar(page).get_by_label("Meter").select_option("7/8 (2+3+2)")
    expect(places).to_have_count(3)
    divide = bar(page).get_by_role("combobox", name="Click")
    expect(divide).to_have_value("24")  # the mark counts eighths
    button(page, "steady").click()
    button(page, "open").click()
    expect(bar(page).get_by_label("Meter")).to_have_value("2")


def test_slow_tempos_come_divided_until_the_reader_chooses(make_page: MakePage) -> None:
    """Below 50 a beat is hard to hold without its halves (common practice, no source)."""
    page = make_page(today="2026-09-08T12:00:00-05:00")
    button(page, "slow").click()
    player = unfold(page)
    divide = player.get_by_role("combobox", name="Click")
    expect(divide).to_have_value("24")
    player.get_by_role("button", name=GOAL).click()
    expect(divide).to_have_value("0")
    divide.select_option("triplets")
    player.get_by_role("button", name=THIS_WEEK).click()
    expect(divide).to_have_value("16")


def test_names_for_a_screen_reader(make_page: MakePage) -> None:
    page = make_page()
    ready(page, "sixes")
    expect(page.get_by_role("region", name="Player")).to_be_visible()
    expect(button(page, "sixes")).to_have_accessible_name("Play 72, dotted quarter note, Sixes")
    button(page, "rising").click()
    unfold(page).get_by_label("Change tempo as written").check()
    bar(page).get_by_role("button", name=GOAL).click()
    expect(stop_or_play(page)).to_have_accessible_name("Stop 60 to 120, quarter note")
    drone = page.locator("#drone")
    expect(drone.get_by_role("button", name="Play concert B flat, tuning note")).to_be_visible()
    button(page, "drone").click()
    expect(bar(page).get_by_role("button", name="Third, D")).to_have_attribute(
        "aria-pressed", "false"
    )
    assert all(page.get_by_role("button").evaluate_all("(all) => all.map((b) => b.textContent)"))


def test_targets_are_large_and_nothing_overflows(make_page: MakePage) -> None:
    page = make_page()
    for width in (320, 390, 1280):
        page.set_viewport_size({"width": width, "height": 844})
        page.reload()
        sizes: list[list[float]] = []
        for name in ("drone", "rising"):
            button(page, name).click()
            unfold(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= width
            sizes += page.locator(
                "#player-bar :is(button, select, label), main button"
            ).evaluate_all(
                "(items) => items.map((item) => item.getBoundingClientRect()).filter(({ width }) => width).map(({ width, height }) => [width, height])"
            )
            bar(page).get_by_role("button", name="Options").click()
        assert len(sizes) > 40
        assert min(min(size) for size in sizes) >= 44


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_nothing_jumps_when_the_controls_come(make_page: MakePage, width: int) -> None:
    """Room is kept for them. A cumulative layout shift up to 0.1 is good (Core Web Vitals)."""
    page = make_page()
    page.set_viewport_size({"width": width, "height": 844})
    page.reload()
    shift = page.evaluate(
        """() => new Promise((done) => {
          let sum = 0;
          new PerformanceObserver((list) => { for (const entry of list.getEntries()) sum += entry.value; }).observe({ type: "layout-shift", buffered: true });
          setTimeout(() => done(sum), 300);
        })"""
    )
    assert shift < 0.02


def test_one_row_on_a_phone(make_page: MakePage) -> None:
    page = make_page()
    button(page, "fastest").click()
    tops = (
        bar(page)
        .locator(".player-row button")
        .evaluate_all(
            "(items) => items.filter((item) => item.offsetParent).map((item) => item.getBoundingClientRect().top)"
        )
    )
    assert len(tops) == 5
    assert len(set(tops)) == 1


def test_without_scripts_facts_and_no_dead_buttons(make_page: MakePage) -> None:
    page = make_page(java_script_enabled=False)
    expect(page.get_by_role("button")).to_have_count(0)
    assert "60 ÷ 208 = 0.288 s" in page.locator("#fastest").inner_text()
    drone = page.locator("#drone").inner_text()
    assert "concert B♭" in drone
    assert "233.1 Hz" in drone


def test_a_device_without_audio_shows_facts_and_no_dead_buttons(make_page: MakePage) -> None:
    page = make_page(
        script="delete window.AudioContext; window.AudioContext = undefined; window.webkitAudioContext = undefined;"
    )
    expect(page.get_by_role("button")).to_have_count(0)
    assert "60 ÷ 208" in page.locator("#fastest").inner_text()


def test_strict_policy_holds(make_page: MakePage) -> None:
    page = make_page()
    button(page, "steady").click()
    unfold(page).get_by_label("Accent the first beat").uncheck()
    until(page, "starts.length > 3")
    button(page, "drone").click()
    assert page.evaluate("violations") == []


def test_survives_a_translating_browser(make_page: MakePage) -> None:
    """Browsers that translate wrap every text in an element of their own."""
    page = make_page()
    page.evaluate(
        """() => {
          const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT, ({ parentNode }) => (parentNode.closest("script, template") ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT));
          const texts = [];
          while (walker.nextNode()) texts.push(walker.currentNode);
          for (const text of texts) { const font = document.createElement("font"); text.replaceWith(font); font.append(text); }
        }"""
    )
    button(page, "steady").click()
    until(page, "starts.length > 1")
    unfold(page).get_by_role("button", name=GOAL).click()
    expect(button(page, "steady")).to_have_accessible_name("Stop 96, quarter note, Steady")
    button(page, "drone").click()
    expect(status(page)).to_have_text("Playing concert B flat")


def test_drone_by_hand(make_page: MakePage) -> None:
    page = make_page()
    first = button(page, "drone")
    first.click()
    expect(first).to_have_accessible_name("Stop concert B flat, tuning note")
    until(page, "starts.length === 1")
    bar(page).get_by_role("button", name="Third, D").click()
    bar(page).get_by_role("button", name="Fifth, F").click()
    until(page, "starts.length === 3")
    unfold(page).get_by_label("Pure third and fifth").uncheck()
    until(page, "starts.length === 5")
    bar(page).get_by_label("Octave").select_option("low")
    until(page, "starts.length === 8")
    other = page.locator("#drone .play").nth(1)
    other.click()
    expect(other).to_have_accessible_name("Stop concert G, key note")
    expect(first).to_have_accessible_name("Play concert B flat, tuning note")
    expect(bar(page).get_by_role("button", name="Third, B flat")).to_have_attribute(
        "aria-pressed", "true"
    )
    until(page, "starts.length === 11 && ends.length === 8")
    other.click()
    expect(status(page)).to_have_text("Stopped")
    assert page.evaluate("contexts.length") == 1
