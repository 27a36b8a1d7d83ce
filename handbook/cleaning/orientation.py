"""Which way up a picture is: the one thing of its Exif data that changes what is seen.

Exif 2.32 (JEITA CP-3451E), 4.5.2 (the structure, that of TIFF 6.0) and 4.6.4 (tag 0x0112).
"""

from __future__ import annotations

from typing import Literal

UPRIGHT = 1
_LAST = 8
_TAG, _SHORT = 0x0112, 3
_ENTRY = 12  # bytes
_MOST_ENTRIES = 1000
_ORDERS: dict[bytes, Literal["little", "big"]] = {b"II*\0": "little", b"MM\0*": "big"}


def orientation_of(exif: bytes) -> int:
    """Read the orientation, 1 to 8, from Exif data that begin with their byte order; 1 if none is said."""
    order = _ORDERS.get(exif[:4])
    if order is None:
        return UPRIGHT
    at = int.from_bytes(exif[4:8], order)
    count = int.from_bytes(exif[at : at + 2], order)
    for number in range(min(count, _MOST_ENTRIES)):
        begin = at + 2 + number * _ENTRY
        entry = exif[begin : begin + _ENTRY]
        if int.from_bytes(entry[:2], order) == _TAG and int.from_bytes(entry[2:4], order) == _SHORT:
            value = int.from_bytes(entry[8:10], order)
            return value if UPRIGHT <= value <= _LAST else UPRIGHT
    return UPRIGHT


def exif_of(orientation: int) -> bytes:
    """Write Exif data that say the orientation and nothing else."""
    entry = _TAG.to_bytes(2) + _SHORT.to_bytes(2) + (1).to_bytes(4) + orientation.to_bytes(2)
    return b"MM\0*" + (8).to_bytes(4) + (1).to_bytes(2) + entry + bytes(2) + bytes(4)
