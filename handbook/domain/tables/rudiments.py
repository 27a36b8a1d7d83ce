"""The forty snare drum rudiments by their stickings, in the order and by the names of their list.

Source: Percussive Arts Society, International Drum Rudiments (the list of forty, 1984). The
Society's own sheet could not be read; every row was compared, stroke by stroke, with two
transcriptions of it made independently of each other and of this table. They differ from
each other in whether the single stroke four and Lesson 25 change hands when repeated: both
are given here as not changing, the first from memory of the sheet, the second as drum
teachers print it. Of the single dragadiddle one has two grace notes where the sheet, from
memory, and the other have two strokes.

Large letters are strokes, small ones grace notes, `z` a buzz. Rhythms and accents are not given.
"""

from __future__ import annotations

from enum import StrEnum

from handbook.records import dataclass

_OTHER_HAND = str.maketrans("RLrl", "LRlr")


class RudimentFamily(StrEnum):
    """What a rudiment is built of."""

    ROLLS = "rolls"
    DIDDLES = "diddles"
    FLAMS = "flams"
    DRAGS = "drags"


@dataclass(frozen=True, slots=True)
class Rudiment:
    """`name` is as the list prints it; `right` is the sticking led by the right hand.

    `alternates` if the left hand leads when it is repeated.
    """

    id: str
    name: str
    family: RudimentFamily
    right: str
    alternates: bool = False
    aliases: tuple[str, ...] = ()

    @property
    def typed(self) -> str:
        """The name as a file may have it unquoted: `Drag Paradiddle 1`, since ` #` begins a comment."""
        return self.name.replace("#", "")

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
    Rudiment("single-stroke-roll", "Single Stroke Roll", _ROLLS, "RLRL"),
    Rudiment("single-stroke-four", "Single Stroke Four", _ROLLS, "RLRL"),
    Rudiment("single-stroke-seven", "Single Stroke Seven", _ROLLS, "RLRLRLR", alternates=True),
    Rudiment("multiple-bounce-roll", "Multiple Bounce Roll", _ROLLS, "RzLz", aliases=("buzz roll", "press roll")),
    Rudiment("triple-stroke-roll", "Triple Stroke Roll", _ROLLS, "RRRLLL"),
    Rudiment("double-stroke-roll", "Double Stroke Open Roll", _ROLLS, "RRLL", aliases=("long roll", "double stroke roll")),
    Rudiment("five-stroke-roll", "Five Stroke Roll", _ROLLS, "RRLLR", alternates=True),
    Rudiment("six-stroke-roll", "Six Stroke Roll", _ROLLS, "RLLRRL"),
    Rudiment("seven-stroke-roll", "Seven Stroke Roll", _ROLLS, "RRLLRRL"),
    Rudiment("nine-stroke-roll", "Nine Stroke Roll", _ROLLS, "RRLLRRLLR", alternates=True),
    Rudiment("ten-stroke-roll", "Ten Stroke Roll", _ROLLS, "RRLLRRLLRL"),
    Rudiment("eleven-stroke-roll", "Eleven Stroke Roll", _ROLLS, "RRLLRRLLRRL"),
    Rudiment("thirteen-stroke-roll", "Thirteen Stroke Roll", _ROLLS, "RRLLRRLLRRLLR", alternates=True),
    Rudiment("fifteen-stroke-roll", "Fifteen Stroke Roll", _ROLLS, "RRLLRRLLRRLLRRL"),
    Rudiment("seventeen-stroke-roll", "Seventeen Stroke Roll", _ROLLS, "RRLLRRLLRRLLRRLLR", alternates=True),
    Rudiment("single-paradiddle", "Single Paradiddle", _DIDDLES, "RLRR", alternates=True, aliases=("paradiddle",)),
    Rudiment("double-paradiddle", "Double Paradiddle", _DIDDLES, "RLRLRR", alternates=True),
    Rudiment("triple-paradiddle", "Triple Paradiddle", _DIDDLES, "RLRLRLRR", alternates=True),
    Rudiment("paradiddle-diddle", "Single Paradiddle-Diddle", _DIDDLES, "RLRRLL"),
    Rudiment("flam", "Flam", _FLAMS, "lR", alternates=True),
    Rudiment("flam-accent", "Flam Accent", _FLAMS, "lR L R", alternates=True),
    Rudiment("flam-tap", "Flam Tap", _FLAMS, "lR R", alternates=True),
    Rudiment("flamacue", "Flamacue", _FLAMS, "lR L R L lR", alternates=True),
    Rudiment("flam-paradiddle", "Flam Paradiddle", _FLAMS, "lR L R R", alternates=True),
    Rudiment("single-flammed-mill", "Single Flammed Mill", _FLAMS, "lR R L R", alternates=True),
    Rudiment("flam-paradiddle-diddle", "Flam Paradiddle-Diddle", _FLAMS, "lR L R R L L", alternates=True),
    Rudiment("pataflafla", "Pataflafla", _FLAMS, "lR L R rL"),
    Rudiment("swiss-army-triplet", "Swiss Army Triplet", _FLAMS, "lR R L"),
    Rudiment("inverted-flam-tap", "Inverted Flam Tap", _FLAMS, "lR L", alternates=True),
    Rudiment("flam-drag", "Flam Drag", _FLAMS, "lR LL R", alternates=True),
    Rudiment("drag", "Drag", _DRAGS, "llR", alternates=True, aliases=("ruff", "half drag")),
    Rudiment("single-drag-tap", "Single Drag Tap", _DRAGS, "llR L", alternates=True),
    Rudiment("double-drag-tap", "Double Drag Tap", _DRAGS, "llR llR L", alternates=True),
    Rudiment("lesson-25", "Lesson 25", _DRAGS, "llR L R"),
    Rudiment("single-dragadiddle", "Single Dragadiddle", _DRAGS, "RR L RR", alternates=True, aliases=("dragadiddle",)),
    Rudiment("drag-paradiddle-1", "Drag Paradiddle #1", _DRAGS, "R llR L R R", alternates=True),
    Rudiment("drag-paradiddle-2", "Drag Paradiddle #2", _DRAGS, "R llR llR L R R", alternates=True),
    Rudiment("single-ratamacue", "Single Ratamacue", _DRAGS, "llR L R L", alternates=True, aliases=("ratamacue",)),
    Rudiment("double-ratamacue", "Double Ratamacue", _DRAGS, "llR llR L R L", alternates=True),
    Rudiment("triple-ratamacue", "Triple Ratamacue", _DRAGS, "llR llR llR L R L", alternates=True),
)
# fmt: on
