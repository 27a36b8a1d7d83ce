"""The percussion players of a band: how many there are, and what they play in turn."""

from __future__ import annotations

from handbook.domain.player_numbers import Turns
from handbook.plan.parts import takes_part
from handbook.schema.music import Piece
from handbook.schema.program import Ensemble, Program

_FAMILY = ("percussion",)
# Names of one row of the table that are things of their own on a stand (common practice, no source).
_APART = frozenset({"crash-cymbals", "suspended-cymbal"})


def is_percussion(program: Program, instrument: str) -> bool:
    """Whether an instrument is of the percussion family."""
    return takes_part(instrument, program.instrument(instrument), _FAMILY)


def percussion_players(program: Program, band: Ensemble) -> int:
    """Count the percussion players of a band."""
    return sum(count for name, count in band.instruments.items() if is_percussion(program, name))


def turns_of(program: Program, band: Ensemble, item: Ensemble, piece: Piece) -> Turns:
    """Give what the players of a band have in a piece; nothing for a group without percussion.

    `item` is the band, or the group of it, that is shown.
    """
    if item.instruments and not percussion_players(program, item):
        return {}
    players = (
        percussion_players(program, band) if band.instruments else max(piece.percussion, default=0)
    )
    return {
        number: piece.percussion[number] for number in sorted(piece.percussion) if number <= players
    }


def counted_as(program: Program, band: Ensemble, instrument: str) -> str:
    """Give the name by which a band counts an instrument, else its own."""
    known = None if instrument in _APART else program.instrument(instrument)
    return next(
        (
            name
            for name in band.instruments
            if name == instrument or (known is not None and program.instrument(name) == known)
        ),
        instrument,
    )
