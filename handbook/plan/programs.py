"""On which concerts of a cycle a piece is, and so from when till when it is rehearsed."""

from __future__ import annotations

from datetime import date, timedelta

from handbook.schema.handbook import CycleContent
from handbook.schema.music import Piece

_ONE_DAY = timedelta(days=1)


def first_played(content: CycleContent, piece: Piece, ensemble: str, last: date) -> date | None:
    """Give the day on which an ensemble first plays a piece, if it is before its last concert."""
    days = played_on(content, piece, ensemble)
    return days[0] if days and days[0] < last else None


def over_from(content: CycleContent, piece: Piece, ensemble: str, last: date) -> date | None:
    """Give the day from which a piece is no longer rehearsed, if it is not to its ensemble's last concert.

    It has been dropped, or has been played for the last time the day before.
    """
    days = played_on(content, piece, ensemble)
    played = days[-1] + _ONE_DAY if days and days[-1] < last else None
    return min((day for day in (piece.dropped, played) if day), default=None)


def played_on(content: CycleContent, piece: Piece, ensemble: str) -> tuple[date, ...]:
    """Give the days of the concerts at which an ensemble plays a piece, in order."""
    return tuple(
        concert.item.date
        for concert in content.concerts
        if any(piece.id in turn.pieces and ensemble in turn.names for turn in concert.item.program)
    )
