"""Click and drone in the system's Chromium, on a page that holds a component of each kind."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterator
from contextlib import ExitStack

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.contexts import lent
from tests.browser.policy import POLICY
from tests.browser.served import serving
from tests.browser_sound.bench import write_bench

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
# Before any script of the page: note every audio context, every start and every end of a sound.
WITNESS = """
window.contexts = []; window.starts = []; window.ends = []; window.violations = [];
window.addEventListener("securitypolicyviolation", (event) => violations.push(event.violatedDirective));
window.AudioContext = class extends AudioContext { constructor(...options) { super(...options); contexts.push(this); } };
for (const kind of [AudioBufferSourceNode, OscillatorNode]) {
  const start = kind.prototype.start;
  kind.prototype.start = function (when, ...rest) {
    starts.push({ when, now: this.context.currentTime, wall: performance.now(), kind: kind.name });
    return start.call(this, when, ...rest);
  };
  const stop = kind.prototype.stop;
  kind.prototype.stop = function (...rest) { ends.push(kind.name); return stop.call(this, ...rest); };
}
"""
MakePage = Callable[..., Page]


@pytest.fixture(scope="package")
def browser(chromium: str) -> Iterator[Browser]:
    # A second Playwright in one process asks for a thread without a running loop.
    other = asyncio._get_running_loop()
    asyncio._set_running_loop(None)
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=chromium, args=list(FLAGS))
        yield opened
        opened.close()
    asyncio._set_running_loop(other)


@pytest.fixture(scope="package")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the bench, served under the strict policy."""
    folder = write_bench(tmp_path_factory.mktemp("bench"))
    with serving(folder, {"Content-Security-Policy": POLICY}) as address:
        yield address


@pytest.fixture
def make_page(browser: Browser, site: str) -> Iterator[MakePage]:
    """Open the bench with the witness; what it complains of fails the test at its end."""
    complaints: list[str] = []
    with ExitStack() as opened:

        def make(
            *, script: str = "", today: str = "2026-09-22T15:00:00-05:00", **options: object
        ) -> Page:
            context = opened.enter_context(lent(browser, site, clock=bool(today), **options))
            page = context.new_page()
            page.set_viewport_size({"width": 390, "height": 844})
            if today:
                page.clock.set_fixed_time(today)
            page.add_init_script(WITNESS + script)
            page.on("pageerror", lambda error: complaints.append(str(error)))
            page.on(
                "console",
                lambda line: complaints.append(line.text) if line.type == "error" else None,
            )
            page.goto(site)
            return page

        yield make
    assert complaints == []


@pytest.fixture(scope="package")
def lab(browser: Browser, site: str) -> Iterator[Page]:
    """One bench page that is kept open for rendering offline."""
    page = browser.new_page()
    page.goto(site)
    yield page
    page.close()
