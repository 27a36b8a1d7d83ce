"""The forty usual snare drum rudiments by their stickings.

Common practice, no source. The single, double and triple paradiddle, the paradiddle-diddle,
the flam, the drag and the rolls of one, two, five, six, nine and ten strokes were compared
with a second list; the other rows are from memory. Large letters are strokes, small ones grace
notes, `z` a buzz. Rhythms and accents are not given.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

_OTHER_HAND = str.maketrans("RLrl", "LRlr")


class RudimentFamily(StrEnum):
    """What a rudiment is built of."""

    ROLLS = "rolls"
    DIDDLES = "diddles"
    FLAMS = "flams"
    DRAGS = "drags"


@dataclass(frozen=True, slots=True)
class Rudiment:
    """`right` is the sticking led by the right hand; `alternates` if the left leads next."""

    id: str
    name: str
    family: RudimentFamily
    right: str
    alternates: bool = False
    aliases: tuple[str, ...] = ()

    @property
    def left(self) -> str:
        """The same sticking led by the left hand."""
        return self.right.translate(_OTHER_HAND)

    @property
    def sticking(self) -> str:
        """One whole cycle as it is practised: both leads if it alternates."""
        return f"{self.right} {self.left}" if self.alternates else self.right


_ROLLS, _DIDDLES = RudimentFamily.ROLLS, RudimentFamily.DIDDLES
_FLAMS, _DRAGS = RudimentFamily.FLAMS, RudimentFamily.DRAGS

# fmt: off
RUDIMENTS: tuple[Rudiment, ...] = (
    Rudiment("single-stroke-roll", "Single stroke roll", _ROLLS, "RLRL"),
    Rudiment("single-stroke-four", "Single stroke four", _ROLLS, "RLRL"),
    Rudiment("single-stroke-seven", "Single stroke seven", _ROLLS, "RLRLRLR", alternates=True),
    Rudiment("multiple-bounce-roll", "Multiple bounce roll", _ROLLS, "RzLz", aliases=("buzz roll", "press roll")),
    Rudiment("triple-stroke-roll", "Triple stroke roll", _ROLLS, "RRRLLL"),
    Rudiment("double-stroke-roll", "Double stroke open roll", _ROLLS, "RRLL", aliases=("long roll", "double stroke roll")),
    Rudiment("five-stroke-roll", "Five stroke roll", _ROLLS, "RRLLR", alternates=True),
    Rudiment("six-stroke-roll", "Six stroke roll", _ROLLS, "RLLRRL"),
    Rudiment("seven-stroke-roll", "Seven stroke roll", _ROLLS, "RRLLRRL"),
    Rudiment("nine-stroke-roll", "Nine stroke roll", _ROLLS, "RRLLRRLLR", alternates=True),
    Rudiment("ten-stroke-roll", "Ten stroke roll", _ROLLS, "RRLLRRLLRL"),
    Rudiment("eleven-stroke-roll", "Eleven stroke roll", _ROLLS, "RRLLRRLLRRL"),
    Rudiment("thirteen-stroke-roll", "Thirteen stroke roll", _ROLLS, "RRLLRRLLRRLLR", alternates=True),
    Rudiment("fifteen-stroke-roll", "Fifteen stroke roll", _ROLLS, "RRLLRRLLRRLLRRL"),
    Rudiment("seventeen-stroke-roll", "Seventeen stroke roll", _ROLLS, "RRLLRRLLRRLLRRLLR", alternates=True),
    Rudiment("single-paradiddle", "Single paradiddle", _DIDDLES, "RLRR", alternates=True, aliases=("paradiddle",)),
    Rudiment("double-paradiddle", "Double paradiddle", _DIDDLES, "RLRLRR", alternates=True),
    Rudiment("triple-paradiddle", "Triple paradiddle", _DIDDLES, "RLRLRLRR", alternates=True),
    Rudiment("paradiddle-diddle", "Single paradiddle-diddle", _DIDDLES, "RLRRLL"),
    Rudiment("flam", "Flam", _FLAMS, "lR", alternates=True),
    Rudiment("flam-accent", "Flam accent", _FLAMS, "lR L R", alternates=True),
    Rudiment("flam-tap", "Flam tap", _FLAMS, "lR R", alternates=True),
    Rudiment("flamacue", "Flamacue", _FLAMS, "lR L R L lR", alternates=True),
    Rudiment("flam-paradiddle", "Flam paradiddle", _FLAMS, "lR L R R", alternates=True),
    Rudiment("single-flammed-mill", "Single flammed mill", _FLAMS, "lR R L R", alternates=True),
    Rudiment("flam-paradiddle-diddle", "Flam paradiddle-diddle", _FLAMS, "lR L R R L L", alternates=True),
    Rudiment("pataflafla", "Pataflafla", _FLAMS, "lR L R rL"),
    Rudiment("swiss-army-triplet", "Swiss army triplet", _FLAMS, "lR R L"),
    Rudiment("inverted-flam-tap", "Inverted flam tap", _FLAMS, "lR L", alternates=True),
    Rudiment("flam-drag", "Flam drag", _FLAMS, "lR LL R", alternates=True),
    Rudiment("drag", "Drag", _DRAGS, "llR", alternates=True, aliases=("ruff", "half drag")),
    Rudiment("single-drag-tap", "Single drag tap", _DRAGS, "llR L", alternates=True),
    Rudiment("double-drag-tap", "Double drag tap", _DRAGS, "llR llR L", alternates=True),
    Rudiment("lesson-25", "Lesson 25", _DRAGS, "llR L R"),
    Rudiment("single-dragadiddle", "Single dragadiddle", _DRAGS, "RR L RR", alternates=True, aliases=("dragadiddle",)),
    Rudiment("drag-paradiddle-1", "Drag paradiddle 1", _DRAGS, "R llR L R R", alternates=True),
    Rudiment("drag-paradiddle-2", "Drag paradiddle 2", _DRAGS, "R llR llR L R R", alternates=True),
    Rudiment("single-ratamacue", "Single ratamacue", _DRAGS, "llR L R L", alternates=True, aliases=("ratamacue",)),
    Rudiment("double-ratamacue", "Double ratamacue", _DRAGS, "llR llR L R L", alternates=True),
    Rudiment("triple-ratamacue", "Triple ratamacue", _DRAGS, "llR llR llR L R L", alternates=True),
)
# fmt: on
