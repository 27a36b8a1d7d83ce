"""Scales spelled for a player, in a comfortable register.

Scale forms, and sharps up and flats down in the chromatic scale: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

from handbook.domain.circle_of_fifths import in_key
from handbook.domain.tables.instruments import Instrument, Range
from handbook.domain.transposition import written_key
from handbook.domain.values.keys import ConcertKey, Mode, SpelledKey, WrittenKey
from handbook.domain.values.pitch import LETTERS, NoteName, WrittenPitch
from handbook.records import dataclass

_SEMITONES, _FIFTH = 12, 7
_SIXTH, _SEVENTH = 5, 6  # places in a scale, from 0
_LOWEST_TRIED, _HIGHEST_TRIED = 0, 9  # octaves in which a tonic is looked for


class ScaleForm(StrEnum):
    """What is altered against the key signature."""

    OF_THE_KEY = "of the key"  # major, natural minor or a church mode: the signature alone
    HARMONIC = "harmonic"
    MELODIC = "melodic"
    CHROMATIC = "chromatic"


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale as read: `up` from the tonic, `down` back again, both ends included.

    It goes to the tonic above, or if not `whole` to the fifth.
    """

    key: WrittenKey
    form: ScaleForm
    up: tuple[WrittenPitch, ...]
    down: tuple[WrittenPitch, ...]
    whole: bool = True


def scale(
    key: ConcertKey,
    instrument: Instrument,
    form: ScaleForm = ScaleForm.OF_THE_KEY,
    octaves: int = 1,
) -> Scale:
    """Spell a concert key's scale as an instrument reads it, where its players are at home.

    It starts on the lowest tonic from the instrument's `scale_from` up whose notes all
    lie in the usual range. Where none does, a scale of one octave goes up to the fifth
    alone (a beginner's first five notes), and else it lies where the fewest are outside.
    Raises ValueError for unpitched percussion, fewer octaves than one, or a harmonic or
    melodic form of a key that is not minor.
    """
    if octaves < 1:
        raise ValueError("a scale has at least one octave")
    written = written_key(key, instrument)
    within = instrument.range
    if within is None or not instrument.scales:
        raise ValueError(f"the {instrument.name.lower()} plays no scales")
    bottom = _bottom(written.tonic, _SEMITONES * octaves, within)
    if octaves == 1 and within.outside(bottom.midi, bottom.midi + _SEMITONES):
        return _to_the_fifth(_whole(written, form, _bottom(written.tonic, _FIFTH, within), 1))
    return _whole(written, form, bottom, octaves)


def _whole(key: WrittenKey, form: ScaleForm, bottom: WrittenPitch, octaves: int) -> Scale:
    up, down = _octave_names(key, form)
    top = WrittenPitch(key.tonic, bottom.octave + octaves)
    return Scale(
        key,
        form,
        _climb(bottom, up * octaves, top),
        tuple(reversed(_climb(bottom, down[::-1] * octaves, top))),
    )


def _to_the_fifth(of: Scale) -> Scale:
    highest = of.up[0].midi + _FIFTH
    up, down = (tuple(note for note in way if note.midi <= highest) for way in (of.up, of.down))
    # The note where it turns is one note, though a chromatic scale falls in flats.
    return replace(of, up=up, down=(up[-1], *down[1:]), whole=False)


def _octave_names(
    key: SpelledKey, form: ScaleForm
) -> tuple[tuple[NoteName, ...], tuple[NoteName, ...]]:
    """Give one octave rising from the tonic, and the notes falling to the tonic (included)."""
    if form is ScaleForm.CHROMATIC:
        return _chromatic(key.tonic, 1), tuple(reversed(_chromatic(key.tonic, -1)))
    first = LETTERS.index(key.tonic.letter)
    plain = tuple(in_key(letter, key) for letter in LETTERS[first:] + LETTERS[:first])
    if form is ScaleForm.OF_THE_KEY:
        return plain, plain[::-1]
    if key.mode not in (Mode.MINOR, Mode.AEOLIAN):
        raise ValueError(f"only a minor key has a {form} form, not {key}")
    if form is ScaleForm.HARMONIC:
        harmonic = _raised(plain, _SEVENTH)
        return harmonic, harmonic[::-1]
    return _raised(plain, _SIXTH, _SEVENTH), plain[::-1]


def _raised(names: tuple[NoteName, ...], *places: int) -> tuple[NoteName, ...]:
    return tuple(
        NoteName(name.letter, name.alter + 1) if place in places else name
        for place, name in enumerate(names)
    )


def _chromatic(tonic: NoteName, sign: int) -> tuple[NoteName, ...]:
    """Give twelve rising names: naturals where there are any, else all sharps or all flats."""
    naturals = {NoteName(letter).pitch_class: NoteName(letter) for letter in LETTERS}
    altered = {note.pitch_class: note for note in (NoteName(letter, sign) for letter in LETTERS)}
    steps = [(tonic.pitch_class + step) % _SEMITONES for step in range(1, _SEMITONES)]
    return (tonic, *(naturals.get(step) or altered[step] for step in steps))


def _bottom(tonic: NoteName, semitones: int, within: Range) -> WrittenPitch:
    """Give the tonic from which so many semitones up lie best."""
    tried = [WrittenPitch(tonic, octave) for octave in range(_LOWEST_TRIED, _HIGHEST_TRIED)]

    def discomfort(bottom: WrittenPitch) -> tuple[int, bool, int]:
        outside = within.outside(bottom.midi, bottom.midi + semitones)
        return outside, bottom.midi < within.scale_from.midi, bottom.midi

    return min(tried, key=discomfort)


def _climb(
    bottom: WrittenPitch, names: tuple[NoteName, ...], top: WrittenPitch
) -> tuple[WrittenPitch, ...]:
    """Put rising names, the first of them the bottom note, into their octaves; end on `top`."""
    notes = [bottom]
    for name in names[1:]:
        octave = notes[-1].octave
        near = (WrittenPitch(name, octave + change) for change in (-1, 0, 1, 2))
        notes.append(min((n for n in near if n.midi > notes[-1].midi), key=lambda n: n.midi))
    return (*notes, top)
