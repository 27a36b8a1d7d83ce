"""Ogg sounds: Vorbis and Opus without their comments (RFC 3533, 6; Vorbis I, 5; RFC 7845, 5.2)."""

from __future__ import annotations

import zlib
from collections.abc import Iterator

from handbook.cleaning.model import DAMAGED, UncleanError
from handbook.records import dataclass

_HEAD = 27  # bytes of a page before its table of segments
_FULL = 255
_CONTINUED, _BEGINS = 0x01, 0x02
_REVERSED = bytes(int(f"{byte:08b}"[::-1], 2) for byte in range(256))
_VORBIS, _OPUS = b"\x01vorbis", b"OpusHead"
_NO_COMMENTS = {_VORBIS: b"\x03vorbis" + bytes(8) + b"\x01", _OPUS: b"OpusTags" + bytes(8)}
_HEADERS = {_VORBIS: 3, _OPUS: 2}  # packets before the sound


@dataclass(frozen=True, slots=True)
class OggPage:
    """A page: its flags, the place in the sound, the stream, the lengths of its segments, its body."""

    flags: int
    granule: bytes
    serial: bytes
    segments: bytes
    body: bytes


def clean_ogg(raw: bytes) -> bytes:
    """Keep the sound; the packet of comments is written anew, without any.

    Raises UncleanError for a file that is cut off, has several streams, or holds other than
    Vorbis or Opus.
    """
    pages = tuple(_pages(raw))
    if not pages:
        raise UncleanError(DAMAGED)
    if len({page.serial for page in pages}) > 1 or any(page.flags & _BEGINS for page in pages[1:]):
        raise UncleanError("holds more than one sound")
    codec = next((one for one in _HEADERS if pages[0].body.startswith(one)), None)
    if codec is None:
        raise UncleanError("is of a kind that browsers do not all play")
    packets, rest = _headers(pages, _HEADERS[codec])
    packets[1] = _NO_COMMENTS[codec]
    begun = [pages[0], *_paged(packets[1:], pages[0].serial)]
    return b"".join(_written(page, number) for number, page in enumerate([*begun, *rest]))


def _pages(raw: bytes) -> Iterator[OggPage]:
    at = 0
    while raw[at : at + 4] == b"OggS":
        count = raw[at + 26] if len(raw) > at + 26 else 0
        segments = raw[at + _HEAD : at + _HEAD + count]
        end = at + _HEAD + count + sum(segments)
        if end > len(raw) or not count:
            raise UncleanError(DAMAGED)
        body = raw[at + _HEAD + count : end]
        yield OggPage(raw[at + 5], raw[at + 6 : at + 14], raw[at + 14 : at + 18], segments, body)
        at = end


def _headers(pages: tuple[OggPage, ...], wanted: int) -> tuple[list[bytes], tuple[OggPage, ...]]:
    """Give the first packets, and the pages after them: the sound begins a page of its own."""
    packets: list[bytes] = []
    packet = b""
    for number, page in enumerate(pages):
        at = 0
        for length in page.segments:
            packet += page.body[at : at + length]
            at += length
            if length < _FULL:
                packets.append(packet)
                packet = b""
        if len(packets) == wanted and not packet:
            return packets, pages[number + 1 :]
        if len(packets) >= wanted:
            break
    raise UncleanError(DAMAGED)


def _paged(packets: list[bytes], serial: bytes) -> Iterator[OggPage]:
    """Put packets of a header on pages, each beginning one."""
    for packet in packets:
        for at in range(0, len(packet) + 1, _FULL * _FULL):
            body = packet[at : at + _FULL * _FULL]
            full, left = divmod(len(body), _FULL)
            last = at + _FULL * _FULL > len(packet)
            segments = bytes([_FULL] * full + ([left] if last else []))
            if segments:
                yield OggPage(_CONTINUED if at else 0, bytes(8), serial, segments, body)


def _written(page: OggPage, number: int) -> bytes:
    before = b"OggS\0" + bytes((page.flags,)) + page.granule + page.serial
    before += number.to_bytes(4, "little")
    after = bytes((len(page.segments),)) + page.segments + page.body
    return before + _sum(before + bytes(4) + after) + after


def _sum(page: bytes) -> bytes:
    """Give the check sum of a page: that of zlib with every byte the other way round, begun at 0."""
    turned = zlib.crc32(page.translate(_REVERSED), 0xFFFFFFFF) ^ 0xFFFFFFFF
    return int(f"{turned:032b}"[::-1], 2).to_bytes(4, "little")
