"""The preview's web server: the latest site, or one page of what is to be mended.

Listens on this computer only. Each page asks in the background whether something newer
is there, and loads itself anew when it is.
"""

from __future__ import annotations

import mimetypes
import posixpath
import sys
from dataclasses import dataclass
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Condition
from typing import Any
from urllib.parse import unquote, urlsplit

HOST = "127.0.0.1"
_WAIT = 20.0  # seconds that a question for news is held before it is answered with no
_PREFIX = "/-handbook-preview-/"
_SCRIPT, _NEWS = f"{_PREFIX}reload.js", f"{_PREFIX}news"
_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".ics": "text/calendar; charset=utf-8",
    ".svg": "image/svg+xml",
    ".woff2": "font/woff2",
    ".txt": "text/plain; charset=utf-8",
}
_RELOAD = """\
const mine = document.currentScript.dataset.version;
async function ask() {
  try {
    const answer = await fetch("%s?mine=" + mine, { cache: "no-store" });
    if (answer.ok && (await answer.text()) !== mine) { location.reload(); return; }
    setTimeout(ask, answer.ok ? 0 : 1000);
  } catch { setTimeout(ask, 1000); }
}
ask();
"""


@dataclass(frozen=True, slots=True)
class Shown:
    """What every address shows: files of a site, or one page instead of all of them."""

    site: Path | None = None
    page: bytes = b""


class Preview:
    """What is shown now, and its version; safe to use from several threads."""

    def __init__(self) -> None:
        self._shown, self._version = Shown(), 0
        self._news = Condition()

    @property
    def current(self) -> tuple[int, Shown]:
        """The version and what is shown."""
        with self._news:
            return self._version, self._shown

    def show(self, shown: Shown) -> None:
        """Show something newer from now on."""
        with self._news:
            self._shown, self._version = shown, self._version + 1
            self._news.notify_all()

    def wait_for_news(self, mine: int, seconds: float) -> int:
        """Give the version as soon as it is another than `mine`, at the latest after `seconds`."""
        with self._news:
            self._news.wait_for(lambda: self._version != mine, timeout=seconds)
            return self._version


class PreviewServer(ThreadingHTTPServer):
    """Serves a preview; `port` 0 takes any free one. Raises OSError if the port is taken."""

    daemon_threads = True
    allow_reuse_address = True

    def __init__(self, preview: Preview, port: int) -> None:
        self.preview = preview
        super().__init__((HOST, port), _Handler)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say nothing of a browser that went away in the middle of an answer."""
        if not isinstance(sys.exception(), OSError):
            super().handle_error(request, client_address)

    @property
    def address(self) -> str:
        """Where a browser finds it."""
        return f"http://{HOST}:{self.server_address[1]}/"


class _Handler(BaseHTTPRequestHandler):
    server: PreviewServer
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        parts = urlsplit(self.path)
        if parts.path == _SCRIPT:
            self._send(HTTPStatus.OK, _TYPES[".js"], (_RELOAD % _NEWS).encode())
        elif parts.path == _NEWS:
            mine = parts.query.removeprefix("mine=")
            news = self.server.preview.wait_for_news(int(mine) if mine.isdigit() else -1, _WAIT)
            self._send(HTTPStatus.OK, _TYPES[".txt"], str(news).encode())
        else:
            self._send_shown(unquote(parts.path))

    do_HEAD = do_GET  # noqa: N815 - the library's name

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the library's name
        """Say nothing: the terminal is for problems."""

    def _send_shown(self, path: str) -> None:
        version, shown = self.server.preview.current
        if shown.site is None:
            self._send_page(HTTPStatus.SERVICE_UNAVAILABLE, shown.page, version)
            return
        file = _file_at(shown.site, path)
        if file.is_dir() and not path.endswith("/"):
            self.send_response(HTTPStatus.MOVED_PERMANENTLY)
            self.send_header("Location", f"{urlsplit(self.path).path}/")
            self.send_header("Content-Length", "0")
            self.end_headers()
            return
        file = file / "index.html" if path.endswith("/") else file
        if not file.is_file():
            missing = shown.site / "404.html"
            page = (
                missing.read_bytes()
                if missing.is_file()
                else b"<!doctype html><p>No page here.</p>"
            )
            self._send_page(HTTPStatus.NOT_FOUND, page, version)
        elif file.suffix == ".html":
            self._send_page(HTTPStatus.OK, file.read_bytes(), version)
        else:
            self._send(HTTPStatus.OK, _type_of(file), file.read_bytes())

    def _send_page(self, status: HTTPStatus, page: bytes, version: int) -> None:
        """Send a page with the reloading script at its end, as a file, so that a strict policy takes it."""
        script = f'<script src="{_SCRIPT}" data-version="{version}"></script>'.encode()
        before, body, after = page.rpartition(b"</body>")
        whole = before + script + body + after if body else page + script
        self._send(status, _TYPES[".html"], whole)

    def _send(self, status: HTTPStatus, kind: str, content: bytes) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)


def _file_at(site: Path, path: str) -> Path:
    """Find the file of an address; dots cannot lead out of the site."""
    return site / posixpath.normpath(f"/{path.replace(chr(92), '/').lstrip('/')}").lstrip("/")


def _type_of(file: Path) -> str:
    return (
        _TYPES.get(file.suffix) or mimetypes.guess_type(file.name)[0] or "application/octet-stream"
    )
