"""What each percussion player has in each piece, by the players' numbers."""

from __future__ import annotations

from handbook.outputs import addresses
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.instrument_names import called
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.plan.percussion import percussion_players, turns_of
from handbook.records import dataclass
from handbook.schema.music import Piece
from handbook.schema.program import Ensemble, Program


@dataclass(frozen=True, slots=True)
class RotationLine:
    """A player's number, and what that player has in a piece."""

    number: int
    instruments: str


@dataclass(frozen=True, slots=True)
class RotationRow:
    """A piece with what each player has in it, in the order of the numbers."""

    title: str
    path: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RotationView:
    """Pieces and numbers of players as a table."""

    numbers: tuple[int, ...]
    rows: tuple[RotationRow, ...]


def rotation_lines(
    program: Program, ensemble: EnsemblePlan, piece: Piece
) -> tuple[RotationLine, ...]:
    """List what each player of a band has in a piece; nothing where it is not said."""
    if not piece.percussion:
        return ()
    turns = turns_of(program, _band(program, ensemble), ensemble.item, piece)
    return tuple(
        RotationLine(number, with_commas(map(called, names)) or gettext("rests"))
        for number, names in turns.items()
    )


def _band(program: Program, ensemble: EnsemblePlan) -> Ensemble:
    return next(one for one in program.ensembles if one.id == ensemble.band)


def rotation_view(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> RotationView | None:
    """Make the table of a band's pieces that say who plays what; None if there is none."""
    program = context.plan.program
    band = _band(program, ensemble)
    said = [
        (piece.item, turns)
        for piece in ensemble.pieces
        if piece.item.percussion and (turns := turns_of(program, band, ensemble.item, piece.item))
    ]
    if not said:
        return None
    most = max(percussion_players(program, band), *(max(turns) for _, turns in said))
    numbers = tuple(range(1, most + 1))
    return RotationView(
        numbers,
        tuple(
            RotationRow(
                context.say(piece.title),
                addresses.piece(cycle.id, ensemble.item.id, piece.id),
                tuple(with_commas(map(called, turns.get(number, ()))) for number in numbers),
            )
            for piece, turns in said
        ),
    )
