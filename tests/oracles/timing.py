"""Seconds of a piece and of a program as whole sums."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import fsum

from handbook.domain.timing import FormPart, part_seconds


def piece_seconds(parts: Iterable[FormPart]) -> float:
    """Sum a piece's parts in seconds, each by its own model; not rounded."""
    return fsum(part_seconds(part) for part in parts)


def program_seconds(
    pieces: Iterable[float],
    *,
    gaps: Iterable[float | Fraction] = (),
    changeovers: Iterable[float | Fraction] = (),
    remarks: Iterable[float | Fraction] = (),
) -> float:
    """Sum a program in seconds: pieces, and what lies between them; not rounded."""
    return fsum(
        float(seconds) for group in (pieces, gaps, changeovers, remarks) for seconds in group
    )
