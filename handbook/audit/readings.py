"""What can be read in the files of a site: texts, alternative texts, addresses of links, names."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from html import unescape
from itertools import pairwise

from handbook.audit.model import Words
from handbook.outputs.addresses import is_sheet
from handbook.outputs.model import SiteFile

MOST_PAGES = 40  # of a document that are looked at
OWN_FILES = "assets/"
"""What comes with the program: the same on every site, and not the director's."""

# Where a run of words ends: a tag that begins or ends something of its own on the page.
_EDGE = re.compile(
    r"</?(?:address|article|aside|audio|blockquote|body|button|caption|dd|details|div|dl|dt"
    r"|fieldset|figcaption|figure|footer|form|h[1-6]|head|header|hr|img|label|legend|li|link|main"
    r"|meta|nav|ol|option|p|pre|script|section|select|source|summary|svg|table|tbody|td|text|tfoot"
    r"|th|thead|title|tr|ul|video|entry|id|updated|name|loc|url)\b"
)
_BREAK = re.compile(r"<br\s*/?>")
_TAG = re.compile(r"<[^>]*>")
# What is said or shown from an attribute, and where a link leads.
_ATTRIBUTE = re.compile(
    r"""\s(alt|title|aria-label|aria-description|content|href|src|placeholder|value|data-[\w-]+)=(?:"([^"]*)"|'([^']*)')"""
)
_LINKS = frozenset({"href", "src"})
_SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.-]+:|//")
_STRING = re.compile(r'"((?:[^"\\]|\\.)*)"')
_SINGLE = re.compile(r"[^\W\d_]+")
_SPACES = re.compile(r"[^\S\n]+")


def readings(files: Sequence[SiteFile]) -> Iterator[Words]:
    """Give all that can be read, file by file; what was given of another file is left out.

    Files that come with the program are left out too, and sheets to print, which say what their
    pages say.
    """
    told: set[str] = set()
    for file in files:
        read = _READERS.get(file.path.rpartition(".")[2])
        if read is None or file.path.startswith(OWN_FILES) or is_sheet(file.path):
            continue
        own: set[str] = set()
        for raw in read(file.read()):
            if raw in told:
                continue
            own.add(raw)
            for text in _texts(raw):
                yield Words(file.path, text, frozenset(_SINGLE.findall(text.casefold())))
        told |= own


def _texts(raw: str) -> Iterator[str]:
    """Give the words of a piece of HTML, and those of its attributes."""
    if "<" not in raw:
        yield from _shown(raw)
        return
    for name, double, single in _ATTRIBUTE.findall(raw):
        value = double or single
        if name not in _LINKS or _SCHEME.match(value):
            yield from _shown(value)
    yield from _shown(_TAG.sub("", _BREAK.sub("\n", raw)))


def _shown(raw: str) -> Iterator[str]:
    text = _SPACES.sub(" ", unescape(raw) if "&" in raw else raw).strip()
    if text:
        yield text


def _pieces(content: bytes) -> Iterator[str]:
    text = _text(content)
    edges = [0, *(edge.start() for edge in _EDGE.finditer(text)), len(text)]
    return (text[begin:end] for begin, end in pairwise(edges))


def _lines(content: bytes) -> Iterable[str]:
    return _text(content).splitlines()


def _document(content: bytes) -> Iterable[str]:
    from handbook.cleaning.pdf import text_of_pdf  # noqa: PLC0415 - its library is slow to load

    return ["\n".join(text_of_pdf(content, MOST_PAGES)).replace("<", "‹")]


def _text(content: bytes) -> str:
    return content.decode(errors="replace")


def _strings(content: bytes) -> Iterator[str]:
    """Give the texts of data that is written as JSON, also within a script."""
    for written in _STRING.findall(_text(content)):
        # Cannot be taken for HTML: what looks like a tag in it is shown as it is.
        yield _decoded(written).replace("<", "‹")


def _decoded(written: str) -> str:
    if "\\" not in written:
        return written
    try:
        return str(json.loads(f'"{written}"', strict=False))
    except ValueError:  # a code of scripts that JSON has not
        return written


def _calendar(content: bytes) -> Iterator[str]:
    """Give the lines of a calendar file, unfolded (RFC 5545, 3.1), without their codes (3.3.11)."""
    for line in re.sub(r"\r?\n[ \t]", "", _text(content)).splitlines():
        _, _, value = line.partition(":")
        yield re.sub(r"\\([,;\\])", r"\1", value.replace("\\n", "\n").replace("\\N", "\n"))


_READERS: dict[str, Callable[[bytes], Iterable[str]]] = {
    "html": _pieces,
    "xml": _pieces,
    "svg": _pieces,
    "js": _strings,
    "json": _strings,
    "webmanifest": _strings,
    "ics": _calendar,
    "txt": _lines,
    "pdf": _document,
}
