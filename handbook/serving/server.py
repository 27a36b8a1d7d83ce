"""The preview's web server: the latest site, or one page of what is to be mended.

Listens on this computer only. Each page asks in the background whether something newer
is there, and loads itself anew when it is. Whatever a reader sends or leaves out holds a
thread for a bounded time, and no more than a bounded number of threads.
"""

from __future__ import annotations

import io
import os
import select
import socket
import socketserver
import sys
import threading
import time
from contextlib import suppress
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

from handbook.serving.answers import HTML, TYPES, Answer, answer, whole
from handbook.serving.guard import CLOSED_TO_OTHERS, own_hosts, refusal
from handbook.serving.problem_page import sentence_page
from handbook.serving.versions import MOST_WAITING, Preview

HOST, HOST_6 = "127.0.0.1", "::1"
MOST_READERS = 2 * MOST_WAITING  # connections: those that wait, and as many that are answered
_ASKING = 10.0  # seconds in which a whole question must have come, since the last answer
_TAKING = 20.0  # seconds in which a reader must have taken a piece of an answer
_PIECE = 64 * 1024  # bytes
_CLOSING = 2.0  # seconds
_ASK_LATER = {"Retry-After": "5"}  # seconds
_BUSY = b"HTTP/1.1 503 Service Unavailable\r\nConnection: close\r\nRetry-After: 1\r\nContent-Length: 0\r\n\r\n"
_PREFIX = "/-handbook-preview-/"
_SCRIPT, _NEWS = f"{_PREFIX}reload.js", f"{_PREFIX}news"
# A hidden page does not ask: browsers hold no more than six connections to one host.
_RELOAD = """\
const mine = document.currentScript.dataset.version;
let question = null;
async function ask() {
  if (question || document.hidden) return;
  question = new AbortController();
  let pause = 1;
  try {
    const answer = await fetch("%s?mine=" + mine, { cache: "no-store", signal: question.signal });
    if (answer.ok && (await answer.text()) !== mine) { location.reload(); return; }
    if (answer.ok) pause = Number(answer.headers.get("Retry-After"));
  } catch {}
  question = null;
  setTimeout(ask, pause * 1000);
}
document.addEventListener("visibilitychange", () => {
  if (document.hidden) question?.abort();
  else ask();
});
ask();
"""


class PreviewServer(ThreadingHTTPServer):
    """Serves a preview; `port` 0 takes any free one. Raises OSError if the port is taken."""

    daemon_threads = True
    request_queue_size = 2 * MOST_READERS
    # On Windows, reuse would let two programs share a port, and a browser would meet either.
    allow_reuse_address = os.name != "nt"

    def __init__(self, preview: Preview, port: int, host: str = HOST) -> None:
        self.preview = preview
        self._readers: dict[socket.socket, threading.Thread] = {}
        self.address_family = socket.AF_INET6 if ":" in host else socket.AF_INET
        super().__init__((host, port), _Handler)
        self.hosts = own_hosts(self.server_port)

    @property
    def address(self) -> str:
        """Where a browser finds it."""
        return f"http://{HOST}:{self.server_port}/"

    @property
    def readers(self) -> int:
        """How many connections are open."""
        return len(self._readers)

    def server_bind(self) -> None:
        """Take the port, without asking the network what this computer is called."""
        socketserver.TCPServer.server_bind(self)
        self.server_name, self.server_port = HOST, self.server_address[1]

    def process_request(self, request: Any, client_address: Any) -> None:
        """Answer in a thread of its own, or send away whoever is one too many."""
        if self.readers >= MOST_READERS:
            with suppress(OSError):
                request.settimeout(0)
                request.send(_BUSY)
            self.shutdown_request(request)
            return
        work = self.process_request_thread
        thread = threading.Thread(target=work, args=(request, client_address), daemon=True)
        self._readers[request] = thread
        try:
            thread.start()
        except RuntimeError:  # the system has no more threads
            self._readers.pop(request, None)
            self.shutdown_request(request)

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        """Answer one reader until that one goes."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._readers.pop(request, None)

    def server_close(self) -> None:
        """Give the port back and see every reader off."""
        super().server_close()
        left = list(self._readers.items())
        for reader, _ in left:
            with suppress(OSError):
                reader.shutdown(socket.SHUT_RDWR)
        until = time.monotonic() + _CLOSING
        for _, thread in left:
            thread.join(max(0.0, until - time.monotonic()))

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say nothing of a browser that went away in the middle of an answer."""
        if not isinstance(sys.exception(), OSError):
            super().handle_error(request, client_address)


