"""Waiting for a page under a policy that forbids it to evaluate text by itself."""

from __future__ import annotations

import time

from playwright.sync_api import Page

_STEP = 50  # milliseconds


def until(page: Page, condition: str, seconds: float = 10.0) -> None:
    """Wait until an expression is true on the page; fails the test if it never is."""
    end = time.monotonic() + seconds
    while not page.evaluate(f"Boolean({condition})"):
        assert time.monotonic() < end, f"never came true: {condition}"
        page.wait_for_timeout(_STEP)
