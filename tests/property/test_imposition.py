"""Laws of folding: whatever a booklet holds, whoever leafs through it reads from 1 to the end."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.imposition import Side, saddle_stitched


def leafed(sides: list[Side]) -> list[int]:
    """Fold a pile of sheets, the first outermost, and read it: right halves, then left ones.

    Of each sheet the right half of its front is read first, and turned over the left half of its
    back; past the middle come the right half of its back and the left half of its front.
    """
    sheets = list(zip(sides[::2], sides[1::2], strict=True))
    first = [page for front, back in sheets for page in (front.right, back.left)]
    return first + [page for front, back in reversed(sheets) for page in (back.right, front.left)]


@given(st.integers(1, 50))
def test_a_folded_booklet_reads_from_the_first_page_to_the_last(sheets: int) -> None:
    whole = 4 * sheets
    assert leafed(list(saddle_stitched(whole))) == list(range(1, whole + 1))


@given(st.integers(1, 40))
def test_both_pages_of_a_side_make_one_more_than_all(sheets: int) -> None:
    for side in saddle_stitched(4 * sheets):
        assert side.left + side.right == 4 * sheets + 1
        assert side.turned == Side(side.right, side.left)


def test_a_booklet_of_eight_pages() -> None:
    # Saddle stitch of n pages, sheet k from 0: front n-2k, 1+2k; back 2+2k, n-1-2k
    # (common practice, no source).
    assert list(saddle_stitched(8)) == [Side(8, 1), Side(2, 7), Side(6, 3), Side(4, 5)]


@pytest.mark.parametrize("pages", [0, 1, 6, -4])
def test_pages_that_cannot_be_folded_are_refused(pages: int) -> None:
    with pytest.raises(ValueError, match="cannot be folded"):
        list(saddle_stitched(pages))
