"""A rehearsal that runs late and still ends on time: what is left, shared over the blocks ahead."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.domain.apportion import largest_remainder


def shared_to_the_end(
    left: int, planned: Sequence[int], music: Sequence[bool] = ()
) -> tuple[int, ...]:
    """Share the whole minutes `left` until the end over the blocks ahead, by their planned minutes.

    `music` says which of the blocks before the last are music: where there is more time than
    planned it is all theirs, so that nothing else grows before music does.

    The last block is the close: it keeps its minutes, as it does on a short day, as long as there
    are so many; the others share the rest by the largest remainder. A block that gets none falls
    out. The shares sum to `left`. Raises ValueError without a block, or for minutes below zero.
    """
    if not planned or left < 0 or min(planned) < 0:
        raise ValueError(f"cannot share {left} minutes over {list(planned)}")
    *others, close = planned
    kept = min(left, close)
    if sum(others) == 0:
        return (*others, left)
    rest, whole = left - kept, sum(others)
    growing = [minutes if is_music else 0 for minutes, is_music in zip(others, music, strict=False)]
    if rest > whole and any(growing):
        more = largest_remainder(rest - whole, growing)
        return (*(minutes + one for minutes, one in zip(others, more, strict=True)), kept)
    return (*largest_remainder(rest, others), kept)


def without_last(planned: Sequence[int]) -> tuple[int, ...]:
    """Drop the last block ahead that has minutes, never the close, which stands behind it, nor the first, which begins now.

    All stay as they are where there is no such block.
    """
    found = list(planned)
    for place in range(len(found) - 2, 0, -1):
        if found[place]:
            found[place] = 0
            break
    return tuple(found)
