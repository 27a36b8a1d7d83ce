"""An exercise's scale and notes in concert pitch, for all who read the page of its strand."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.registers import line_in_register
from handbook.domain.scales import scale
from handbook.domain.tables.instruments import instrument
from handbook.domain.values.pitch import ConcertPitch, NoteName
from handbook.outputs.components.notation import Notation, concert_figure, scale_figure
from handbook.schema.fundamentals import Exercise

# Two players who read what sounds, one in each clef: common practice, no source.
_READERS = tuple(instrument(name) for name in ("flute", "trombone"))


def concert_examples(exercise: Exercise) -> Iterator[Notation]:
    """Engrave the scale and the notes of an exercise, in treble and in bass clef."""
    for reader in _READERS:
        if exercise.scale is not None:
            try:
                practised = scale(exercise.scale, reader, exercise.scale_form)
            except ValueError:  # a form that the key's mode does not have; a check tells of it
                continue
            yield scale_figure(practised, reader.clef)
    for reader in _READERS:
        if exercise.notes:
            names = [note for note in exercise.notes if isinstance(note, NoteName)]
            line = iter(line_in_register(names, reader))
            notes = [
                note if isinstance(note, ConcertPitch) else next(line) for note in exercise.notes
            ]
            yield concert_figure(notes, reader.clef)
