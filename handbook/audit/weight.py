"""What takes long to load on a phone with a weak signal; told, never refused.

The bounds are ours: at 50 kB a second, which a phone gets at the edge of a network, a page
should be there within two seconds, the first one of a first visit within six, and a recording
begin within half a minute.
"""

from __future__ import annotations

import gzip
import re
from collections.abc import Iterator, Sequence

from handbook.audit.model import Concern, Seen
from handbook.outputs.model import SiteFile
from handbook.source.links import MEDIA

MOST_PAGE = 100_000  # bytes of a page as hosts send it, which is packed
MOST_FIRST_VIEW = 300_000  # bytes of the first page with the styles, scripts and type it loads
MOST_MEDIA = 1_500_000  # bytes of a picture, sound or document
_KILOBYTE, _MEGABYTE = 1_000, 1_000_000
_HOME = "index.html"
_LOADED = re.compile(rb'(?:href|src)="(?:\./)?([^"?#]+\.(?:css|js|woff2))')
_PACKED = frozenset({"woff2"})  # endings of what packing makes no smaller
_FAST = 1  # of gzip: hosts pack a little better

HEAVY_PAGE = Concern(
    "heavy-page",
    "this page takes long to load on a weak signal",
    "part what you wrote for it in several pages",
    refuses=False,
)
HEAVY_FIRST_VIEW = Concern(
    "heavy-first-view",
    "a first visit takes long to load on a weak signal",
    "shorten what stands on the first page",
    refuses=False,
)
HEAVY_MEDIA_FILE = Concern(
    "heavy-media-file",
    "this file takes long to load on a weak signal",
    "save a sound as mp3 or m4a, mono, 64 kbit/s; make a picture smaller",
    refuses=False,
)


def heavy_files(files: Sequence[SiteFile]) -> Iterator[Seen]:
    """Find pages over 100 kB as they are sent, a first visit over 300 kB, media over 1.5 MB; sum several up."""
    media: list[int] = []
    first = _first_view(files)
    if first > MOST_FIRST_VIEW:
        words = f"{_HOME} and what it loads, {first / _KILOBYTE:,.0f} kB"
        yield Seen(HEAVY_FIRST_VIEW, words, _HOME)
    for file in files:
        if file.path.endswith(".html"):
            content = file.read()
            sent = _sent(file.path, content) if len(content) > MOST_PAGE else 0
            if sent > MOST_PAGE:
                yield Seen(HEAVY_PAGE, f"{file.path}, {sent / _KILOBYTE:,.0f} kB", file.path)
        elif file.path.startswith(f"{MEDIA}/"):
            size = len(file.read())
            if size > MOST_MEDIA:
                media.append(size)
                words = f"{file.path}, {size / _MEGABYTE:.1f} MB"
                yield Seen(HEAVY_MEDIA_FILE, words, file.path)
    if len(media) > 1:
        words = f"{len(media)} such files, {sum(media) / _MEGABYTE:.1f} MB together"
        yield Seen(HEAVY_MEDIA_FILE, words, "")


def _first_view(files: Sequence[SiteFile]) -> int:
    """Give the bytes that a first visit to the first page brings; 0 without one."""
    by_path = {file.path: file for file in files}
    if _HOME not in by_path:
        return 0
    home = by_path[_HOME].read()
    loaded = dict.fromkeys(name.decode() for name in _LOADED.findall(home))
    sizes = (_sent(name, by_path[name].read()) for name in loaded if name in by_path)
    return _sent(_HOME, home) + sum(sizes)


def _sent(path: str, content: bytes) -> int:
    if path.rpartition(".")[2] in _PACKED:
        return len(content)
    return len(gzip.compress(content, _FAST))
