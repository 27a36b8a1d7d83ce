"""Pages of a booklet on the sheets of paper that are folded into it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

_ON_A_SHEET = 4


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a sheet: the pages that stand on its left and on its right half."""

    left: int
    right: int

    @property
    def turned(self) -> Side:
        """The side of a booklet that is read from right to left, whose back is at the right."""
        return Side(self.right, self.left)


def saddle_stitched(pages: int) -> Iterator[Side]:
    """Give front and back of each sheet, the outermost first, of a booklet folded in the middle.

    Sheets are turned over on their short edge. Of n pages the sheet k (from 0) has n - 2k and
    1 + 2k on its front, 2 + 2k and n - 1 - 2k on its back (common practice, no source). Raises
    ValueError if `pages` is no multiple of four.
    """
    if pages % _ON_A_SHEET or pages <= 0:
        raise ValueError(f"{pages} pages cannot be folded")
    for outer in range(0, pages // 2, 2):
        yield Side(pages - outer, 1 + outer)
        yield Side(2 + outer, pages - 1 - outer)
