"""The player at the foot of the page, and the buttons that start it."""

from __future__ import annotations

from playwright.sync_api import Locator, Page

GOAL, THIS_WEEK = "Goal", "This week"


def bar(page: Page) -> Locator:
    return page.locator("#player-bar")


def button(page: Page, name: str) -> Locator:
    """The first button of a section, which starts and stops what it is about."""
    return page.locator(f"#{name} .play").first


def stop_or_play(page: Page) -> Locator:
    return bar(page).locator(".play")


def status(page: Page) -> Locator:
    """What is told to a screen reader."""
    return page.get_by_role("status")


def unfold(page: Page) -> Locator:
    """Open the options of what the player shows."""
    bar(page).get_by_role("button", name="Options").click()
    return bar(page)


def ready(page: Page, name: str, *, tempo: str = GOAL, division: str = "") -> None:
    """Start a passage, choose its tempo and division, and stop it: as if nothing had sounded."""
    button(page, name).click()
    unfold(page).get_by_role("button", name=tempo).click()
    if division:
        bar(page).get_by_role("combobox", name="Click").select_option(division)
    bar(page).get_by_role("button", name="Options").click()
    button(page, name).click()
    page.wait_for_timeout(100)
    page.evaluate("() => { starts.length = 0; if (window.heard) heard.length = 0; }")
