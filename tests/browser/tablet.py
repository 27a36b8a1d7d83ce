"""A tablet with the stand view of the small content on it."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Browser, Page

from handbook.binder.assemble import binder_files
from tests.binder.conftest import binder_of

PODIUM = (820, 1180)
ON_WEDNESDAY = "2026-10-21T10:20:30-05:00"  # both bands, a quarter of an hour after their start


def stand_address(content: Path) -> str:
    """Write the file beside the content, and give its address, as it is opened from a tablet's own storage."""
    made = next(one for one in binder_files(binder_of(content)) if one.path == "winter/stand.html")
    file = content.parent / "stand.html"
    file.write_bytes(made.content)
    return file.as_uri()


def wait_until(page: Page, expression: str) -> None:
    """Wait until an expression is true; asked from outside, since the file's policy lets no page evaluate text."""
    for _ in range(200):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(25)
    raise AssertionError(f"{expression} did not come true")


class Tablet:
    """A device with the stand view on it, whose clock is held; its own zone is far from the school's."""

    def __init__(self, browser: Browser, address: str) -> None:
        self._context = browser.new_context(
            viewport={"width": PODIUM[0], "height": PODIUM[1]},
            timezone_id="Asia/Tokyo",
            accept_downloads=True,
            has_touch=True,
        )
        self.page = self._context.new_page()
        self.page.clock.install(time=ON_WEDNESDAY)
        self.address, self.asked, self.faults = address, list[str](), list[str]()
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))

    def at(self, moment: str, *, anew: bool = True) -> Page:
        """Open the file at a moment, with nothing kept from before if it is `anew`."""
        self.page.clock.set_fixed_time(moment)
        if not anew and self.page.url == self.address:
            self.page.reload()  # in the same process, which knows what was kept a moment ago
            return self.page
        self.page.goto(self.address)
        if anew:
            self.page.evaluate("localStorage.clear()")
            self.page.reload()
        return self.page

    def tap(self, key: str) -> None:
        self.page.locator(f'[data-key="{key}"]').first.tap()

    def late(self, key: str) -> None:
        """Choose what helps when class runs late."""
        self.tap("late")
        self.tap(key)

    def drop_last(self) -> bool:
        """Drop the last block that may fall out, and tell whether there was one."""
        self.tap("late")
        found = self.page.locator(".is-choice [data-key^='drop ']").first
        key = found.get_attribute("data-key") or ""
        found.tap()
        return key != "drop none"

    def press(self, key: str) -> None:
        """Work a button by key, as it is reached with Tab."""
        button = self.page.locator(f'[data-key="{key}"]').first
        button.focus()
        button.press("Enter")

    def later(self, moment: str) -> None:
        """Let time go on to a moment, and the view see it."""
        self.page.clock.set_fixed_time(moment)
        self.page.evaluate("tick()")

    def close(self) -> None:
        self._context.close()
