"""Frequencies, cents, beats, and the note an instrument tunes to.

Equal temperament is reckoned from A above middle C, 440 Hz by ISO 16:1975 or the
program's own pitch. Nothing here rounds but `shown_cents`.
"""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache

from handbook.domain.registers import in_register
from handbook.domain.tables.instruments import Family, Instrument
from handbook.domain.tables.just_intervals import CHORDS, JUST_INTERVALS, JustInterval
from handbook.domain.transposition import concert_pitch, written_name
from handbook.domain.values.pitch import ConcertPitch, NoteName, WrittenPitch
from handbook.records import dataclass

STANDARD_A = 440.0  # hertz, ISO 16:1975
_MIDI_OF_A = 69
_CENTS_IN_OCTAVE, _CENTS_IN_SEMITONE, _SEMITONES = 1200, 100, 12

# Winds tune to concert B flat, strings to A: common practice, no source.
WINDS_TUNE_TO, STRINGS_TUNE_TO = NoteName("B", -1), NoteName("A")
_DRONE_OCTAVE = 3


@dataclass(frozen=True, slots=True)
class TuningNote:
    """A tuning note as it sounds and as the player reads it."""

    concert: ConcertPitch
    written: WrittenPitch


@dataclass(frozen=True, slots=True)
class ChordTone:
    """A chord note and how far from equal temperament it sounds pure, in cents."""

    interval: JustInterval
    offset: float


def frequency(pitch: ConcertPitch, a4: float = STANDARD_A) -> float:
    """Give hertz in equal temperament; ValueError for a tuning pitch that is not above zero."""
    if a4 <= 0:
        raise ValueError(f"a tuning pitch of {a4} Hz does not sound")
    return a4 * math.pow(2, (pitch.midi - _MIDI_OF_A) / _SEMITONES)


def drone(name: NoteName, a4: float = STANDARD_A, octave: int = _DRONE_OCTAVE) -> float:
    """Give hertz of a drone on a concert note, by default in the octave below middle C."""
    return frequency(ConcertPitch(name, octave), a4)


def cents(start: float, end: float) -> float:
    """Give the interval between two frequencies in cents, above zero if it rises."""
    if start <= 0 or end <= 0:
        raise ValueError("cents lie between frequencies above zero")
    return _CENTS_IN_OCTAVE * math.log2(end / start)


def ratio_cents(ratio: Fraction) -> float:
    """Give the size of a ratio of frequencies in cents."""
    return cents(ratio.denominator, ratio.numerator)


def just_offset(interval: JustInterval) -> float:
    """Give how many cents the upper note is moved from equal temperament to sound pure."""
    return ratio_cents(interval.ratio) - _CENTS_IN_SEMITONE * interval.semitones


def chord_tuning(chord: str) -> tuple[ChordTone, ...]:
    """Give each note of a chord with its offset in cents over an equal-tempered root.

    KeyError for a chord that is not in the table of chords.
    """
    intervals = (JUST_INTERVALS[identifier] for identifier in CHORDS[chord])
    return tuple(ChordTone(interval, just_offset(interval)) for interval in intervals)


def shown_cents(offset: float) -> str:
    """Write an offset to the nearest cent, a half away from zero: `+2`, `−14`, `0`."""
    whole = int(Decimal(str(offset)).quantize(Decimal(1), ROUND_HALF_UP))
    return "0" if whole == 0 else f"{'+' if whole > 0 else '−'}{abs(whole)}"


def beats(one: float, other: float) -> float:
    """Give beats a second between two near unisons, from their frequencies."""
    return abs(one - other)


@lru_cache(maxsize=1024)  # players of all bands and cycles tune alike
def tuning_note(instrument: Instrument, concert: NoteName | None = None) -> TuningNote | None:
    """Give the note an instrument tunes to, in the octave where its single notes lie.

    `concert` overrides the usual concert B♭ (A for strings). On a tie the lower octave.
    None for percussion and keyboards, which the player does not tune to the band.
    """
    within = instrument.range
    if within is None or instrument.family in (Family.PERCUSSION, Family.KEYBOARD):
        return None
    usual = STRINGS_TUNE_TO if instrument.family is Family.STRINGS else WINDS_TUNE_TO
    name = written_name(concert or usual, instrument)
    written = in_register(name, instrument)
    return TuningNote(concert_pitch(written, instrument), written)
