"""The order in which a piece is played, as a road map in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from handbook.domain.road_map import Leg, LegKind, Sign
from handbook.domain.values.text import Text
from handbook.outputs.components.weeks import measures
from handbook.outputs.html import formatting
from handbook.schema.music import Part, Piece

_SIGNS = {Sign.SEGNO: "segno", Sign.CODA: "coda", Sign.FINE: "Fine at its end"}
_TURNS = {
    LegKind.BEGIN: "Play",
    LegKind.BACK: "Go back to m. {first}: play",
    LegKind.AHEAD: "Skip to m. {first}: play",
    LegKind.TO_START: "{words}: back to the beginning. Play",
    LegKind.TO_SEGNO: "{words}: back to the segno at m. {first}. Play",
    LegKind.TO_CODA: "Go to the coda at m. {first}: play",
}


def road_lines(say: Callable[[Text | None], str], piece: Piece) -> tuple[str, ...]:
    """Say how the players go through a piece, a line for each stretch without a break; none without an order."""
    legs = piece.road
    return tuple(_lines(say, piece, legs))


def _lines(say: Callable[[Text | None], str], piece: Piece, legs: tuple[Leg, ...]) -> Iterator[str]:
    for place, leg in enumerate(legs):
        turn = _TURNS[leg.kind].format(words=leg.words, first=leg.measures.first)
        names = [_played(say(piece.form[part].name), times) for part, times in leg.parts]
        last = ""
        if place == len(legs) - 1:
            at_fine = Sign.FINE in piece.form[leg.parts[-1][0]].sign
            last = " Fine: here it ends." if at_fine else " Here it ends."
        span = measures(leg.measures.first, leg.measures.last)
        yield f"{turn} {formatting.listed(names)}, {span}.{last}"


def _played(name: str, times: int) -> str:
    return name if times == 1 else f"{name} ({times} times)"


def sign_words(part: Part) -> str:
    """Name the signs of a part."""
    return ", ".join(_SIGNS[sign] for sign in dict.fromkeys(part.sign))
