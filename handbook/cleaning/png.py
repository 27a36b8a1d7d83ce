"""PNG pictures (W3C Portable Network Graphics, third edition, 5 and 11)."""

from __future__ import annotations

import zlib

from handbook.cleaning.model import DAMAGED, UncleanError
from handbook.cleaning.orientation import UPRIGHT, exif_of, orientation_of

SIGNATURE = b"\x89PNG\r\n\x1a\n"
_CRITICAL = frozenset({b"IHDR", b"PLTE", b"IDAT", b"IEND"})
# What changes how the picture looks, and frames of one that moves.
_KEPT = _CRITICAL | frozenset(
    {
        *(b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP", b"sBIT", b"bKGD", b"pHYs", b"cICP"),
        *(b"mDCV", b"cLLI", b"acTL", b"fcTL", b"fdAT"),
    }
)
_AROUND = 12  # bytes of a chunk beside what it holds


def clean_png(raw: bytes) -> bytes:
    """Keep the picture, its colors and which way up it is; raises UncleanError for one cut off."""
    kept = [SIGNATURE]
    at, name = len(SIGNATURE), b""
    while name != b"IEND":
        end = at + _AROUND + int.from_bytes(raw[at : at + 4])
        name, held, check = raw[at + 4 : at + 8], raw[at + 8 : end - 4], raw[end - 4 : end]
        if end > len(raw) or zlib.crc32(name + held).to_bytes(4) != check:
            raise UncleanError(DAMAGED)
        if name in _KEPT:
            kept.append(raw[at:end])
        elif name == b"eXIf" and (upright := orientation_of(held)) != UPRIGHT:
            kept.append(_chunk(name, exif_of(upright)))
        elif not name[0] & 0x20:  # a chunk without which it cannot be shown, and that nobody knows
            raise UncleanError("is of a kind that browsers do not all show")
        at = end
    return b"".join(kept)


def _chunk(name: bytes, held: bytes) -> bytes:
    return len(held).to_bytes(4) + name + held + zlib.crc32(name + held).to_bytes(4)
