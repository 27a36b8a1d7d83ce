"""A page as a reader opens it: device, colours, day and place, and all that went over the wire."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal
from zoneinfo import ZoneInfo

from playwright.sync_api import Browser, Page

from tests.browser.contexts import lent

PHONE, DESK = 390, 1280
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
AN_EARLIER_MORNING = datetime(2026, 11, 25, 9, tzinfo=ZoneInfo("America/Chicago"))


@dataclass
class OpenTab:
    """An open page with what it asked for and what went wrong."""

    page: Page
    base: str
    requested: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    def go(self, path: str) -> Page:
        self.page.goto(self.base + path)
        return self.page


@contextmanager
def visiting(
    browser: Browser,
    base: str,
    *,
    width: int = PHONE,
    height: int = 844,
    scheme: str = "light",
    now: datetime | None = AN_EARLIER_MORNING,
    zone: str = "America/Chicago",
    scripts: bool = True,
    calm: bool = True,
) -> Iterator[OpenTab]:
    """Open an empty tab for the site at `base`; `now` None leaves the device's own clock."""
    options = {
        "reduced_motion": "reduce" if calm else "no-preference",
        "timezone_id": zone,
        "locale": "en-US",
        "java_script_enabled": scripts,
        "clock": now is not None and scripts,
    }
    with lent(browser, base, **options) as context:
        page = context.new_page()
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        if now is not None and scripts:
            page.clock.set_fixed_time(now)
        yield _watched(page, base)


def _watched(page: Page, base: str) -> OpenTab:
    visit = OpenTab(page, base)
    page.on("request", lambda request: visit.requested.append(request.url))
    page.on("popup", lambda popup: visit.errors.append(f"{page.url}: opened {popup.url}"))
    page.on("pageerror", lambda error: visit.errors.append(f"{page.url}: {error}"))
    page.on(
        "console",
        lambda message: (
            visit.errors.append(f"{page.url}: {message.text}")
            if message.type in {"error", "warning"}
            else None
        ),
    )
    return visit
