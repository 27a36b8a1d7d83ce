"""How a passage was played in a rehearsal, as a mark for charts and as words.

A filled square is the passage by itself, a ring a run of the whole piece, a slur above a
join with its neighbor. They lie over each other where a rehearsal has several of them.
"""

from __future__ import annotations

from handbook.domain.season import MusicKind
from handbook.outputs.html import formatting
from handbook.outputs.i18n import pgettext
from handbook.plan.model import Visit
from handbook.records import dataclass

_LARGEST = 4.4  # half the width of a ring
_SQUARE, _DOT = 0.5, 0.26  # of that: half the side of a square, and of the dot under a slur
_RISE = 0.85  # of that: how high a slur is bent


@dataclass(frozen=True, slots=True)
class VisitMark:
    """Path data of the marks of one visit, each empty where it does not apply."""

    alone: str
    joined: str
    run: str


def visit_mark(kinds: tuple[MusicKind, ...], x: float, y: float, width: float) -> VisitMark:
    """Draw a visit around a point, in a column of the given width."""
    half = round(min(_LARGEST, width * 0.4), 2)
    alone, joined = MusicKind.PASSAGE in kinds, MusicKind.JOIN in kinds
    run = MusicKind.RUN in kinds
    dot = joined and not (alone or run)
    return VisitMark(
        alone=_square(x, y, half * (_DOT if dot else _SQUARE)) if alone or dot else "",
        joined=_slur(x, y - half - 1.5, half) if joined else "",
        run=_ring(x, y, half) if run else "",
    )


def how(visit: Visit) -> str:
    """Say how a passage is played: `by itself`, `joined and in a run`."""
    # Translators: a passage is played by itself, joined to its neighbor, or in a run of the piece.
    words = {
        MusicKind.PASSAGE: pgettext("how a passage is played", "by itself"),
        MusicKind.JOIN: pgettext("how a passage is played", "joined"),
        MusicKind.RUN: pgettext("how a passage is played", "in a run"),
    }
    return formatting.listed([words[kind] for kind in MusicKind if kind in visit.kinds])


def _square(x: float, y: float, half: float) -> str:
    return f"M{x - half:.4g} {y - half:.4g}h{2 * half:.3g}v{2 * half:.3g}h-{2 * half:.3g}z"


def _ring(x: float, y: float, half: float) -> str:
    return (
        f"M{x - half:.4g} {y:.4g}a{half:g} {half:g} 0 1 0 {2 * half:g} 0"
        f"a{half:g} {half:g} 0 1 0-{2 * half:g} 0"
    )


def _slur(x: float, y: float, half: float) -> str:
    return f"M{x - half:.4g} {y:.4g}q{half:g}-{half * _RISE:.3g} {2 * half:g} 0"
