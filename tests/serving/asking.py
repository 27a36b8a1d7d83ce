"""Asking a preview, as a browser does."""

from __future__ import annotations

import http.client
import re
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from handbook.serving import Listener, Round, serve
from handbook.serving.server import PreviewServer
from handbook.serving.versions import Preview

CHECKOUT = Path(__file__).resolve().parents[2]
PATIENCE = 20.0  # seconds; a busy machine may be slow, a right answer comes in under one

SITE = {
    "index.html": b"<html><body><p>Home</p></body></html>",
    "fall/index.html": "<html><body>Fall ♭</body></html>".encode(),
    "404.html": b"<html><body>No page here</body></html>",
    "style.css": b"p {}",
}


def ask(
    server: PreviewServer, path: str, method: str = "GET", **headers: str
) -> tuple[int, dict[str, str], bytes]:
    connection = http.client.HTTPConnection(*server.server_address[:2], timeout=PATIENCE)  # type: ignore[arg-type]
    connection.request(method, path, headers=headers)
    answer = connection.getresponse()
    body = answer.read()
    connection.close()
    return answer.status, dict(answer.getheaders()), body


@contextmanager
def answering(preview: Preview) -> Iterator[PreviewServer]:
    """Serve a preview on a free port."""
    with PreviewServer(preview, 0) as running:
        thread = threading.Thread(target=running.serve_forever, kwargs={"poll_interval": 0.05})
        thread.start()
        yield running
        preview.end()
        running.shutdown()
        thread.join()


def version(server: PreviewServer) -> str:
    return version_at(server.address)


def version_at(address: str) -> str:
    found = re.search(r'data-version="([^"]+)"', page_at(address)[1])
    assert found is not None
    return found[1]


def wait_for(true: Callable[[], object], seconds: float = PATIENCE) -> None:
    ends = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < ends
        time.sleep(0.02)


def news(server: PreviewServer, mine: str) -> str:
    return ask(server, f"/-handbook-preview-/news?mine={mine}")[2].decode()


def page_at(address: str) -> tuple[int, str]:
    try:
        with urllib.request.urlopen(address, timeout=PATIENCE) as answer:
            return answer.status, answer.read().decode()
    except urllib.error.HTTPError as refusal:
        with refusal:
            return refusal.code, refusal.read().decode()


def wait_until(address: str, wanted: Callable[[int, str], bool]) -> str:
    """Ask again and again, as the page in the browser does."""
    ends = time.monotonic() + PATIENCE
    while time.monotonic() < ends:
        status, page = page_at(address)
        if wanted(status, page):
            return page
        time.sleep(0.1)
    raise AssertionError(page)


@dataclass
class Run:
    """A preview that runs in a thread: its address, what it told, and its end."""

    address: str = ""
    rounds: list[Round] = field(default_factory=list)
    faults: list[Exception] = field(default_factory=list)


@contextmanager
def running(folder: Path) -> Iterator[Run]:
    run, open_for_reading, stop = Run(), threading.Event(), threading.Event()

    def announce(address: str) -> None:
        run.address = address
        open_for_reading.set()

    def failed(fault: Exception) -> str:
        run.faults.append(fault)
        return "a fault"

    listener = Listener(announce, run.rounds.append, failed)
    before = threading.active_count()
    thread = threading.Thread(
        target=serve, args=(folder, listener), kwargs={"port": 0, "stop": stop}, daemon=True
    )
    thread.start()
    try:
        assert open_for_reading.wait(3 * PATIENCE)
        yield run
    finally:
        stop.set()
        thread.join(PATIENCE)
    assert threading.active_count() == before
