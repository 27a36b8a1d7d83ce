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


def without(planned: Sequence[int], place: int) -> tuple[int, ...]:
    """Drop the block at a place: never the last, which is the close, nor the first, which begins now.

    Raises ValueError for one of these, and for a block that has no minutes.
    """
    if place not in places_to_drop(planned):
        raise ValueError(f"block {place} of {list(planned)} cannot be dropped")
    return (*planned[:place], 0, *planned[place + 1 :])


def without_last(planned: Sequence[int]) -> tuple[int, ...]:
    """Drop the last block ahead that may be dropped; all stay as they are where there is none."""
    places = places_to_drop(planned)
    return without(planned, places[-1]) if places else tuple(planned)


def places_to_drop(planned: Sequence[int]) -> tuple[int, ...]:
    """Give the blocks ahead that have minutes and are neither the first nor the close."""
    return tuple(place for place in range(1, len(planned) - 1) if planned[place])
