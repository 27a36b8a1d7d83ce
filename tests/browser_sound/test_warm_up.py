"""A warm-up plays itself: each step at its time, counted in, silent before the next.

Times are reckoned here by hand: a step's start is the sum of what was before it, and a beat
lasts 60 / bpm. The count-in is one measure, and a step ends with a whole one.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Page, expect

from handbook.domain.tuning import drone
from handbook.domain.values.pitch import parse_note_name
from tests.browser.axe import findings
from tests.browser_sound.bench import LONG_WARM_UP, warm_up
from tests.browser_sound.conftest import MakePage
from tests.browser_sound.player import bar, button, status, unfold
from tests.browser_sound.rendering import Samples, onsets, render_warm_up
from tests.browser_sound.test_live import LISTEN, assert_in_time
from tests.browser_sound.waiting import until

pytestmark = pytest.mark.browser
_ZERO = 0.05  # seconds of silence before a warm-up that is rendered
_TOLERANCE = 0.005  # seconds, live
_PLAY, _STOP = "Play this warm-up First sounds", "Stop this warm-up First sounds"
_SAID = """() => {
  window.said = [];
  const state = document.querySelector("[role=status]");
  new MutationObserver(() => said.push(state.textContent)).observe(state, { childList: true, characterData: true, subtree: true });
}"""
# A minute's steps: start, beats in a measure, bpm, and measures that are counted or sound.
BEATS = [(0.0, 4, 208, 5), (8.0, 3, 132, 5), (39.0, 4, 120, 1)]
LONG = [(0.0, 4, 50, 17), (84.0, 4, 66, 25), (176.0, 4, 80, 32), (272.0, 3, 144, 70)]
SIGNALS = [17.0, 21.0, 33.0]


def expected(steps: list[tuple[float, int, int, int]], signals: list[float]) -> list[float]:
    beats = [
        start + beat * 60 / bpm
        for start, in_measure, bpm, measures in steps
        for beat in range(in_measure * measures)
    ]
    return sorted(beats + signals)


def without_drones(data: Any) -> Any:
    return {
        **data,
        "steps": [
            {name: value for name, value in step.items() if name != "drone"}
            for step in data["steps"]
        ],
    }


@pytest.mark.parametrize("rate", [44100, 48000])
def test_every_click_of_a_minute_is_within_a_sample(lab: Page, rate: int) -> None:
    data = without_drones(warm_up().plain_data)
    found = onsets(render_warm_up(lab, data, _ZERO, 60, rate), rate)
    places = (_ZERO + np.array(expected(BEATS, SIGNALS))) * rate
    assert len(found) == len(places)
    assert np.abs(found - places).max() <= 1


def test_nothing_drifts_in_six_minutes(lab: Page) -> None:
    """Four steps of 84, 92, 96 and 88 s, with rests of 0; each beat is where 60 / bpm puts it.

    84 s at 50: a measure is 4.8 s, 17 of them are 81.6 s. 92 s at 66: 3.636 s, 25 are 90.9 s.
    96 s at 80: 3 s, 32. 88 s at 144 in 3/4: 1.25 s, 70 are 87.5 s. Below a limit of 5 ms.
    """
    rate = 8000  # a sample is an eighth of a millisecond
    samples = render_warm_up(lab, warm_up(LONG_WARM_UP, 6).plain_data, _ZERO, 360, rate)
    places = (_ZERO + np.array(expected(LONG, []))) * rate
    found = onsets(samples, rate)
    assert len(found) == len(places)
    assert np.abs(found - places).max() <= 1


def loudest(samples: Samples, start: float, end: float, rate: int) -> float:
    return float(np.abs(samples[int((_ZERO + start) * rate) : int((_ZERO + end) * rate)]).max())


def test_the_drone_sounds_for_its_step_and_the_rest_is_silent(lab: Page) -> None:
    """From 21 to 28 s, the concert B flat below middle C at 233.08 Hz; then 5 s of nothing."""
    rate = 8000
    samples = render_warm_up(lab, warm_up().plain_data, _ZERO, 60, rate)
    held = samples[int(23 * rate) : int(27 * rate)]
    spectrum = np.abs(np.fft.rfft(held * np.hanning(len(held))))
    pitch = drone(parse_note_name("Bb"))
    assert math.isclose(pitch, 233.08, abs_tol=0.01)
    lowest = np.flatnonzero(spectrum > spectrum.max() / 2)[0] * rate / len(held)
    assert lowest == pytest.approx(pitch, abs=0.5)
    assert loudest(samples, 22, 27.9, rate) > 0.1
    assert loudest(samples, 28.6, 33, rate) == 0
    assert loudest(samples, 6.1, 8, rate) == 0
    assert loudest(samples, 41, 60, rate) == 0  # counted in, and no click


def start(make_page: MakePage, name: str = "warm-up") -> Page:
    """Begin when the recorder is there, which the first sound of a page brings."""
    page = make_page(script=LISTEN, today="")
    button(page, name).click()
    until(page, "heard.length > 0")
    bar(page).get_by_role("button", name="Close the player").click()
    page.wait_for_timeout(100)
    page.evaluate("() => { starts.length = ends.length = heard.length = 0; }")
    page.evaluate(_SAID)
    button(page, name).click()
    until(page, "heard.length > 3")
    return page


def heard(page: Page) -> list[float]:
    found: list[float] = page.evaluate("heard")
    return found


def test_it_goes_from_step_to_step_in_time_and_says_so_once(make_page: MakePage) -> None:
    """Heard for the first two steps: 20 beats at 208, from 8 s on 15 in threes at 132."""
    page = start(make_page)
    expect(button(page, "warm-up")).to_have_accessible_name(_STOP)
    expect(page.locator("#warm-up li").first).to_have_attribute("aria-current", "step")
    page.wait_for_timeout(9500)
    expect(page.locator("#warm-up li").nth(1)).to_have_attribute("aria-current", "step")
    found = np.array(heard(page))
    beats = np.array(expected(BEATS[:2], []))[: len(found)]
    assert len(found) > 22
    assert np.abs(found - found[0] - beats).max() < _TOLERANCE
    assert page.evaluate("said") == ["1 of 6: Fast notes", "2 of 6: Slow threes"]
    assert_in_time(page)


@pytest.mark.weekly
def test_nothing_drifts_in_six_minutes_as_they_are_heard(make_page: MakePage) -> None:
    page = start(make_page, "long")
    page.wait_for_timeout(360_000)
    found = np.array(heard(page))
    beats = np.array(expected(LONG, []))
    assert len(found) == len(beats)
    assert np.abs(found - found[0] - beats).max() < _TOLERANCE
    assert_in_time(page)


def test_a_hidden_tab_loses_nothing_and_a_sleeping_one_makes_up_for_nothing(
    make_page: MakePage,
) -> None:
    """Timers of a hidden tab run once a second; asleep they do not run at all."""
    page = start(make_page)
    page.evaluate("hide(true, 1000)")
    page.wait_for_timeout(3500)
    beats = expected(BEATS[:2], [])
    found = np.array(heard(page))
    assert len(found) > 12
    assert np.abs(found - found[0] - np.array(beats[: len(found)])).max() < _TOLERANCE
    page.evaluate("hide(true, 1e9)")
    page.wait_for_timeout(7000)
    before = len(heard(page))
    page.evaluate("hide(false, 0)")
    page.wait_for_timeout(1200)
    later = np.array(heard(page)) - found[0]
    assert len(later) - before < 5  # as many as sound in that time, and no burst
    off = [min(abs(one - beat) for beat in beats) for one in later]
    assert max(off) < _TOLERANCE
    expect(status(page)).to_have_text("2 of 6: Slow threes")
    assert_in_time(page)


def test_after_a_pause_the_measure_is_counted_in_again(make_page: MakePage) -> None:
    """Stopped in the second measure after the count-in, it goes on with that one."""
    page = start(make_page)
    until(page, "heard.length > 9")
    page.keyboard.press("Escape")
    expect(status(page)).to_have_text("Paused")
    left = bar(page).locator("[data-left]").inner_text()
    page.wait_for_timeout(1200)
    expect(bar(page).locator("[data-left]")).to_have_text(left)
    page.evaluate("heard.length = 0")
    button(page, "warm-up").click()
    until(page, "heard.length > 23 || heard.length && contexts[0].currentTime > heard[0] + 7", 12)
    found = np.array(heard(page))
    beat = 60 / 208
    steps = np.round((found - found[0]) / beat)
    # 4 beats are counted, measures 2, 3 and 4 of four follow: 16 in all, then the next step.
    assert steps[:16].tolist() == list(range(16))
    assert found[16] - found[15] > 2
    assert_in_time(page)


def test_skip_and_back(make_page: MakePage) -> None:
    page = start(make_page)
    skip = bar(page).get_by_role("button", name="Skip")
    skip.click()
    expect(status(page)).to_have_text("2 of 6: Slow threes")
    page.evaluate("heard.length = 0")
    until(page, "heard.length > 3")
    assert np.diff(heard(page))[:3] == pytest.approx(60 / 132, abs=_TOLERANCE)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    expect(status(page)).to_have_text("4 of 6: Hold it")
    until(page, "starts.some(({ kind }) => kind === 'OscillatorNode')")
    page.keyboard.press("ArrowLeft")
    expect(status(page)).to_have_text("3 of 6: Breathe out")
    # Told to end when it began, and again at once.
    assert page.evaluate("ends.filter((kind) => kind === 'OscillatorNode').length") == 2
    for _ in range(3):
        skip.click()
    expect(status(page)).to_have_text("6 of 6: Chorale")
    skip.click()
    expect(status(page)).to_have_text("The warm-up is over.")
    expect(button(page, "warm-up")).to_have_accessible_name(_PLAY)
    expect(page.locator("[aria-current=step]")).to_have_count(0)
    button(page, "warm-up").click()
    expect(status(page)).to_have_text("1 of 6: Fast notes")


def test_a_recording_plays_in_its_step_and_stops_with_it(make_page: MakePage) -> None:
    page = start(make_page)
    page.evaluate("window.sound = document.querySelector('[data-step-sound]')")
    assert page.evaluate("sound.paused")
    for _ in range(4):
        bar(page).get_by_role("button", name="Skip").click()
    expect(status(page)).to_have_text("5 of 6: Sing along")
    until(page, "!sound.paused")
    assert page.evaluate("sound.loop")  # two seconds, in a step of six
    bar(page).get_by_role("button", name="Skip").click()
    until(page, "sound.paused")


def test_nothing_sounds_before_a_tap_and_another_thing_ends_it(make_page: MakePage) -> None:
    page = make_page()
    page.keyboard.press("Tab")
    assert page.evaluate("contexts.length") == 0
    button(page, "warm-up").click()
    until(page, "starts.length > 2")
    button(page, "steady").click()
    expect(status(page)).to_have_text("Count-in")
    expect(button(page, "warm-up")).to_have_accessible_name(_PLAY)
    button(page, "warm-up").click()
    bar(page).get_by_role("button", name="Close the player").click()
    expect(bar(page)).to_be_hidden()
    expect(page.locator("[aria-current=step]")).to_have_count(0)
    assert page.evaluate("violations") == []


def test_without_scripts_the_steps_stay_with_their_times(make_page: MakePage) -> None:
    page = make_page(java_script_enabled=False)
    steps = page.locator("#warm-up li").all_inner_texts()
    assert len(steps) == 6
    assert "Fast notes" in steps[0]
    assert "6 s" in steps[0]
    assert "208" in steps[0]
    assert "Drone on concert B♭" in steps[3]
    expect(page.get_by_role("button")).to_have_count(0)


def test_accessible_and_large_enough_on_a_phone(make_page: MakePage) -> None:
    page = make_page(bypass_csp=True)
    page.set_viewport_size({"width": 320, "height": 844})
    button(page, "warm-up").click()
    until(page, "starts.length > 2")
    unfold(page)
    rules = {"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]}
    assert findings(page, rules) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    sizes = page.locator("#player-bar button, #warm-up button").evaluate_all(
        "(items) => items.map((item) => item.getBoundingClientRect()).filter(({ width }) => width).map(({ width, height }) => [width, height])"
    )
    assert min(min(size) for size in sizes) >= 44
