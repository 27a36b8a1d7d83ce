"""The beat that is seen: it moves from place to place, and changes at most three times a second.

WCAG 2.2, 2.3.1: nothing flashes more than three times in any one second. Ours counts every
change, though a flash is two of them.
"""

from __future__ import annotations

import bisect
import itertools

import pytest
from playwright.sync_api import Page, expect

from tests.browser_sound.conftest import MakePage
from tests.browser_sound.player import button, ready, status
from tests.browser_sound.waiting import until

pytestmark = pytest.mark.browser

_WATCH = """() => {
  window.seen = [];
  const beats = document.querySelector("#player-bar .beats");
  new MutationObserver(() => {
    const place = [...beats.children].findIndex((item) => item.classList.contains("is-on"));
    const last = seen[seen.length - 1];
    if (!last || last[1] !== place) seen.push([contexts[0].currentTime, place]);
  }).observe(beats, { subtree: true, childList: true, attributes: true });
}"""


def watched(page: Page, name: str) -> list[tuple[float, int]]:
    """Three seconds of what is seen, longer if the music is slow: six changes at least."""
    ready(page, name)
    page.evaluate(_WATCH)
    button(page, name).click()
    until(page, "seen.length > 0")
    page.wait_for_timeout(3000)
    until(page, "seen.length >= 6")
    return [(moment, index) for moment, index in page.evaluate("seen")]


# Places that light in turn, at the goal: as many as the meter has beats, fewer in fast music.
@pytest.mark.parametrize(
    ("name", "order"),
    [
        ("steady", [0, 1, 2, 3]),
        ("fastest", [0, 2]),
        ("waltz", [0, 2]),
        ("sixes", [0, 1]),
        ("uneven", [0, 1, 2]),
        ("open", [0, 6]),
    ],
)
def test_moves_and_never_flashes(make_page: MakePage, name: str, order: list[int]) -> None:
    seen = watched(make_page(), name)
    moments = [moment for moment, _ in seen]
    for place, moment in enumerate(moments):
        assert bisect.bisect_left(moments, moment + 1) - place <= 3
    shown = [index for _, index in seen]
    assert all(a != b for a, b in itertools.pairwise(shown))
    cycle = itertools.cycle(order)
    assert shown == [next(cycle) for _ in shown]


def test_reduced_motion_is_still(make_page: MakePage) -> None:
    page = make_page(reduced_motion="reduce")
    button(page, "steady").click()
    page.evaluate(_WATCH)
    until(page, "starts.length > 6")
    assert page.evaluate("seen") == []
    expect(status(page)).to_have_text("Playing 69")


def test_beats_are_for_the_eye_alone(make_page: MakePage) -> None:
    beats = make_page().locator(".beats")
    assert beats.count() == 1
    assert beats.get_attribute("aria-hidden") == "true"
