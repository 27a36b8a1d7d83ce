"""Click and drone where readers meet them: on the pages of the demo, under their own policy."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from handbook.pipeline import load_plan
from tests.browser.contexts import lent
from tests.browser.served import serving
from tests.browser_sound.conftest import WITNESS
from tests.browser_sound.waiting import until
from tests.whole_sites import make_site

pytestmark = pytest.mark.browser
CONTENT = Path(__file__).resolve().parents[2] / "content"
TRAIN = "winter-2026/beacon/night-train-to-marrow-point/"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    plan = load_plan(CONTENT).plan
    assert plan is not None
    folder = make_site(plan, CONTENT, tmp_path_factory.mktemp("demo") / "site").target
    with serving(folder) as address:
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


def test_every_passage_has_its_click(train: Page) -> None:
    """The passages' own marks for the week of November 23, as the demo's ladders give them."""
    names = [
        train.locator(f"#{passage} .play").evaluate(
            "(b) => b.querySelector('[data-name]').textContent"
        )
        for passage in ("platform", "pulling-out", "uneven-wheel", "long-bridge", "switchyard")
    ]
    shown = train.locator("#targets + ul [data-pick] > :not([hidden]) .mark b").all_text_contents()
    assert [name.split(",")[0] for name in names] == [f"Play {bpm}" for bpm in shown[:5]]
    assert names[3].endswith("half note")


def test_the_accelerando_can_be_heard_at_the_weeks_tempo(train: Page) -> None:
    """The part moves from 88 to 132, half as fast again, and so from the week's tempo."""
    place = train.locator("#pulling-out")
    place.locator("summary").first.click()
    place.get_by_label("Change tempo as written").check()
    play = place.locator(".play")
    name = play.evaluate("(button) => button.querySelector('[data-name]').textContent")
    found = re.fullmatch(r"Play (\d+) to ([\d.]+), quarter note", name)
    assert found, name
    first, last = int(found[1]), float(found[2])
    assert 44 <= first < 88  # slower than the goal, and no slower than half of it
    assert last == first * 132 / 88
    play.click()
    until(train, "starts.length > 6")
    expect(place.get_by_role("status")).to_have_text(f"Playing {found[1]} to {found[2]}")


def test_drone_and_click_sound_together(train: Page) -> None:
    train.locator("[data-drone] .play").first.click()
    train.locator("#uneven-wheel .play").click()
    until(train, "new Set(starts.map(({ kind }) => kind)).size === 2")
    assert train.evaluate("contexts.length") == 1


def test_a_player_hears_them_on_the_parts_page(browser: Browser, demo: str) -> None:
    page = browser.new_page()
    page.add_init_script(WITNESS)
    page.goto(demo + "winter-2026/beacon/part/trumpet/")
    page.locator("[data-drone] .play").first.click()
    until(page, "starts.length === 1")
    page.locator("[data-click] .play").first.click()
    until(page, "starts.length > 2")
    assert page.evaluate("violations") == []
    page.close()
