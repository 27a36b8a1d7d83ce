"""Asking a preview, as a browser does."""

from __future__ import annotations

import http.client
import re
import time
import urllib.error
import urllib.request
from collections.abc import Callable
from pathlib import Path

from handbook.serving.server import PreviewServer

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


def version(server: PreviewServer) -> str:
    found = re.search(rb'data-version="([^"]+)"', ask(server, "/")[2])
    assert found is not None
    return found[1].decode()


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
