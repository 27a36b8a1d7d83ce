"""Rudiments found again by their strokes."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.domain.rudiments import Hand, Stroke, parse_sticking
from handbook.domain.tables.rudiments import RUDIMENTS, Rudiment


def recognised(strokes: Sequence[Stroke]) -> tuple[Rudiment, ...]:
    """Give the rudiments that a sticking is: one lead of either hand, or one whole cycle.

    More than one where rhythm alone tells them apart (single stroke roll and four).
    """
    wanted = tuple(strokes)
    return tuple(
        row
        for row in RUDIMENTS
        for forms in [(row.right, row.left, f"{row.right}{row.left}", f"{row.left}{row.right}")]
        if wanted in [parse_sticking(form) for form in forms[: 4 if row.alternates else 2]]
    )


def longest_run(strokes: Sequence[Stroke]) -> int:
    """Give the most strokes in a row by one hand, grace notes not counted."""
    longest = run = 0
    last: Hand | None = None
    for stroke in strokes:
        run = run + 1 if stroke.hand is last else 1
        longest, last = max(longest, run), stroke.hand
    return longest
