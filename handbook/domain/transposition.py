"""From concert to written pitch and back, spelled right.

Intervals count letters and semitones, so that a written note is spelled as the part
spells it. Where an instrument's key would pass seven accidentals it is written as the
key that sounds alike, and then every note of that key moves with it: concert B major
is A♭ major for an alto saxophone, and its D♯ is written C, not B♯.
"""

from __future__ import annotations

from handbook.domain.circle_of_fifths import STEPS_ROUND, written_round
from handbook.domain.tables.instruments import Instrument
from handbook.domain.values.keys import ConcertKey, WrittenKey
from handbook.domain.values.pitch import (
    UNISON,
    ConcertPitch,
    Interval,
    NoteName,
    WrittenPitch,
)

_ENHARMONIC_STEP = Interval(1, 0)  # a diminished second: another letter, the same sound
_ANY_OCTAVE = 4


def written_key(key: ConcertKey, instrument: Instrument) -> WrittenKey:
    """Give the key an instrument reads for a concert key.

    Raises ValueError for percussion of no definite pitch, which reads no key.
    """
    _need_pitch(instrument)
    return WrittenKey.from_fifths(written_round(key.fifths - instrument.sounds.fifths), key.mode)


def written_pitch(
    pitch: ConcertPitch, instrument: Instrument, key: ConcertKey | None = None
) -> WrittenPitch:
    """Give the note an instrument reads for a sounding pitch.

    With the concert key it is spelled as in the written key (see the module); without
    one it is the plain interval. Raises ValueError for unpitched percussion, and for a
    spelling past triple accidentals.
    """
    moved = pitch.shifted(_to_written(instrument, key))
    return WrittenPitch(moved.name, moved.octave)


def concert_pitch(
    pitch: WrittenPitch, instrument: Instrument, key: ConcertKey | None = None
) -> ConcertPitch:
    """Give the pitch that sounds for a written note: `written_pitch` turned round."""
    moved = pitch.shifted(-_to_written(instrument, key))
    return ConcertPitch(moved.name, moved.octave)


def written_name(name: NoteName, instrument: Instrument, key: ConcertKey | None = None) -> NoteName:
    """Give the written name of a concert note of no particular octave, as `written_pitch`."""
    return written_pitch(ConcertPitch(name, _ANY_OCTAVE), instrument, key).name


def _to_written(instrument: Instrument, key: ConcertKey | None) -> Interval:
    _need_pitch(instrument)
    plain = -instrument.sounds
    if key is None:
        return plain
    wrapped = (key.fifths + plain.fifths - written_key(key, instrument).fifths) // STEPS_ROUND
    respelling = {-1: -_ENHARMONIC_STEP, 0: UNISON, 1: _ENHARMONIC_STEP}[wrapped]
    return plain + respelling


def _need_pitch(instrument: Instrument) -> None:
    if not instrument.pitched:
        raise ValueError(f"the {instrument.name.lower()} has no definite pitch to transpose")
