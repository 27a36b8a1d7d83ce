"""A rehearsal's minutes: what is done, in what order, for how long."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class BlockKind(StrEnum):
    """The parts of a rehearsal, in the order they come."""

    SET_UP = "set_up"
    WARM_UP = "warm_up"
    NOTICES = "notices"
    FUNDAMENTALS = "fundamentals"
    MUSIC = "music"
    CLOSE = "close"


@dataclass(frozen=True, slots=True)
class FixedSlots:
    """Whole minutes of the parts that every rehearsal has."""

    set_up: int
    warm_up: int
    notices: int
    close: int


@dataclass(frozen=True, slots=True)
class Block:
    """Whole minutes on one thing; `start` counts from the rehearsal's start.

    `subject` is the id of the strand or passage, None for a fixed slot.
    `exercise` is filled in for fundamentals once the order of exercises is known.
    """

    kind: BlockKind
    start: int
    minutes: int
    subject: str | None = None


@dataclass(frozen=True, slots=True)
class Agenda:
    """One rehearsal's blocks; they sum to its length exactly."""

    blocks: tuple[Block, ...]

    @property
    def changes(self) -> int:
        """How often the activity changes."""
        return max(0, len(self.blocks) - 1)

    @property
    def longest(self) -> int:
        """Minutes of the longest block."""
        return max((block.minutes for block in self.blocks), default=0)
