"""A folder served to the browser, on a free port of this computer."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread


class _QuietHandler(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"  # one connection for many files, as on real hosts
    disable_nagle_algorithm = True  # or small files wait for an answer to their own headers

    def __init__(self, *args: object, headers: Mapping[str, str], directory: str) -> None:
        self.added = headers
        super().__init__(*args, directory=directory)  # type: ignore[arg-type]

    def end_headers(self) -> None:
        for name, value in self.added.items():
            self.send_header(name, value)
        if "/assets/" in self.path:  # versioned by their addresses, so hosts let them be kept
            self.send_header("Cache-Control", "max-age=3600")
        super().end_headers()

    def log_message(self, *args: object) -> None:
        """Say nothing."""


class _Server(ThreadingHTTPServer):
    def handle_error(self, request: object, client_address: object) -> None:
        """Let a browser hang up: it leaves pages before they are whole."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


@contextmanager
def serving(folder: Path, headers: Mapping[str, str] | None = None) -> Iterator[str]:
    """Serve a folder and give its address, which ends with a slash."""
    handler = partial(_QuietHandler, headers=headers or {}, directory=str(folder))
    server = _Server(("127.0.0.1", 0), handler)
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        server.server_close()
