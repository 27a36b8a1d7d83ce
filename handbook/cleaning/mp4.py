"""Sounds in MP4 files, such as m4a (ISO/IEC 14496-12, 4.2, 6.2 and 8).

What is taken out is blanked where it stands: the tables that say where the sound lies count
bytes from the beginning of the file.
"""

from __future__ import annotations

from collections.abc import Iterator

from handbook.cleaning.model import DAMAGED, UncleanError
from handbook.records import dataclass

# Boxes that hold others, and those the sound is made of; all else is blanked.
_HOLDERS = frozenset(
    {b"moov", b"trak", b"mdia", b"minf", b"stbl", b"dinf", b"edts", b"moof", b"traf", b"mvex"}
)
_SOUND = frozenset(
    {
        *(b"ftyp", b"styp", b"mdat", b"sidx", b"mfra", b"mvhd", b"tkhd", b"mdhd", b"hdlr", b"smhd"),
        *(b"dref", b"elst", b"stsd", b"stts", b"ctts", b"stsc", b"stsz", b"stz2", b"stco", b"co64"),
        *(b"stss", b"sgpd", b"sbgp", b"mfhd", b"tfhd", b"tfdt", b"trun", b"trex", b"mehd", b"saio"),
        *(b"saiz", b"tref"),
    }
)  # fmt: skip
_DATED = frozenset({b"mvhd", b"tkhd", b"mdhd"})
_MOST_DEPTH = 8
_NAME_AT = 24  # bytes of what hdlr holds before its name


@dataclass(frozen=True, slots=True)
class Mp4Box:
    """A box: its name, and where it, what it holds, and what follows it begin."""

    name: bytes
    begin: int
    inside: int
    end: int


def clean_mp4(raw: bytes) -> bytes:
    """Keep the sound, each byte where it was; names, dates and pictures become zeros.

    Raises UncleanError for a file that is cut off, or that holds other than sound.
    """
    clean = bytearray(raw)
    boxes = tuple(_boxes(raw, 0, len(raw)))
    if not {b"ftyp", b"mdat"} <= {box.name for box in boxes}:
        raise UncleanError(DAMAGED)
    _blank(raw, clean, boxes, 0)
    return bytes(clean[: boxes[-1].end])


def _blank(raw: bytes, clean: bytearray, boxes: tuple[Mp4Box, ...], depth: int) -> None:
    for box in boxes:
        if box.name in _HOLDERS and depth < _MOST_DEPTH:
            _blank(raw, clean, tuple(_boxes(raw, box.inside, box.end)), depth + 1)
        elif box.name not in _SOUND:
            clean[box.begin + 4 : box.begin + 8] = b"free"
            clean[box.inside : box.end] = bytes(box.end - box.inside)
        elif box.name == b"hdlr":
            if raw[box.inside + 8 : box.inside + 12] != b"soun":
                raise UncleanError("holds more than sound")
            name = box.inside + _NAME_AT
            clean[name : box.end] = bytes(max(0, box.end - name))
        elif box.name in _DATED:
            long = 8 if raw[box.inside] == 1 else 4  # bytes of a time, by the version
            clean[box.inside + 4 : box.inside + 4 + 2 * long] = bytes(2 * long)


def _boxes(raw: bytes, at: int, end: int) -> Iterator[Mp4Box]:
    """Give the boxes between two places, in order; what is no box ends them."""
    while at + 8 <= end:
        size, head = int.from_bytes(raw[at : at + 4]), 8
        if size == 1:
            size, head = int.from_bytes(raw[at + 8 : at + 16]), 16
        elif size == 0:
            size = end - at
        name = raw[at + 4 : at + 8]
        if not name.isascii() or size < head:
            return
        if at + size > end:
            raise UncleanError(DAMAGED)
        yield Mp4Box(name, at, at + head, at + size)
        at += size
