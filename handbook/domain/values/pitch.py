"""Pitches as musicians spell them: a letter, an accidental and an octave.

Octave numbers follow scientific pitch notation: middle C is C4 and the number
changes between B and C (common practice, no source). A pitch that sounds and a
pitch that a player reads are different types, so that one is never taken for the other.
"""

from __future__ import annotations

import re
from typing import Self

from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass

LETTERS = "CDEFGAB"
_NATURAL_SEMITONES = (0, 2, 4, 5, 7, 9, 11)
_LETTERS_BY_FIFTHS = "FCGDAEB"  # F is one fifth below C
_SEMITONES_IN_OCTAVE = 12
_MIDI_OF_C0 = 12  # middle C, C4, is MIDI note 60

# Three accidentals can only arise from transposing a double one; nobody writes them.
_MOST_ALTER = 3

_SIGNS = {-3: "♭𝄫", -2: "𝄫", -1: "♭", 0: "", 1: "♯", 2: "𝄪", 3: "♯𝄪"}
_SPOKEN = {
    -3: " triple flat",
    -2: " double flat",
    -1: " flat",
    0: "",
    1: " sharp",
    2: " double sharp",
    3: " triple sharp",
}
_ALTERS = {
    "": 0,
    "natural": 0,
    "♮": 0,
    "b": -1,
    "♭": -1,
    "flat": -1,
    "#": 1,
    "♯": 1,
    "sharp": 1,
    "bb": -2,
    "♭♭": -2,
    "𝄫": -2,
    "doubleflat": -2,
    "##": 2,
    "♯♯": 2,
    "x": 2,
    "𝄪": 2,
    "doublesharp": 2,
}
_NAME = re.compile(r"(?P<letter>[a-g])(?P<alter>[^\d]*?)(?P<octave>-?\d+)?", re.IGNORECASE)
_GAPS = re.compile(r"[\s_]+|[-‑–](?=\D)")  # not a minus before an octave
_LOWEST_OCTAVE, _HIGHEST_OCTAVE = 0, 9


@dataclass(frozen=True, slots=True)
class Interval:
    """A distance between two pitches, upward if positive: `steps` letters and `semitones`.

    A major sixth up is Interval(5, 9); both numbers are needed, since semitones alone
    do not say how the far note is spelled.
    """

    steps: int
    semitones: int

    def __neg__(self) -> Interval:
        return Interval(-self.steps, -self.semitones)

    def __add__(self, other: Interval) -> Interval:
        return Interval(self.steps + other.steps, self.semitones + other.semitones)

    @property
    def fifths(self) -> int:
        """How far it moves a key round the circle of fifths, sharpward if positive."""
        return 7 * self.semitones - _SEMITONES_IN_OCTAVE * self.steps


UNISON = Interval(0, 0)


@dataclass(frozen=True, slots=True)
class NoteName:
    """A letter with its accidental, in no octave; `alter` counts sharps, flats below zero."""

    letter: str
    alter: int = 0

    def __post_init__(self) -> None:
        if self.letter not in tuple(LETTERS):
            raise ValueError(f"{self.letter!r} is no letter of a note")
        if abs(self.alter) > _MOST_ALTER:
            raise ValueError(f"{self.letter} altered by {self.alter} cannot be written")

    @classmethod
    def from_fifths(cls, fifths: int) -> NoteName:
        """Give the note so many fifths above C (below if negative)."""
        alter, place = divmod(fifths + 1, len(LETTERS))
        return cls(_LETTERS_BY_FIFTHS[place], alter)

    @property
    def fifths(self) -> int:
        """How many fifths the note lies above C, flats below zero: B♭ is -2."""
        return _LETTERS_BY_FIFTHS.index(self.letter) - 1 + len(LETTERS) * self.alter

    @property
    def pitch_class(self) -> int:
        """Semitones above C, 0 to 11."""
        return (_NATURAL_SEMITONES[LETTERS.index(self.letter)] + self.alter) % _SEMITONES_IN_OCTAVE

    @property
    def spoken(self) -> str:
        """The name as it is read aloud: `B flat`."""
        return self.letter + _SPOKEN[self.alter]

    @property
    def typed(self) -> str:
        """The name as it is typed on a plain keyboard: `Bb`, `F#`."""
        return self.letter + ("#" if self.alter > 0 else "b") * abs(self.alter)

    def __str__(self) -> str:
        return self.letter + _SIGNS[self.alter]


