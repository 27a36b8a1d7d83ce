"""The order in which a piece is played, as a road map in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from handbook.domain.road_map import Leg, LegKind, Sign
from handbook.domain.values.text import Text
from handbook.outputs.components.weeks import measures
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, gettext_noop, ngettext
from handbook.outputs.i18n.formats import with_commas
from handbook.schema.music import Part, Piece

_SIGNS = {
    Sign.SEGNO: gettext_noop("segno"),
    Sign.CODA: gettext_noop("coda"),
    Sign.FINE: gettext_noop("Fine at its end"),
}
_TURNS = {
    LegKind.BEGIN: gettext_noop("Play %(parts)s, %(measures)s."),
    LegKind.BACK: gettext_noop("Go back to m. %(first)s: play %(parts)s, %(measures)s."),
    LegKind.AHEAD: gettext_noop("Skip to m. %(first)s: play %(parts)s, %(measures)s."),
    LegKind.TO_START: gettext_noop(
        "%(words)s: back to the beginning. Play %(parts)s, %(measures)s."
    ),
    LegKind.TO_SEGNO: gettext_noop(
        "%(words)s: back to the segno at m. %(first)s. Play %(parts)s, %(measures)s."
    ),
    LegKind.TO_CODA: gettext_noop("Go to the coda at m. %(first)s: play %(parts)s, %(measures)s."),
}


def road_lines(say: Callable[[Text | None], str], piece: Piece) -> tuple[str, ...]:
    """Say how the players go through a piece, a line for each stretch without a break; none without an order."""
    legs = piece.road
    return tuple(_lines(say, piece, legs))


def _lines(say: Callable[[Text | None], str], piece: Piece, legs: tuple[Leg, ...]) -> Iterator[str]:
    for place, leg in enumerate(legs):
        names = [_played(say(piece.form[part].name), times) for part, times in leg.parts]
        line = gettext(
            _TURNS[leg.kind],
            words=leg.words,
            first=leg.measures.first,
            parts=formatting.listed(names),
            measures=measures(leg.measures.first, leg.measures.last),
        )
        if place == len(legs) - 1:
            at_fine = Sign.FINE in piece.form[leg.parts[-1][0]].sign
            end = gettext("Fine: here it ends.") if at_fine else gettext("Here it ends.")
            line = f"{line} {end}"
        yield line


def _played(name: str, times: int) -> str:
    if times == 1:
        return name
    return ngettext("%(part)s (%(num)s time)", "%(part)s (%(num)s times)", times, part=name)


def sign_words(part: Part) -> str:
    """Name the signs of a part."""
    return with_commas(gettext(_SIGNS[sign]) for sign in dict.fromkeys(part.sign))
