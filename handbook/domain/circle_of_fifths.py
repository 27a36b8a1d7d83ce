"""The circle of fifths: key signatures, and keys that sound alike.

Common practice, no source, throughout.
"""

from __future__ import annotations

from typing import TypeVar

from handbook.domain.values.keys import MOST_ACCIDENTALS, SpelledKey
from handbook.domain.values.pitch import NoteName

SHARPS_IN_ORDER = tuple(NoteName(letter, 1) for letter in "FCGDAEB")
FLATS_IN_ORDER = tuple(NoteName(letter, -1) for letter in "BEADGCF")
STEPS_ROUND = 12  # fifths from a note to the next one that sounds alike

K = TypeVar("K", bound=SpelledKey)


def signature(key: SpelledKey) -> tuple[NoteName, ...]:
    """Give the sharps or flats of the key signature in the order they are written."""
    return SHARPS_IN_ORDER[: key.fifths] if key.fifths > 0 else FLATS_IN_ORDER[: -key.fifths]


def signature_text(key: SpelledKey) -> str:
    """Say the signature in words: `2 flats: B♭, E♭`, `1 sharp: F♯`, `no sharps or flats`."""
    notes = signature(key)
    if not notes:
        return "no sharps or flats"
    kind = "sharp" if key.fifths > 0 else "flat"
    plural = "" if len(notes) == 1 else "s"
    return f"{len(notes)} {kind}{plural}: {', '.join(map(str, notes))}"


def in_key(letter: str, key: SpelledKey) -> NoteName:
    """Give the note that a letter stands for under the key signature."""
    altered = {note.letter: note for note in signature(key)}
    return altered.get(letter, NoteName(letter))


def written_round(fifths: int) -> int:
    """Bring a signature past seven accidentals back by twelve steps, to the same sound.

    Eight sharps become four flats. Signatures of up to seven are left as they are: six
    sharps stay six sharps, since a part in F♯ is no harder to read than one in G♭.
    """
    while fifths > MOST_ACCIDENTALS:
        fifths -= STEPS_ROUND
    while fifths < -MOST_ACCIDENTALS:
        fifths += STEPS_ROUND
    return fifths


def sounding_alike(key: K) -> K | None:
    """Give the key of the same sound and mode with the other kind of signature.

    C♯ major for D♭ major and back; None where that would need more than seven accidentals.
    """
    other = key.fifths - STEPS_ROUND if key.fifths > 0 else key.fifths + STEPS_ROUND
    return key.from_fifths(other, key.mode) if abs(other) <= MOST_ACCIDENTALS else None