@dataclass(frozen=True, slots=True)
class SpelledPitch:
    """What sounding and written pitches share; use one of those two, never this."""

    name: NoteName
    octave: int

    @classmethod
    def at(cls, staff_place: int, midi: int) -> Self:
        """Give the pitch on a staff place (see `staff_place`) that sounds as a MIDI number."""
        octave, letter = divmod(staff_place, len(LETTERS))
        natural = _MIDI_OF_C0 + _SEMITONES_IN_OCTAVE * octave + _NATURAL_SEMITONES[letter]
        return cls(NoteName(LETTERS[letter], midi - natural), octave)

    @property
    def staff_place(self) -> int:
        """Letters above C0, whatever the accidental: C4 is 28, B♯3 and B3 are 27."""
        return len(LETTERS) * self.octave + LETTERS.index(self.name.letter)

    @property
    def midi(self) -> int:
        """Height in semitones as a MIDI note number; middle C is 60."""
        natural = _NATURAL_SEMITONES[LETTERS.index(self.name.letter)]
        return _MIDI_OF_C0 + _SEMITONES_IN_OCTAVE * self.octave + natural + self.name.alter

    @property
    def spoken(self) -> str:
        """The name as it is read aloud: `B flat 4`."""
        return f"{self.name.spoken} {self.octave}"

    def shifted(self, by: Interval) -> Self:
        """Move by an interval, keeping the spelling right; ValueError past triple accidentals."""
        return self.at(self.staff_place + by.steps, self.midi + by.semitones)

    def __str__(self) -> str:
        return f"{self.name}{self.octave}"


@dataclass(frozen=True, slots=True)
class ConcertPitch(SpelledPitch):
    """A pitch as it sounds."""


@dataclass(frozen=True, slots=True)
class WrittenPitch(SpelledPitch):
    """A pitch as a player reads it in the part."""


def parse_note_name(text: str) -> NoteName:
    """Read `Bb`, `B♭`, `B-flat`, `B flat`, `F#`, `F sharp`; either case of the letter.

    A first `b` is always the letter, so `bb` is B flat and `Bbb` is B double flat.
    Raises UnreadableError for anything else.
    """
    name, octave = _read(text)
    if octave is not None:
        raise UnreadableError(
            f"`{text}` carries an octave, but a note name is wanted", (name.typed,)
        )
    return name


def parse_concert_pitch(text: str) -> ConcertPitch:
    """Read a sounding pitch such as `Bb4`, `F#3`, `B♭4` or `B-flat 4`.

    Raises UnreadableError for anything else, and for octaves outside 0 to 9.
    """
    return ConcertPitch(*_read_pitch(text))


def parse_concert_note(text: str) -> ConcertPitch | NoteName:
    """Read a sounding note, with its octave or without: `Eb4`, `Eb`. Raises UnreadableError."""
    return parse_concert_pitch(text) if re.search(r"\d", text) else parse_note_name(text)


def parse_written_pitch(text: str) -> WrittenPitch:
    """Read a pitch as written in a part, spelled as for `parse_concert_pitch`."""
    return WrittenPitch(*_read_pitch(text))


def _read_pitch(text: str) -> tuple[NoteName, int]:
    name, octave = _read(text)
    if octave is None:
        nearest = tuple(f"{name.typed}{number}" for number in (4, 3, 5))
        raise UnreadableError(f"`{text}` names no octave (middle C is C4)", nearest)
    if not _LOWEST_OCTAVE <= octave <= _HIGHEST_OCTAVE:
        raise UnreadableError(
            f"octave {octave} is outside {_LOWEST_OCTAVE} to {_HIGHEST_OCTAVE} (middle C is C4)",
            (f"{name.typed}4",),
        )
    return name, octave


def _read(text: str) -> tuple[NoteName, int | None]:
    found = _NAME.fullmatch(_GAPS.sub("", text))
    alter = _ALTERS.get(found["alter"].lower()) if found else None
    if found is None or alter is None:
        raise UnreadableError(f"`{text}` is no note", _near(text))
    return NoteName(found["letter"].upper(), alter), int(found["octave"]) if found[
        "octave"
    ] else None


def _near(text: str) -> tuple[str, ...]:
    if text.strip()[:1].upper() == "H":  # the letter for B in some countries
        return ("B4", "Bb4")
    return ("Bb4", "F#3", "B-flat 4")
