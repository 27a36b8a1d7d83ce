"""MP3 sounds: the frames alone (ISO/IEC 11172-3, 2.4.1.3 and 2.4.2.3; 13818-3, 2.4.2.3)."""

from __future__ import annotations

import re

from handbook.cleaning.model import DAMAGED, UncleanError

_SYNC = re.compile(rb"\xff[\xe0-\xff]")
_HEAD = 4
_ID3_HEAD, _ID3_FOOTER = 10, 0x10
_RATES = (44100, 48000, 32000)
# kbit/s by index, of MPEG 1 layers 2 and 3, and of MPEG 2 and 2.5 both layers
_KBITS_1_2 = (0, 32, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320, 384)
_KBITS_1_3 = (0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320)
_KBITS_2 = (0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160)
_LAYER_3, _LAYER_2 = 1, 2
_NO_RATE = frozenset({0, 15})  # not told, and none
_MPEG_1, _MPEG_2, _RESERVED = 3, 2, 1


def clean_mp3(raw: bytes) -> bytes:
    """Keep the frames of sound, whole ones only, and nothing before, between or after them.

    Raises UncleanError if there are no two frames in a row.
    """
    kept: list[bytes] = []
    at = _past_tags(raw)
    while at < len(raw):
        length = frame_length(raw, at)
        follows = length and (at + length == len(raw) or frame_length(raw, at + length))
        if length and at + length <= len(raw) and (kept or follows):
            kept.append(raw[at : at + length])
            at += length
            continue
        at = _next(raw, at + 1)
    if not kept:
        raise UncleanError(DAMAGED)
    return b"".join(kept)


def _past_tags(raw: bytes) -> int:
    """Give where the tags at the beginning end (ID3v2.4.0, 3.1)."""
    at = 0
    while raw[at : at + 3] == b"ID3" and len(raw) >= at + _ID3_HEAD:
        size = sum(
            (byte & 0x7F) << 7 * place for place, byte in enumerate(raw[at + 9 : at + 5 : -1])
        )
        footer = _ID3_HEAD if raw[at + 5] & _ID3_FOOTER else 0
        at += _ID3_HEAD + size + footer
    return at


def _next(raw: bytes, at: int) -> int:
    """Give where the next frame begins that another one, or the end, follows."""
    for sync in _SYNC.finditer(raw, at):
        length = frame_length(raw, sync.start())
        after = sync.start() + length
        if length and (after == len(raw) or frame_length(raw, after)):
            return sync.start()
    return len(raw)


def frame_length(raw: bytes, at: int) -> int:
    """Give the length of the frame that begins at a place, in bytes; 0 if none does."""
    head = raw[at : at + _HEAD]
    if len(head) < _HEAD or not _SYNC.match(head):
        return 0
    version, layer = head[1] >> 3 & 3, head[1] >> 1 & 3
    kbits, rate, padding = head[2] >> 4, head[2] >> 2 & 3, head[2] >> 1 & 1
    if (
        version == _RESERVED
        or layer not in {_LAYER_2, _LAYER_3}
        or kbits in _NO_RATE
        or rate == len(_RATES)
    ):
        return 0
    table = _KBITS_2 if version != _MPEG_1 else _KBITS_1_3 if layer == _LAYER_3 else _KBITS_1_2
    hertz = _RATES[rate] // {_MPEG_1: 1, _MPEG_2: 2}.get(version, 4)
    slots = 72 if version != _MPEG_1 and layer == _LAYER_3 else 144
    return slots * table[kbits] * 1000 // hertz + padding
