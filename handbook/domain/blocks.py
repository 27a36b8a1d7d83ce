"""How many blocks a stretch of rehearsal makes, and the order they stand in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Sequence
from fractions import Fraction
from math import ceil, floor
from typing import TypeVar

T = TypeVar("T")


def block_count(minutes: int, subjects: int, shortest: int, longest: int) -> int:
    """Choose how many blocks to make of the minutes.

    Enough that none is over `longest`; beyond that, blocks as near as may be to midway
    between `shortest` and `longest`, none under `shortest`, and no more than there are
    subjects. Our own rule: frequent change keeps students engaged, confetti does not.
    """
    midway = Fraction(shortest + longest, 2)
    wished = floor(minutes / midway + Fraction(1, 2))
    return max(ceil(Fraction(minutes, longest)), min(wished, minutes // shortest, subjects))


def in_turn(blocks: Sequence[T], subject: Callable[[T], Hashable]) -> list[T]:
    """Keep the blocks in order, but never two of one subject in a row.

    A block moves only as far as it must. Where one subject has more blocks than all others
    can part, the rest of its blocks stand in a row at the end.
    """
    left, arranged = list(blocks), list[T]()
    last: Hashable = object()
    while left:
        # A subject with more than half of what is left must come now, or it will meet itself.
        pressing = {
            key for key, count in Counter(map(subject, left)).items() if 2 * count > len(left)
        }
        others = [block for block in left if subject(block) != last]
        chosen = next(
            (block for block in others if subject(block) in pressing), (others or left)[0]
        )
        left.remove(chosen)
        arranged.append(chosen)
        last = subject(chosen)
    return arranged
