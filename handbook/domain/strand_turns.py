"""Which strands of the fundamentals come in which rehearsal."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.domain.apportion import largest_remainder


def strand_appearances(weights: Sequence[int], blocks: Sequence[int]) -> tuple[int, ...]:
    """Count each strand's blocks over the cycle, for `blocks` of fundamentals in each rehearsal.

    All blocks are shared by largest remainder over the weights. A strand that would come
    more often than there are rehearsals comes in every one, and the others share the rest
    (unless there are more blocks than that allows).
    """
    total, most = sum(blocks), sum(count > 0 for count in blocks)
    shares = list(largest_remainder(total, weights))
    full: set[int] = set()
    while total <= most * len(weights) and max(shares) > most:
        full |= {strand for strand, share in enumerate(shares) if share > most}
        others = [strand for strand in range(len(weights)) if strand not in full]
        left = largest_remainder(total - most * len(full), [weights[strand] for strand in others])
        shares = [most] * len(weights)
        for strand, share in zip(others, left, strict=True):
            shares[strand] = share
    return tuple(shares)


def strand_turns(weights: Sequence[int], blocks: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """Choose the strands (as indices, in order) of each rehearsal's fundamentals.

    Every strand has exactly its `strand_appearances`, spread evenly over the cycle; a
    strand comes twice in one rehearsal only when the rest have no turn left. Raises
    ValueError when there are blocks but no weight above zero.
    """
    total = sum(blocks)
    if total == 0:
        return tuple(() for _ in blocks)
    counts = strand_appearances(weights, blocks)
    given = [0] * len(counts)
    turns: list[tuple[int, ...]] = []
    for place, size in enumerate(blocks):
        rehearsals_left = sum(count > 0 for count in blocks[place:])
        chosen: list[int] = []
        for _ in range(size):
            strand = _next(counts, given, chosen, rehearsals_left)
            chosen.append(strand)
            given[strand] += 1
        turns.append(tuple(sorted(chosen)))
    return tuple(turns)


def _next(
    counts: Sequence[int], given: Sequence[int], chosen: Sequence[int], rehearsals_left: int
) -> int:
    """Choose the strand furthest behind, save that one needed in every rehearsal left goes first."""
    unspent = [strand for strand, count in enumerate(counts) if given[strand] < count]
    fresh = [strand for strand in unspent if strand not in chosen] or unspent
    pressing = [strand for strand in fresh if counts[strand] - given[strand] >= rehearsals_left]
    turn, total = sum(given) + 1, sum(counts)
    # its count times turn / total is what it should have by now; times total, to stay whole
    return max(pressing or fresh, key=lambda strand: counts[strand] * turn - given[strand] * total)
