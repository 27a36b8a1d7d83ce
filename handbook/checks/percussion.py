"""Who plays what in percussion, where that cannot be or is forgotten."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, finding, once_a_name
from handbook.checks.wording import first_few
from handbook.domain.player_numbers import TurnFaults, turn_faults
from handbook.domain.tables.instruments import INSTRUMENTS
from handbook.domain.tables.small_percussion import SMALL_PERCUSSION
from handbook.plan.percussion import counted_as, is_percussion, percussion_players
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.schema.music import Piece
from handbook.schema.program import Ensemble, is_known
from handbook.source.names import listed, nearest


@check
@once_a_name
def unknown_percussion(handbook: Handbook) -> Iterator[Problem]:
    """A percussion player has an instrument that nothing is known of.

    For one of your own naming, say under `reads_like` in program.yaml whose part it reads like.

    Bad:

        percussion: {1: [snare-drm], 2: [bass-drum]}

    Good:

        percussion: {1: [snare-drum], 2: [bass-drum]}
    """
    own = handbook.program.item.reads_like
    for address, piece in _pieces(handbook):
        for number, names in piece.percussion.items():
            for place, name in enumerate(names):
                if is_known(name) or name in SMALL_PERCUSSION or name in own:
                    continue
                played = [
                    row.id for row in INSTRUMENTS if is_percussion(handbook.program.item, row.id)
                ]
                near = nearest(name, (*played, *sorted(SMALL_PERCUSSION), *own))
                meant = f"did you mean {listed(near, 'or')}? else " if near else ""
                yield finding(
                    f"no percussion instrument is called `{name}`",
                    (*address, "percussion", str(number), place),
                    f"{meant}write `{name}: percussion` under reads_like in {handbook.program.file}",
                )


@check
def player_number_too_high(handbook: Handbook) -> Iterator[Problem]:
    """A percussion player is numbered who is not in the band.

    Players are numbered from 1 to as many as the band counts under `instruments`, all its
    percussion together; of a piece that several bands play, the band with the most counts.

    Bad:

        percussion: {1: [snare-drum], 2: [bass-drum], 3: [triangle]}   # the band counts two players

    Good:

        percussion: {1: [snare-drum], 2: [bass-drum, triangle]}
    """
    for address, piece, band, players, faults in _faults(handbook):
        for number in faults.too_high if band.id == _most_players(handbook, piece) else ():
            count = {0: "no percussion players", 1: "one percussion player"}.get(
                players, f"{players} percussion players"
            )
            yield finding(
                f"there is no player {number}: {band.name.read()} has {count}",
                (*address, "percussion", str(number)),
                f"give what player {number} has to another, or correct the counts under instruments in program.yaml",
                on_key=True,
            )


@check
def player_without_instrument(handbook: Handbook) -> Iterator[Problem]:
    """Nothing is said of a percussion player in a piece that says what the others play.

    If the player rests, say so with an empty list.

    Bad:

        percussion: {1: [snare-drum]}   # the band counts two players

    Good:

        percussion: {1: [snare-drum], 2: []}
    """
    for address, piece, band, _, faults in _faults(handbook):
        if faults.left_out:
            numbers = first_few([str(number) for number in faults.left_out])
            who = f"player {numbers} of" if len(faults.left_out) == 1 else f"players {numbers} of"
            yield finding(
                f"nothing is said of {who} {band.name.read()} in {piece.title.read()}",
                (*address, "percussion"),
                f"if there is nothing to play, write `{faults.left_out[0]}: []`",
                Severity.WARNING,
                on_key=True,
            )


@check
def percussion_twice(handbook: Handbook) -> Iterator[Problem]:
    """More players have an instrument in one piece than the band counts of it.

    They may hand it on between two passages; else one of them stands without.

    Bad:

        percussion: {1: [snare-drum], 2: [snare-drum, bass-drum]}   # there is one snare drum

    Good:

        percussion: {1: [snare-drum], 2: [bass-drum]}
    """
    for address, piece, band, _, faults in _faults(handbook):
        for name, (first, *others) in faults.twice:
            yield finding(
                f"players {' and '.join(map(str, (first, *others)))} both have `{name}` in {piece.title.read()}, and {band.name.read()} counts {band.instruments[name]}"
                if len(others) == 1
                else f"{len(others) + 1} players have `{name}` in {piece.title.read()}, and {band.name.read()} counts {band.instruments[name]}",
                (*address, "percussion", str(others[0])),
                "give it to one of them, or leave it so if they hand it on",
                Severity.WARNING,
                (Note("it is given here first", (*address, "percussion", str(first))),),
                on_key=True,
            )


_Found = tuple[Address, Piece, Ensemble, int, TurnFaults]


def _faults(handbook: Handbook) -> Iterator[_Found]:
    """Look at each piece that says who plays what, for each band that counts its players."""
    program, bands = handbook.program.item, traversal.ensemble_by_id(handbook)
    for address, piece in _pieces(handbook):
        for name in piece.played_by:
            band = bands.get(name)
            if band is None or not band.instruments:
                continue
            players = percussion_players(program, band)
            theirs = len(piece.played_by) == 1 or band.id == _most_players(handbook, piece)
            turns = {
                number: [counted_as(program, band, one) for one in names]
                for number, names in piece.percussion.items()
                if theirs or number <= players
            }
            yield address, piece, band, players, turn_faults(turns, players, band.instruments)


def _most_players(handbook: Handbook, piece: Piece) -> str:
    """Give the first of a piece's bands with the most percussion players."""
    program, bands = handbook.program.item, traversal.ensemble_by_id(handbook)
    counted = [bands[name] for name in piece.played_by if name in bands and bands[name].instruments]
    return max(counted, key=lambda band: percussion_players(program, band)).id if counted else ""


def _pieces(handbook: Handbook) -> Iterator[tuple[Address, Piece]]:
    return (pair for pair in traversal.all_pieces(handbook) if pair[1].percussion)