class _Question(io.RawIOBase):
    """What a reader sends, which has to be complete by a certain time, however slowly it comes."""

    def __init__(self, connection: socket.socket) -> None:
        self._connection, self._until = connection, 0.0

    def begin(self) -> None:
        """Count the time from now on."""
        self._until = time.monotonic() + _ASKING

    def readable(self) -> bool:
        """Whether it can be read: always."""
        return True

    def readinto(self, buffer: Any, /) -> int:
        """Read what has come, or raise TimeoutError."""
        left = self._until - time.monotonic()
        if left <= 0:
            raise TimeoutError
        self._connection.settimeout(left)
        return self._connection.recv_into(buffer)


class _Handler(BaseHTTPRequestHandler):
    server: PreviewServer
    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True

    def setup(self) -> None:
        super().setup()
        self._question = _Question(self.connection)
        self.rfile = io.BufferedReader(self._question)

    def handle_one_request(self) -> None:
        self._question.begin()
        super().handle_one_request()

    def do_GET(self) -> None:
        if "Content-Length" in self.headers or "Transfer-Encoding" in self.headers:
            self.close_connection = True  # what else was sent is no question
        path, _, query = self.path.partition("#")[0].partition("?")
        refused = refusal(self.headers, self.server.hosts, page=_is_of_a_page(path))
        if refused:
            self._refuse(HTTPStatus.FORBIDDEN, refused)
        elif path == _NEWS:
            self._send(self._news(query.removeprefix("mine=")))
        elif path == _SCRIPT:
            self._send(whole(HTTPStatus.OK, TYPES[".js"], (_RELOAD % _NEWS).encode()))
        else:
            self._send_shown(path)

    do_HEAD = do_GET  # noqa: N815 - the library's name

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:  # noqa: ARG002 - the library's signature
        """Answer what is no question, or none for a preview."""
        self.close_connection = True
        self._refuse(HTTPStatus(code), "What the browser asked for could not be understood.")

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the library's name
        """Say nothing: the terminal is for problems."""

    def _refuse(self, status: HTTPStatus, sentence: str) -> None:
        ours = f"{sentence} Open `{self.server.address}` instead."
        self._send(whole(status, HTML, sentence_page("Not shown", ours)))

    def _news(self, mine: str) -> Answer:
        news = self.server.preview.wait_for_news(mine, self._is_gone)
        if news is None:
            self.close_connection = True
            return whole(HTTPStatus.OK, TYPES[".txt"], mine.encode(), _ASK_LATER)
        return whole(HTTPStatus.OK, TYPES[".txt"], news.encode())

    def _is_gone(self) -> bool:
        """Whether the reader went away, or asks for something else already."""
        return bool(select.select([self.connection], [], [], 0)[0])

    def _send_shown(self, path: str) -> None:
        version, shown = self.server.preview.current
        # No validators are sent, so that a part is never of the version that `If-Range` names.
        part = "" if "If-Range" in self.headers else self.headers.get("Range", "")
        found = answer(shown, path, part)
        self._send(_with_script(found, version) if found.is_page else found)

    def _send(self, found: Answer) -> None:
        with found.body:
            self.send_response(found.status)
            sent = {"Content-Type": found.kind, "Content-Length": str(len(found.part))}
            for name, value in (sent | found.headers | CLOSED_TO_OTHERS).items():
                self.send_header(name, value)
            if self.close_connection:
                self.send_header("Connection", "close")
            self.connection.settimeout(_TAKING)
            self.end_headers()
            if self.command != "HEAD":
                self._write(found)

    def _write(self, found: Answer) -> None:
        found.body.seek(found.part.start)
        left = len(found.part)
        while left and (piece := found.body.read(min(left, _PIECE))):
            self.wfile.write(piece)
            left -= len(piece)
        if left:  # the file became shorter meanwhile: the reader must see that something is missing
            self.close_connection = True


def _is_of_a_page(path: str) -> bool:
    name = path.rpartition("/")[2]
    return not path.startswith(_PREFIX) and ("." not in name or name.endswith(".html"))


def _with_script(found: Answer, version: str) -> Answer:
    """Put the reloading script at a page's end, as a file, so that a strict policy takes it."""
    script = f'<script src="{_SCRIPT}" data-version="{version}"></script>'.encode()
    with found.body:
        before, body, after = found.body.read().rpartition(b"</body>")
    page = before + script + body + after if body else after + script
    return whole(found.status, HTML, page, found.headers)
