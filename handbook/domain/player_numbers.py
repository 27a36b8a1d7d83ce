"""Who plays what in a piece of a section whose players take turns, by the numbers of the players."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handbook.records import dataclass

Turns = Mapping[int, Sequence[str]]
"""The instruments that each player has in a piece, by the player's number."""


@dataclass(frozen=True, slots=True)
class TurnFaults:
    """What is odd about the turns of one piece.

    `too_high` are numbers of players that there are not, `left_out` those of players of whom
    nothing is said, `twice` the instruments that more players have than there are, each with
    those who do.
    """

    too_high: tuple[int, ...]
    left_out: tuple[int, ...]
    twice: tuple[tuple[str, tuple[int, ...]], ...]


def turn_faults(turns: Turns, players: int, counts: Mapping[str, int]) -> TurnFaults:
    """Look at the turns of one piece in a section of `players`.

    `counts` is how many there are of an instrument; of one that is not counted there may be any.
    """
    having: dict[str, list[int]] = {}
    for number in sorted(turns):
        for instrument in dict.fromkeys(turns[number]):
            having.setdefault(instrument, []).append(number)
    return TurnFaults(
        tuple(number for number in sorted(turns) if number > players),
        tuple(number for number in range(1, players + 1) if number not in turns),
        tuple(
            (instrument, tuple(numbers))
            for instrument, numbers in having.items()
            if len(numbers) > counts.get(instrument, len(numbers))
        ),
    )
