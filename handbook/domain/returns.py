"""How soon every passage can come back."""

from __future__ import annotations

from collections.abc import Sequence


def usual_window(blocks: Sequence[int], passages: int) -> int:
    """Give k such that each passage can come at least once in any k rehearsals that have music.

    `blocks` counts the music blocks of those rehearsals. k is one more than the rehearsals it
    takes, wherever one begins, to play each passage once. Where the whole cycle has fewer
    blocks than passages it is more than the cycle has rehearsals.
    """
    for run in range(1, len(blocks) + 1):
        if all(
            sum(blocks[first : first + run]) >= passages for first in range(len(blocks) - run + 1)
        ):
            return run + 1
    return len(blocks) + 1
