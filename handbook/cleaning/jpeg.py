"""JPEG pictures (ITU-T T.81, annex B; JFIF 1.02; ICC.1:2022, B.4)."""

from __future__ import annotations

import re
from collections.abc import Iterator

from handbook.cleaning.model import DAMAGED, UncleanError
from handbook.cleaning.orientation import UPRIGHT, exif_of, orientation_of

_BEGIN, _END = b"\xff\xd8", b"\xff\xd9"
_EOI, _SOS, _APP0, _APP1, _APP2, _APP14 = 0xD9, 0xDA, 0xE0, 0xE1, 0xE2, 0xEE
# Frames, tables, restarts and heights: what the picture itself is made of.
_PICTURE = frozenset({*range(0xC0, 0xD0), 0xDB, 0xDC, 0xDD, 0xDE, 0xDF, _SOS})
_ALONE = frozenset({0x01, *range(0xD0, 0xD9)})  # markers with nothing behind them
_JFIF, _EXIF, _ICC, _ADOBE = b"JFIF\0", b"Exif\0\0", b"ICC_PROFILE\0", b"Adobe"
_JFIF_LENGTH, _ADOBE_LENGTH = 12, 12  # bytes: without a small picture; without anything added
_SCAN_ENDS = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]", re.DOTALL)


def clean_jpeg(raw: bytes) -> bytes:
    """Keep the picture, its colors and which way up it is; raises UncleanError for one cut off."""
    kept: list[bytes] = []
    head = b""
    upright = UPRIGHT
    for marker, held, scan in _segments(raw):
        if marker == _APP0 and held.startswith(_JFIF) and not head:
            head = _segment(_APP0, held[:_JFIF_LENGTH] + bytes(2))
        elif marker == _APP1 and held.startswith(_EXIF):
            upright = orientation_of(held[len(_EXIF) :])
        elif marker == _APP14 and held.startswith(_ADOBE):
            kept.append(_segment(marker, held[:_ADOBE_LENGTH]))
        elif marker in _PICTURE or (marker == _APP2 and held.startswith(_ICC)):
            kept += (_segment(marker, held), scan)
    turned = b"" if upright == UPRIGHT else _segment(_APP1, _EXIF + exif_of(upright))
    return b"".join((_BEGIN, head, turned, *kept, _END))


def _segments(raw: bytes) -> Iterator[tuple[int, bytes, bytes]]:
    """Give markers with what they hold and, of a scan, its data; up to the end of the picture."""
    at, seen = len(_BEGIN), False
    while True:
        marker, at = _marker(raw, at)
        if marker == _EOI and seen:
            return
        if marker in _ALONE:
            continue
        end = at + int.from_bytes(raw[at : at + 2])
        if marker == _EOI or end < at + 2 or end > len(raw):
            raise UncleanError(DAMAGED)
        scan = _SCAN_ENDS.search(raw, end) if marker == _SOS else None
        if marker == _SOS and scan is None:
            raise UncleanError(DAMAGED)
        after = scan.start() if scan else end
        yield marker, raw[at + 2 : end], raw[end:after]
        at, seen = after, seen or marker == _SOS


def _marker(raw: bytes, at: int) -> tuple[int, int]:
    """Give the marker that begins at a place, and where what is behind it begins."""
    begin = at
    while raw[at : at + 1] == b"\xff":
        at += 1
    if at == begin or at >= len(raw):
        raise UncleanError(DAMAGED)
    return raw[at], at + 1


def _segment(marker: int, held: bytes) -> bytes:
    return bytes((0xFF, marker)) + (len(held) + 2).to_bytes(2) + held
