"""Click and drone in the system's Chromium, on a page that holds a component of each kind."""

from __future__ import annotations

import asyncio
import os
import shutil
from collections.abc import Callable, Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

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
# The strictest policy the pages are made for: nothing inline, no eval, no worker from a blob.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
    "font-src 'self'; connect-src 'self'; media-src 'self'; base-uri 'self'; form-action 'self'"
)
# Before any script of the page: note every audio context and every start of a sound.
WITNESS = """
window.contexts = []; window.starts = []; window.violations = [];
window.addEventListener("securitypolicyviolation", (event) => violations.push(event.violatedDirective));
window.AudioContext = class extends AudioContext { constructor(...options) { super(...options); contexts.push(this); } };
for (const kind of [AudioBufferSourceNode, OscillatorNode]) {
  const start = kind.prototype.start;
  kind.prototype.start = function (when, ...rest) {
    starts.push({ when, now: this.context.currentTime, wall: performance.now(), kind: kind.name });
    return start.call(this, when, ...rest);
  };
}
"""
MakePage = Callable[..., Page]


class _Handler(SimpleHTTPRequestHandler):
    def end_headers(self) -> None:
        self.send_header("Content-Security-Policy", POLICY)
        super().end_headers()

    def log_message(self, *args: object) -> None:
        """Say nothing."""


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if not found:
        if os.environ.get("CI") == "true":
            pytest.fail("no Chromium: apt-get install chromium")
        pytest.skip("no Chromium")
    # A second Playwright in one process asks for a thread without a running loop.
    other = asyncio._get_running_loop()
    asyncio._set_running_loop(None)
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=found, args=list(FLAGS))
        yield opened
        opened.close()
    asyncio._set_running_loop(other)


@pytest.fixture(scope="package")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the bench, served under the strict policy."""
    folder = write_bench(tmp_path_factory.mktemp("bench"))
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Handler, directory=str(folder)))
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def make_page(browser: Browser, site: str) -> Iterator[MakePage]:
    """Open the bench with the witness; what it complains of fails the test at its end."""
    opened: list[BrowserContext] = []
    complaints: list[str] = []

    def make(
        *, script: str = "", today: str = "2026-09-22T15:00:00-05:00", **options: object
    ) -> Page:
        context = browser.new_context(viewport={"width": 390, "height": 844}, **options)  # type: ignore[arg-type]
        opened.append(context)
        page = context.new_page()
        if today:
            page.clock.set_fixed_time(today)
        page.add_init_script(WITNESS + script)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on(
            "console", lambda line: complaints.append(line.text) if line.type == "error" else None
        )
        page.goto(site)
        return page

    yield make
    for context in opened:
        context.close()
    assert complaints == []


@pytest.fixture(scope="package")
def lab(browser: Browser, site: str) -> Iterator[Page]:
    """One bench page that is kept open for rendering offline."""
    page = browser.new_page()
    page.goto(site)
    yield page
    page.close()
