"""An exercise's notation as a whole band reads it: once for each clef and transposition."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handbook.domain.registers import line_in_register
from handbook.domain.scales import scale
from handbook.domain.tables.instruments import Clef, Instrument
from handbook.domain.transposition import (
    concert_pitch,
    written_key,
    written_name,
    written_pitch,
)
from handbook.domain.values.pitch import ConcertPitch, NoteName
from handbook.outputs.components.notation import Notation, notes_figure, scale_figure
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.instrument_names import called_alone, instrument_name
from handbook.plan.parts import takes_part
from handbook.plan.parts_model import PartNote, PartPlan
from handbook.records import dataclass
from handbook.schema.fundamentals import Exercise

_C = NoteName("C")
_Way = tuple[Clef, NoteName]


@dataclass(frozen=True, slots=True)
class SectionFigures:
    """What players of one clef and transposition read; `who` names their instruments."""

    who: str
    figures: tuple[Notation, ...]


def section_figures(exercise: Exercise, parts: Iterable[PartPlan]) -> tuple[SectionFigures, ...]:
    """Engrave an exercise for each way of reading it in a band, in the order of its parts.

    It lies where the first instrument of a group has it. Players who read no pitch have none.
    """
    groups: dict[_Way, list[tuple[PartPlan, Instrument]]] = {}
    for part in parts:
        row = part.instrument
        if row and row.pitched and row.scales and takes_part(part.id, row, exercise.who):
            groups.setdefault((row.clef, written_name(_C, row)), []).append((part, row))
    return tuple(
        SectionFigures(with_commas(_name(part, row) for part, row in players), figures)
        for players in groups.values()
        if (figures := tuple(_figures(exercise, players[0][1])))
    )


def _name(part: PartPlan, row: Instrument) -> str:
    return instrument_name(row) if part.id == row.id else called_alone(part.id)


def _figures(exercise: Exercise, reader: Instrument) -> Iterator[Notation]:
    key = exercise.scale
    if key is not None:
        try:
            yield scale_figure(scale(key, reader, exercise.scale_form), reader.clef)
        except ValueError:  # a form that the key's mode does not have; a check tells of it
            return
    if exercise.notes:
        yield notes_figure(
            _line(exercise, reader), reader.clef, written_key(key, reader) if key else None
        )


def _line(exercise: Exercise, reader: Instrument) -> list[PartNote]:
    """Place the notes of an exercise; those without an octave make one line."""
    key = exercise.scale
    names = [
        written_name(note, reader, key) for note in exercise.notes if isinstance(note, NoteName)
    ]
    line = iter(line_in_register(names, reader))
    written = [
        written_pitch(note, reader, key) if isinstance(note, ConcertPitch) else next(line)
        for note in exercise.notes
    ]
    return [PartNote(concert_pitch(note, reader, key), note, in_range=True) for note in written]
