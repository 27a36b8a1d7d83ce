"""A context that is used again is as new to each test."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

LEAVE = "() => { for (const kept of [localStorage, sessionStorage]) kept.setItem('left', 'x'); document.cookie = 'left=x'; }"
LEFT = "[localStorage.length, sessionStorage.length, document.cookie, navigator.onLine]"


def test_nothing_is_left_for_the_next(browser: Browser, site: str) -> None:
    with visiting(browser, site, width=1280, scheme="dark") as first:
        first.go("past/").evaluate(LEAVE)
        assert first.page.evaluate(LEFT) == [1, 1, "left=x", True]
        first.page.context.set_offline(offline=True)
        context = first.page.context
    with visiting(browser, site) as second:
        assert second.page.context is context
        assert len(second.page.context.pages) == 2  # its own, and the blank one
        assert second.go("past/").evaluate(LEFT) == [0, 0, "", True]
        assert second.page.evaluate(
            "[innerWidth, matchMedia('(prefers-color-scheme: dark)').matches]"
        ) == [390, False]


def test_two_at_once_are_apart(browser: Browser, site: str) -> None:
    with visiting(browser, site) as one, visiting(browser, site) as other:
        one.go("past/").evaluate(LEAVE)
        assert other.go("past/").evaluate(LEFT) == [0, 0, "", True]


def test_one_that_failed_is_not_used_again(browser: Browser, site: str) -> None:
    contexts = []

    def fail() -> None:
        with visiting(browser, site) as visit:
            contexts.append(visit.page.context)
            raise LookupError

    with pytest.raises(LookupError):
        fail()
    with visiting(browser, site) as visit:
        assert visit.page.context is not contexts[0]
