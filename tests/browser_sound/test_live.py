"""The click as it sounds live: heard by a recorder on the audio clock, through sleep and jams.

Onsets must lie within 5 ms of the grid of the first one heard.
"""

from __future__ import annotations

import itertools

import numpy as np
import numpy.typing as npt
import pytest
from playwright.sync_api import Page

from tests.browser_sound.conftest import MakePage
from tests.browser_sound.player import button, ready, unfold
from tests.browser_sound.waiting import until

pytestmark = pytest.mark.browser
_TOLERANCE = 0.005  # seconds

# What reaches the speaker also reaches a recorder; and timers can be slowed to one run in
# `throttle` milliseconds, as a browser does to a hidden tab.
LISTEN = """
window.heard = []; window.throttle = 0;
const connect = AudioNode.prototype.connect;
AudioNode.prototype.connect = function (to, ...rest) {
  if (to === this.context.destination) {
    this.context.audioWorklet.addModule("recorder.js").then(() => {
      const node = new AudioWorkletNode(this.context, "onsets", { numberOfOutputs: 0 });
      node.port.onmessage = ({ data }) => heard.push(data / this.context.sampleRate);
      connect.call(this, node);
    });
  }
  return connect.call(this, to, ...rest);
};
const every = window.setInterval;
window.setInterval = (act, wait) => {
  let last = 0;
  return every(() => { if (performance.now() - last >= throttle) { last = performance.now(); act(); } }, wait);
};
window.hide = (hidden, milliseconds) => {
  Object.defineProperty(document, "hidden", { value: hidden, configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));
  throttle = milliseconds;
};
"""


def start(make_page: MakePage, name: str, *, division: str = "beats only") -> Page:
    page = make_page(script=LISTEN, today="")
    ready(page, name, division=division)
    button(page, name).click()
    until(page, "heard.length > 3")
    return page


def heard(page: Page) -> npt.NDArray[np.float64]:
    return np.array(page.evaluate("heard"))


def places(onsets: npt.NDArray[np.float64], gap: float) -> npt.NDArray[np.int64]:
    """Give each onset's place on the grid of the first; fails where one is off it."""
    exact = (onsets - onsets[0]) / gap
    nearest: npt.NDArray[np.float64] = np.round(exact)
    assert np.abs(exact - nearest).max() * gap < _TOLERANCE
    return np.asarray(nearest, dtype=np.int64)


def assert_in_time(page: Page) -> None:
    """Every click was handed over before its time, and no two at one time."""
    starts = page.evaluate("starts")
    assert all(start["when"] >= start["now"] for start in starts)
    assert all(a["when"] < b["when"] for a, b in itertools.pairwise(starts))


@pytest.mark.parametrize(
    ("name", "division", "gap", "seconds"),
    [
        ("fastest", "sixteenths", 60 / 208 / 4, 6),
        ("sixes", "eighths", 60 / 72 / 3, 6),
        ("steady", "beats only", 60 / 96, 12),
        pytest.param("steady", "beats only", 60 / 96, 60, marks=pytest.mark.weekly),
    ],
)
def test_no_drift_and_no_gap(
    make_page: MakePage, name: str, division: str, gap: float, seconds: float
) -> None:
    page = start(make_page, name, division=division)
    page.wait_for_timeout(seconds * 1000)
    found = heard(page)
    assert found[-1] - found[0] > seconds - 1
    assert places(found, gap).tolist() == list(range(len(found)))
    assert_in_time(page)


def test_hidden_tab_loses_nothing(make_page: MakePage) -> None:
    """With timers at one a second, as browsers hold them in a tab that is not shown."""
    gap = 60 / 208
    page = start(make_page, "fastest")
    page.evaluate("hide(true, 1000)")
    page.wait_for_timeout(6000)
    page.evaluate("hide(false, 0)")
    page.wait_for_timeout(1000)
    found = heard(page)
    assert found[-1] - found[0] > 6
    assert places(found, gap).tolist() == list(range(len(found)))
    assert_in_time(page)


@pytest.mark.parametrize("seconds", [5, pytest.param(30, marks=pytest.mark.weekly)])
def test_no_burst_after_sleep(make_page: MakePage, seconds: float) -> None:
    """What a stopped timer missed is left out; the beat goes on where it would have been."""
    gap = 60 / 208
    page = start(make_page, "fastest")
    page.evaluate("hide(true, 1e9)")
    page.wait_for_timeout(seconds * 1000)
    page.evaluate("hide(false, 0)")
    page.wait_for_timeout(1500)
    steps = np.diff(places(heard(page), gap))
    assert steps.min() == 1
    assert np.count_nonzero(steps > 1) == 1
    assert steps.max() * gap > seconds - 3.5
    assert_in_time(page)


def test_no_burst_after_a_jam(make_page: MakePage) -> None:
    gap = 60 / 208 / 4
    page = start(make_page, "fastest", division="sixteenths")
    page.evaluate(
        "() => { const end = performance.now() + 2000; while (performance.now() < end); }"
    )
    page.wait_for_timeout(800)
    steps = np.diff(places(heard(page), gap))
    assert np.count_nonzero(steps > 1) <= 1
    assert 2 / gap > steps.max() > 1 / gap
    assert_in_time(page)


def test_another_tempo_goes_on_from_the_same_click(make_page: MakePage) -> None:
    """From 96 down a mark to 92: every gap is one or the other, and none is cut short."""
    page = start(make_page, "steady")
    page.get_by_role("button", name="Slower by one mark").click()
    page.wait_for_timeout(4000)
    gaps = np.diff(heard(page))
    old, new = 60 / 96, 60 / 92
    changed = int(np.argmax(gaps > (old + new) / 2))
    assert gaps[:changed] == pytest.approx(old, abs=_TOLERANCE / 5)
    assert gaps[changed:] == pytest.approx(new, abs=_TOLERANCE / 5)
    assert len(gaps) - changed > 3
    assert_in_time(page)


def test_dividing_keeps_the_beat(make_page: MakePage) -> None:
    page = start(make_page, "steady")
    unfold(page).get_by_role("combobox", name="Click").select_option("eighths")
    page.wait_for_timeout(3000)
    steps = np.diff(places(heard(page), 60 / 96 / 2))
    assert set(steps[:2]) == {2}
    assert set(steps[-4:]) == {1}
    assert np.all(np.diff(steps) <= 0)
    assert_in_time(page)


def test_stopping_is_at_once(make_page: MakePage) -> None:
    """Clicks that were handed over ahead of time are taken back."""
    page = start(make_page, "fastest", division="sixteenths")
    page.evaluate("hide(true, 0)")
    page.wait_for_timeout(300)
    end = page.evaluate(
        "() => { document.querySelector('#fastest .play').click(); return contexts[0].currentTime; }"
    )
    page.wait_for_timeout(800)
    assert heard(page)[-1] < end + 0.08
