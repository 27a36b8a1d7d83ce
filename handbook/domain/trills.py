"""Trills: the printed note and the one it changes with.

That is the next note above in the key, unless the part says another by a sign above the
trill: common practice, no source.
"""

from __future__ import annotations

from handbook.domain.circle_of_fifths import in_key
from handbook.domain.values.keys import SpelledKey
from handbook.domain.values.pitch import LETTERS, Interval, NoteName

_OCTAVE = 12
_STEPS = (1, 2)  # semitones of a step; more is a tremolo
_ALTERS = (0, -1, 1, -2, 2)  # those that are written, the plainest first


def next_in_key(note: NoteName, key: SpelledKey) -> NoteName:
    """Give the next note above in a key, which need not have the note itself."""
    return in_key(_next_letter(note), key)


def step_up(lower: NoteName, upper: NoteName) -> Interval | None:
    """Give the half or whole step from a note to the next letter above; None if it is no step."""
    semitones = (upper.pitch_class - lower.pitch_class) % _OCTAVE
    is_step = upper.letter == _next_letter(lower) and semitones in _STEPS
    return Interval(1, semitones) if is_step else None


def steps_from(lower: NoteName) -> tuple[NoteName, ...]:
    """Give the notes a half step and a whole step above, the plainer spelling first."""
    uppers = (NoteName(_next_letter(lower), alter) for alter in _ALTERS)
    return tuple(upper for upper in uppers if step_up(lower, upper))


def _next_letter(note: NoteName) -> str:
    return LETTERS[(LETTERS.index(note.letter) + 1) % len(LETTERS)]
