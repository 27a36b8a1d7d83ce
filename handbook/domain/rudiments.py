"""Stickings: which hand plays, with its grace notes, and the rudiments they make.

Typed as drummers write them: `R` and `L` for strokes, small `r` and `l` before a stroke for
its grace notes (`lR` a flam, `llR` a drag), `z` after it for a buzz. Spaces are free.
"""

from __future__ import annotations

import difflib
import re
from enum import StrEnum

from handbook.domain.tables.rudiments import RUDIMENTS, Rudiment
from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass

_STROKE = re.compile(r"(?P<graces>[rl]*)(?P<hand>[RL])(?P<buzz>z?)")
_STICKING = re.compile(r"(?:[rl]*[RL]z?)+")
_MOST_GRACES = 2


class Hand(StrEnum):
    """The hand that plays a stroke."""

    RIGHT = "R"
    LEFT = "L"

    @property
    def other(self) -> Hand:
        """The hand that does not."""
        return Hand.LEFT if self is Hand.RIGHT else Hand.RIGHT


@dataclass(frozen=True, slots=True)
class Stroke:
    """One stroke; `graces` are 0, 1 (flam) or 2 (drag) grace notes of the other hand."""

    hand: Hand
    graces: int = 0
    buzz: bool = False

    def __str__(self) -> str:
        return self.hand.other.lower() * self.graces + self.hand + ("z" if self.buzz else "")


def parse_sticking(text: str) -> tuple[Stroke, ...]:
    """Read `RLRR LRLL`, `lR L R R`, `llR L`, `RzLz`.

    Raises UnreadableError for other letters, for grace notes with no stroke, for more than
    two of them, and for grace notes of the hand that plays the stroke.
    """
    plain = "".join(text.split())
    if not plain or not _STICKING.fullmatch(plain):
        raise UnreadableError(f"`{text}` is no sticking", ("RLRR LRLL", "lR rL", "llR L"))
    return tuple(_stroke(found) for found in _STROKE.finditer(plain))


def _stroke(found: re.Match[str]) -> Stroke:
    hand, graces = Hand(found["hand"]), found["graces"]
    right = hand.other.lower()
    if len(graces) > _MOST_GRACES:
        raise UnreadableError(
            f"`{found[0]}` has {len(graces)} grace notes, but a drag has {_MOST_GRACES}",
            (right * _MOST_GRACES + hand,),
        )
    if set(graces) - {right}:
        raise UnreadableError(
            f"the grace notes of `{found[0]}` are not all in the other hand",
            (right * len(graces) + hand,),
        )
    return Stroke(hand, len(graces), bool(found["buzz"]))


def rudiment(name: str) -> Rudiment:
    """Find a rudiment by id, name or alias: `Single Paradiddle`, `paradiddle`, `5 stroke roll`.

    Raises UnreadableError for an unknown name, with the nearest names.
    """
    wanted = _plain(name)
    if wanted in _BY_NAME:
        return _BY_NAME[wanted]
    near = difflib.get_close_matches(wanted, _BY_NAME, n=6)
    names = tuple(dict.fromkeys(_BY_NAME[known].typed for known in near))
    raise UnreadableError(f"`{name}` is no rudiment that is known here", names[:3])


_NUMBERS = {
    "4": "four", "5": "five", "6": "six", "7": "seven", "9": "nine", "10": "ten",
    "11": "eleven", "13": "thirteen", "15": "fifteen", "17": "seventeen",
}  # fmt: skip


def _plain(name: str) -> str:
    words = re.sub(r"[\W_]+", " ", name.lower()).split()
    return " ".join(_NUMBERS.get(word, word) for word in words)


_BY_NAME = {_plain(name): row for row in RUDIMENTS for name in (row.id, row.name, *row.aliases)}
