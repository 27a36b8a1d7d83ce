"""Brass tubes: what sounds open, what valves and slide add, and which partials are used.

Which partials players use and which valves stand for a length are common practice, no
source. Partials are numbered from the fundamental, 1.
"""

from __future__ import annotations

from enum import StrEnum

from handbook.domain.values.pitch import WrittenPitch, parse_written_pitch
from handbook.records import dataclass

# Semitones from the fundamental to the nearest note of equal temperament: 1200 log2(n) rounded.
# The 11th and 13th lie between two notes, so no fingering uses them.
PARTIAL_SEMITONES: dict[int, int] = {
    1: 0, 2: 12, 3: 19, 4: 24, 5: 28, 6: 31, 7: 34, 8: 36,
    9: 38, 10: 40, 11: 42, 12: 43, 13: 44, 14: 46, 15: 47, 16: 48,
}  # fmt: skip

# Semitones that each valve adds.
VALVE_SEMITONES: dict[int, int] = {1: 2, 2: 1, 3: 3, 4: 5}

# Semitones lowered to the valves players take first, then those they may take instead.
THREE_VALVES: dict[int, tuple[str, ...]] = {
    0: ("0",), 1: ("2",), 2: ("1",), 3: ("12", "3"), 4: ("23",), 5: ("13",), 6: ("123",),
}  # fmt: skip
# A fourth valve reaches lower still, but by other valves where the instrument compensates than
# where it does not (2-3-4 is there D flat and here D), so the chart ends where both agree.
FOUR_VALVES: dict[int, tuple[str, ...]] = {
    0: ("0",), 1: ("2",), 2: ("1",), 3: ("12", "3"), 4: ("23",), 5: ("4", "13"), 6: ("24", "123"),
    7: ("14",),
}  # fmt: skip

VALVE_CHARTS: dict[int, dict[int, tuple[str, ...]]] = {3: THREE_VALVES, 4: FOUR_VALVES}

# Semitones lowered to the slide position.
SLIDE_POSITIONS: dict[int, int] = {lowered: lowered + 1 for lowered in range(7)}


class Action(StrEnum):
    """What lengthens the tube."""

    VALVES = "valves"
    SLIDE = "slide"


@dataclass(frozen=True, slots=True)
class Tube:
    """One length of brass as its part is written.

    `partials` are those of first choice. `bent` are partials so flat that only a slide can
    use them, drawn in; they are never a first choice. No fingering is given under `used_from`.
    `thumb` is whether a double horn's thumb valve is down for it, None where there is none.
    """

    name: str
    action: Action
    fundamental: WrittenPitch
    partials: tuple[int, ...]
    bent: tuple[int, ...] = ()
    used_from: WrittenPitch | None = None
    thumb: bool | None = None


_TO_8 = (2, 3, 4, 5, 6, 8)  # the 7th is 31 cents flat
_HORN = (2, 3, 4, 5, 6, 8, 10, 12, 16)  # the 9th is passed over for the 10th with valves
_HORN_B_FLAT = (6, 8, 10)  # as it is used, from A flat up

_note = parse_written_pitch

TRUMPET_TUBE = Tube("B♭ tube", Action.VALVES, _note("C3"), _TO_8)
HORN_F_SIDE = Tube("F side", Action.VALVES, _note("C2"), _HORN, thumb=False)
HORN_B_FLAT_SIDE = Tube(
    "B♭ side", Action.VALVES, _note("F2"), _HORN_B_FLAT, used_from=_note("Ab4"), thumb=True
)
TROMBONE_TUBE = Tube("slide", Action.SLIDE, _note("Bb1"), _TO_8, bent=(7,))
EUPHONIUM_TUBE = Tube("B♭ tube", Action.VALVES, _note("Bb1"), _TO_8)
TUBA_TUBE = Tube("BB♭ tube", Action.VALVES, _note("Bb0"), _TO_8)
