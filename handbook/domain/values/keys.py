"""Keys: a tonic and a mode, as they sound and as a player reads them."""

from __future__ import annotations

import re
from enum import StrEnum
from typing import Self

from handbook.domain.values.pitch import NoteName, parse_note_name
from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass

MOST_ACCIDENTALS = 7  # a key signature has seven places: common practice, no source
_WRAP = 12  # fifths round the circle to the same sound


class Mode(StrEnum):
    """The kind of scale a key is built on."""

    MAJOR = "major"
    MINOR = "minor"
    IONIAN = "ionian"
    DORIAN = "dorian"
    PHRYGIAN = "phrygian"
    LYDIAN = "lydian"
    MIXOLYDIAN = "mixolydian"
    AEOLIAN = "aeolian"
    LOCRIAN = "locrian"


# Fifths from a mode's tonic to the tonic of the major key with the same signature:
# common practice, no source (D dorian has the signature of C major, two fifths flatward of D).
SIGNATURE_SHIFT: dict[Mode, int] = {
    Mode.LYDIAN: 1,
    Mode.MAJOR: 0,
    Mode.IONIAN: 0,
    Mode.MIXOLYDIAN: -1,
    Mode.DORIAN: -2,
    Mode.MINOR: -3,
    Mode.AEOLIAN: -3,
    Mode.PHRYGIAN: -4,
    Mode.LOCRIAN: -5,
}

_SHORT_MODES = {"maj": Mode.MAJOR, "min": Mode.MINOR, "mixo": Mode.MIXOLYDIAN}
_KEY = re.compile(
    r"(?:concert\s+)?(?P<tonic>.+?)[\s-]+(?P<mode>[a-z]{2,})(?:\s+key)?", re.IGNORECASE
)
_FLATS_AND_SHARPS = ("flat", "sharp", "natural")


@dataclass(frozen=True, slots=True)
class SpelledKey:
    """What sounding and written keys share; use one of those two, never this."""

    tonic: NoteName
    mode: Mode = Mode.MAJOR

    def __post_init__(self) -> None:
        if abs(self.fifths) > MOST_ACCIDENTALS:
            raise ValueError(f"{self} would need {abs(self.fifths)} accidentals in its signature")

    @classmethod
    def from_fifths(cls, fifths: int, mode: Mode = Mode.MAJOR) -> Self:
        """Give the key of a mode with so many sharps (flats if negative) in its signature."""
        return cls(NoteName.from_fifths(fifths - SIGNATURE_SHIFT[mode]), mode)

    @property
    def fifths(self) -> int:
        """The key signature as a number: sharps above zero, flats below."""
        return self.tonic.fifths + SIGNATURE_SHIFT[self.mode]

    @property
    def spoken(self) -> str:
        """The name as it is read aloud: `B flat major`."""
        return f"{self.tonic.spoken} {self.mode}"

    def __str__(self) -> str:
        return f"{self.tonic} {self.mode}"


@dataclass(frozen=True, slots=True)
class ConcertKey(SpelledKey):
    """A key as it sounds."""


@dataclass(frozen=True, slots=True)
class WrittenKey(SpelledKey):
    """A key as a player reads it in the part."""


def parse_concert_key(text: str) -> ConcertKey:
    """Read a sounding key such as `Bb major`, `B-flat major`, `G minor` or `D dorian`.

    The mode must be named: a bare `Bb` is refused with both readings offered. So is a
    key of more than seven sharps or flats, with the plain spelling of the same sound.
    Raises UnreadableError.
    """
    return ConcertKey(*_read_key(text))


def _read_key(text: str) -> tuple[NoteName, Mode]:
    found = _KEY.fullmatch(text.strip())
    if found is None or found["mode"].lower() in _FLATS_AND_SHARPS:
        raise _no_mode(text)
    tonic, mode = _tonic(found["tonic"], text), _mode(found["mode"], found["tonic"])
    fifths = tonic.fifths + SIGNATURE_SHIFT[mode]
    if abs(fifths) > MOST_ACCIDENTALS:
        kind = "sharps" if fifths > 0 else "flats"
        same_sound = NoteName.from_fifths(tonic.fifths - (_WRAP if fifths > 0 else -_WRAP))
        raise UnreadableError(
            f"`{text}` would need {abs(fifths)} {kind}; a key signature holds {MOST_ACCIDENTALS}",
            (f"{same_sound.typed} {mode}",),
        )
    return tonic, mode


def _tonic(tonic: str, text: str) -> NoteName:
    try:
        return parse_note_name(tonic)
    except UnreadableError as unread:
        raise UnreadableError(f"`{text}` names no key", ("Bb major", "G minor")) from unread


def _mode(mode: str, tonic: str) -> Mode:
    word = mode.lower()
    if word in _SHORT_MODES:
        return _SHORT_MODES[word]
    try:
        return Mode(word)
    except ValueError as unread:
        modes = tuple(f"{tonic} {known}" for known in Mode)
        raise UnreadableError(f"`{mode}` is no mode that is known here", modes) from unread


def _no_mode(text: str) -> UnreadableError:
    bare = re.sub(r"(?i)^\s*concert\s+", "", text)
    modes: tuple[Mode, ...] = (Mode.MAJOR, Mode.MINOR)
    if re.fullmatch(r"[A-Ga-g]\S*m", bare):  # a chord symbol such as Gm or F#m
        bare, modes = bare[:-1], (Mode.MINOR,)
    try:
        tonic = parse_note_name(bare)
    except UnreadableError:
        return UnreadableError(f"`{text}` names no key", ("Bb major", "G minor"))
    return UnreadableError(
        f"`{text}` does not say in words whether it is major or minor",
        tuple(f"{tonic.typed} {mode}" for mode in modes),
    )
