"""Click and drone where readers meet them: on the pages of the demo, under their own policy."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.contexts import lent
from tests.browser.served import serving
from tests.browser_sound.conftest import WITNESS
from tests.browser_sound.player import bar, button, status, stop_or_play, unfold
from tests.browser_sound.waiting import until
from tests.demo import demo_folder

pytestmark = pytest.mark.browser
TRAIN = "winter-2026/beacon/night-train-to-marrow-point/"


@pytest.fixture(scope="module")
def demo() -> Iterator[str]:
    with serving(demo_folder()) as address:
        yield address


@pytest.fixture
def train(browser: Browser, demo: str) -> Iterator[Page]:
    complaints: list[str] = []
    with lent(browser, demo, clock=True) as context:
        page = context.new_page()
        page.set_viewport_size({"width": 390, "height": 844})
        page.clock.set_fixed_time("2026-11-25T15:00:00-06:00")
        page.add_init_script(WITNESS)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.goto(demo + TRAIN)
        yield page
        assert page.evaluate("violations") == complaints == []


def test_every_passage_begins_at_its_first_step(train: Page) -> None:
    """Of the steps for the week of November 23, as the demo's ladders give them."""
    names = [
        train.locator(f"#{passage} .play").evaluate("(b) => b.querySelector('.vh').textContent")
        for passage in ("platform", "pulling-out", "uneven-wheel", "long-bridge", "switchyard")
    ]
    steps = train.locator("tr[data-from='2026-11-23'] .steps").evaluate_all(
        "(cells) => cells.map((cell) => (cell.querySelector('.num') || cell.previousElementSibling.querySelector('.mark b')).textContent)"
    )
    assert [name.split(",")[0] for name in names] == [f"Play {bpm}" for bpm in steps[:5]]
    assert "half note" in names[3]


def test_the_accelerando_can_be_heard_at_the_weeks_tempo(train: Page) -> None:
    """The part moves from 88 to 132, half as fast again, and so from the week's tempo."""
    train.locator("#pulling-out > summary").click()
    button(train, "pulling-out").click()
    unfold(train).get_by_label("Change tempo as written").check()
    name = stop_or_play(train).inner_text()
    found = re.fullmatch(r"Stop (\d+) to ([\d.]+), quarter note", name.strip())
    assert found, name
    first, last = int(found[1]), float(found[2])
    assert 44 <= first < 88  # slower than the goal, and no slower than half of it
    assert last == first * 132 / 88
    until(train, "starts.length > 6")
    expect(status(train)).to_have_text(f"Playing {found[1]} to {found[2]}")


def test_one_thing_sounds_at_a_time(train: Page) -> None:
    train.locator("[data-drone] .play").first.click()
    until(train, "starts.length === 1")
    train.locator("#targets ~ ul [data-click-for='uneven-wheel'] .play").click()
    until(train, "starts.length > 4")
    expect(bar(train)).to_contain_text("Uneven wheel")
    for _ in range(2):  # nothing sticks out at the side, not even the way to the player
        assert train.evaluate("document.documentElement.scrollWidth") == 390
        train.keyboard.press("Tab")
    expect(train.locator("[data-drone] .play").first).to_have_accessible_name(re.compile("Play"))
    assert train.evaluate("contexts.length") == 1
    assert train.evaluate("ends") == ["OscillatorNode"]


def test_a_player_hears_them_on_the_parts_page(browser: Browser, demo: str) -> None:
    page = browser.new_page()
    page.add_init_script(WITNESS)
    page.goto(demo + "winter-2026/beacon/part/trumpet/")
    page.locator("[data-drone] .play").first.evaluate("(button) => button.click()")
    until(page, "starts.length === 1")
    page.locator("[data-click] .play").first.evaluate("(button) => button.click()")
    until(page, "starts.length > 2")
    assert page.evaluate("violations") == []
    page.close()
