"""From an address to what is sent: a file of the site or a part of it, or the page of lost readers."""

from __future__ import annotations

import io
import os
import re
from dataclasses import field
from http import HTTPStatus
from pathlib import PurePosixPath
from typing import BinaryIO
from urllib.parse import quote, unquote

from handbook.cleaning.model import UncleanError
from handbook.loader.media_files import published_bytes
from handbook.records import dataclass
from handbook.serving.versions import OnDisk, Shown

HTML = "text/html; charset=utf-8"
TYPES = {
    ".html": HTML,
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".xml": "application/xml",
    ".txt": "text/plain; charset=utf-8",
    ".ics": "text/calendar; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".webp": "image/webp",
    ".ico": "image/vnd.microsoft.icon",
    ".woff2": "font/woff2",
    ".mp3": "audio/mpeg",
    ".ogg": "audio/ogg",
    ".m4a": "audio/mp4",
    ".wav": "audio/wav",
    ".pdf": "application/pdf",
}
"""By ending, not by the system's own lists: they differ, and browsers are told not to guess."""

_OTHER = "application/octet-stream"
_ERROR_PAGE = "404.html"
_NO_PAGE = b"<!doctype html><title>No page here</title><p>No page here.</p>"
_RANGE = re.compile(r"bytes=([0-9]{0,18})-([0-9]{0,18})", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Answer:
    """What is sent: `part` of the `size` bytes of `body`."""

    status: HTTPStatus
    kind: str
    body: BinaryIO
    size: int
    part: range
    headers: dict[str, str] = field(default_factory=dict)

    @property
    def is_page(self) -> bool:
        """Whether a browser shows it as a page."""
        return self.kind == HTML


def whole(
    status: HTTPStatus, kind: str, body: bytes, headers: dict[str, str] | None = None
) -> Answer:
    """Answer with bytes that are there already."""
    return Answer(status, kind, io.BytesIO(body), len(body), range(len(body)), headers or {})


def answer(shown: Shown, path: str, asked_part: str = "") -> Answer:
    """Find what an address shows; `path` is as the browser writes it, without its query.

    `asked_part` is the header `Range`, if any (RFC 9110, 14.2).
    """
    if shown.page:
        return whole(HTTPStatus.SERVICE_UNAVAILABLE, HTML, shown.page)
    name = _name(shown, path)
    if name not in shown.files and f"{name}/index.html" in shown.files:
        return whole(
            HTTPStatus.MOVED_PERMANENTLY, TYPES[".txt"], b"", {"Location": quote(f"/{name}/")}
        )
    opened = _opened(shown.files.get(name))
    if opened is not None:
        return _file(name, opened, asked_part)
    folder = f"{name.partition('/')[0]}/{_ERROR_PAGE}"  # of the language of the address
    found = shown.files.get(folder) or shown.files.get(_ERROR_PAGE)
    with _opened(found) or io.BytesIO(_NO_PAGE) as lost:
        return whole(HTTPStatus.NOT_FOUND, HTML, lost.read())


def part_of(asked: str, size: int) -> range | None:
    """Give the places of the bytes that a `Range` asks for (RFC 9110, 14.1.2 and 14.2).

    None for all of them: what is not understood, and several parts at once, may be passed
    over. Empty if nothing of what is asked for is there.
    """
    found = _RANGE.fullmatch(asked.replace(" ", ""))
    if not found or not any(found.groups()):
        return None
    first, last = found.groups()
    if not first:
        return range(max(0, size - int(last)), size)
    if last and int(last) < int(first):
        return None
    return range(int(first), min(int(last) + 1, size) if last else size)


def _name(shown: Shown, path: str) -> str:
    """Give the name of the file at an address, which need not be there."""
    plain = unquote(path)
    names = [plain.removeprefix("/")]
    if plain.startswith(shown.base):
        names.append(plain.removeprefix(shown.base))
    full = [f"{name}index.html" if name.endswith("/") or not name else name for name in names]
    return next((name for name in full if name in shown.files), full[0])


def _opened(file: bytes | OnDisk | None) -> BinaryIO | None:
    """Open a file, media as they are published; None for one that is not there, or is a link that leads elsewhere."""
    if isinstance(file, bytes):
        return io.BytesIO(file)
    if file is None:
        return None
    try:
        real = file.path.resolve()
        inside = real.is_relative_to(file.folder.resolve())
        return io.BytesIO(published_bytes(real)) if inside and real.is_file() else None
    except (OSError, RuntimeError, UncleanError):  # RuntimeError: links in a ring
        return None


def _file(name: str, body: BinaryIO, asked_part: str) -> Answer:
    kind = TYPES.get(PurePosixPath(name).suffix.lower(), _OTHER)
    size = body.seek(0, os.SEEK_END)
    body.seek(0)
    part = part_of(asked_part, size) if kind != HTML else None
    if part is None:
        return Answer(HTTPStatus.OK, kind, body, size, range(size), {"Accept-Ranges": "bytes"})
    if not part:
        body.close()
        unmet = {"Content-Range": f"bytes */{size}"}
        return whole(HTTPStatus.REQUESTED_RANGE_NOT_SATISFIABLE, TYPES[".txt"], b"", unmet)
    shown = {"Content-Range": f"bytes {part[0]}-{part[-1]}/{size}"}
    return Answer(HTTPStatus.PARTIAL_CONTENT, kind, body, size, part, shown)
