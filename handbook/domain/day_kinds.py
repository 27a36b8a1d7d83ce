"""What kind of rehearsal a day is: what its minutes are for."""

from __future__ import annotations

from enum import StrEnum


class DayKind(StrEnum):
    """What a rehearsal's minutes are for."""

    # The kinds are common practice, no source.
    ORDINARY = "ordinary"  # fundamentals and music, as the stage shares them
    DRESS = "dress"  # the band's part of the program in order, first
    SECTIONAL = "sectional"  # each section on its own passages, in its own room
    SIGHT_READING = "sight-reading"  # the music time is for reading something new
    ASSEMBLY = "assembly"  # the band sits in an assembly: nothing is rehearsed
    EVENT = "event"  # a game, a parade, a clinic: nothing is rehearsed

    @property
    def rehearses(self) -> bool:
        """Whether it has minutes for fundamentals and music."""
        return self not in {DayKind.ASSEMBLY, DayKind.EVENT}
