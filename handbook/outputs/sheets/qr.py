"""A QR code (ISO/IEC 18004) of a page's address, as a drawing."""

from __future__ import annotations

from functools import lru_cache

import segno

_MASK = 2
"""One of the eight patterns that a reader can take off; finding the best takes four fifths of the time."""
_QUIET = 4
"""Modules of white around the code, as the standard wants."""


@lru_cache(maxsize=64)
def qr_drawing(address: str) -> str:
    """Give an SVG whose unit is one module, with the quiet zone around it, at error correction level M.

    A page has several sheets, so the last ones are kept.
    """
    code = segno.make_qr(address, error="m", mask=_MASK)
    side = code.symbol_size(border=_QUIET)[0]
    runs = []
    for y, row in enumerate(code.matrix):
        x = 0
        while x < len(row):
            end = x
            while end < len(row) and row[end]:
                end += 1
            if end > x:
                runs.append(f"M{x + _QUIET} {y + _QUIET}h{end - x}v1H{x + _QUIET}z")
            x = max(end, x + 1)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}">'
        f'<path fill="#000" d="{"".join(runs)}"/></svg>'
    )
