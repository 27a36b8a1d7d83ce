"""Media files as they are published: the picture, sound or document, and nothing said beside it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from handbook.cleaning.jpeg import clean_jpeg
from handbook.cleaning.model import UncleanError
from handbook.cleaning.mp3 import clean_mp3, frame_length
from handbook.cleaning.mp4 import clean_mp4
from handbook.cleaning.ogg import clean_ogg
from handbook.cleaning.png import SIGNATURE, clean_png
from handbook.cleaning.riff import clean_wav, clean_webp


def _clean_pdf(raw: bytes) -> bytes:
    from handbook.cleaning.pdf import clean_pdf  # noqa: PLC0415 - its library is slow to load

    return clean_pdf(raw)


_CLEANERS: Mapping[str, Callable[[bytes], bytes]] = {
    "jpg": clean_jpeg,
    "jpeg": clean_jpeg,
    "png": clean_png,
    "webp": clean_webp,
    "mp3": clean_mp3,
    "m4a": clean_mp4,
    "ogg": clean_ogg,
    "wav": clean_wav,
    "pdf": _clean_pdf,
}
_KINDS = {
    "jpg": "JPEG picture",
    "jpeg": "JPEG picture",
    "png": "PNG picture",
    "webp": "WebP picture",
    "mp3": "MP3 sound",
    "m4a": "MP4 sound",
    "ogg": "Ogg sound",
    "wav": "WAVE sound",
    "pdf": "PDF document",
}
_SIGNS: Sequence[tuple[str, int, bytes]] = (
    ("jpg", 0, b"\xff\xd8\xff"),
    ("png", 0, SIGNATURE),
    ("webp", 8, b"WEBP"),
    ("wav", 8, b"WAVE"),
    ("ogg", 0, b"OggS"),
    ("pdf", 0, b"%PDF-"),
    ("mp3", 0, b"ID3"),
    *(
        ("m4a", 4, b"ftyp" + brand)
        for brand in (
            b"M4A ",
            b"M4B ",
            b"mp41",
            b"mp42",
            b"isom",
            b"iso2",
            b"iso5",
            b"iso6",
            b"dash",
        )
    ),
)
"""Endings, and the bytes at a place by which their files are known."""


def cleaned(raw: bytes, name: str) -> bytes:
    """Give the bytes of a media file as they are published, by the ending of its name.

    The picture or sound is bit by bit the same; a picture keeps its colors and which way up
    it is. Cleaning what is clean changes nothing. Raises UncleanError for a file of a kind
    that no site holds, of another kind than its name says, or of which what stands beside
    cannot be taken out.
    """
    ending = name.rpartition(".")[2].lower()
    if ending not in _KINDS:
        raise UncleanError("is of a kind that is not published")
    kind = _kind_of(raw)
    if kind != _KINDS[ending]:
        what = f"really a {kind}" if kind else "of another kind"
        raise UncleanError(f"is no {_KINDS[ending]}, as its name says, but {what}")
    return _CLEANERS[ending](raw)


def _kind_of(raw: bytes) -> str:
    """Tell a file's kind by its first bytes; empty if it is none of those that are published."""
    for ending, at, sign in _SIGNS:
        if raw[at : at + len(sign)] == sign:
            return _KINDS[ending]
    return _KINDS["mp3"] if frame_length(raw, 0) else ""
