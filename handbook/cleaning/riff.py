"""Files of chunks: WAVE sounds (RIFF MCI, 1991) and WebP pictures (RFC 9649, 2)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handbook.cleaning.model import DAMAGED, UncleanError
from handbook.cleaning.orientation import UPRIGHT, exif_of, orientation_of

_HEAD = 12  # bytes: RIFF, the size, and of what form it is
_SOUND = frozenset({b"fmt ", b"fact", b"data"})
_PICTURE = frozenset({b"VP8X", b"VP8 ", b"VP8L", b"ALPH", b"ANIM", b"ANMF", b"ICCP", b"EXIF"})
_HAS_EXIF, _HAS_XMP = 0x08, 0x04  # flags of VP8X
_UNTOLD = frozenset({0, 0xFFFFFFFF})  # size of a sound that was written before its end was known


def clean_wav(raw: bytes) -> bytes:
    """Keep the form and the samples; raises UncleanError for a sound without either."""
    chunks: dict[bytes, bytes] = {}
    for name, held in _chunks(raw, open_end=b"data"):
        if name in _SOUND:
            chunks.setdefault(name, held)
    if not chunks.keys() >= {b"fmt ", b"data"}:
        raise UncleanError(DAMAGED)
    return _riff(b"WAVE", chunks.items())


def clean_webp(raw: bytes) -> bytes:
    """Keep the picture, its colors and which way up it is; raises UncleanError for one cut off."""
    kept = [(name, held) for name, held in _chunks(raw) if name in _PICTURE]
    found = dict(kept)
    if found.keys().isdisjoint({b"VP8 ", b"VP8L", b"ANMF"}):
        raise UncleanError(DAMAGED)
    exif = found.get(b"EXIF", b"").removeprefix(b"Exif\0\0")
    upright = orientation_of(exif)
    clean = []
    for name, held in kept:
        if name == b"VP8X":
            flags = held[0] & ~_HAS_XMP & ~_HAS_EXIF
            flags |= _HAS_EXIF if upright != UPRIGHT else 0
            clean.append((name, bytes((flags,)) + held[1:]))
        elif name != b"EXIF":
            clean.append((name, held))
    if upright != UPRIGHT:
        clean.append((b"EXIF", exif_of(upright)))
    return _riff(b"WEBP", clean)


def _chunks(raw: bytes, *, open_end: bytes = b"") -> Iterator[tuple[bytes, bytes]]:
    """Give names and contents of the chunks within the size that the head tells."""
    told = int.from_bytes(raw[4:8], "little")
    whole = len(raw) if told in _UNTOLD else min(len(raw), 8 + told)
    at = _HEAD
    while at + 8 <= whole:
        name, size = raw[at : at + 4], int.from_bytes(raw[at + 4 : at + 8], "little")
        if name == open_end and size in _UNTOLD:
            size = whole - at - 8
        if at + 8 + size > len(raw):
            raise UncleanError(DAMAGED)
        yield name, raw[at + 8 : at + 8 + size]
        at += 8 + size + size % 2


def _riff(form: bytes, chunks: Iterable[tuple[bytes, bytes]]) -> bytes:
    body = b"".join(
        name + len(held).to_bytes(4, "little") + held + bytes(len(held) % 2)
        for name, held in chunks
    )
    return b"RIFF" + (len(body) + 4).to_bytes(4, "little") + form + body
