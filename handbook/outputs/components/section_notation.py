"""An exercise's notation as a whole band reads it: once for each clef and transposition."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handbook.domain.registers import line_in_register
from handbook.domain.scales import Scale, scale
from handbook.domain.tables.instruments import Instrument
from handbook.domain.transposition import (
    concert_pitch,
    written_key,
    written_name,
    written_pitch,
)
from handbook.domain.values.keys import WrittenKey
from handbook.domain.values.pitch import ConcertPitch, NoteName, WrittenPitch
from handbook.outputs.components.notation import Notation, first_notes, notes_figure, scale_figure
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.instrument_names import called_alone, instrument_name
from handbook.plan.parts import takes_part
from handbook.plan.parts_model import PartNote, PartPlan
from handbook.records import dataclass
from handbook.schema.fundamentals import Exercise

Players = tuple[tuple[PartPlan, Instrument], ...]
_C = NoteName("C")


@dataclass(frozen=True, slots=True)
class SectionFigures:
    """What players of one clef and transposition read; `who` names their instruments.

    `extent` says how much of a scale they have, `first five notes`; nothing if it is whole.
    """

    who: str
    figures: tuple[Notation, ...]
    extent: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """What an instrument reads of an exercise where it lies best: `scale` and `line` hold its notes."""

    reader: Instrument
    key: WrittenKey | None
    scale: Scale | None
    line: tuple[PartNote, ...]

    def serves(self, other: Reading) -> bool:
        """Whether another player, who has as many notes, reads all of these within the usual range.

        A player who has some outside of the range wherever they lie has them as they are here
        only where they are the very same.
        """
        one, two = self.reader, other.reader
        if (one.clef, written_name(_C, one)) != (two.clef, written_name(_C, two)):
            return False
        if len(self.notes) != len(other.notes):
            return False
        fits = all(two.range is not None and two.range.holds(note) for note in self.notes)
        return fits or self.notes == other.notes

    @property
    def notes(self) -> tuple[WrittenPitch, ...]:
        """All that it has, going up and down."""
        rising = self.scale.up + self.scale.down if self.scale else ()
        return rising + tuple(one.written for one in self.line)


def section_figures(exercise: Exercise, parts: Iterable[PartPlan]) -> tuple[SectionFigures, ...]:
    """Engrave an exercise for each way of reading it in a band, in the order of its parts.

    Players who read no pitch have none.
    """
    return tuple(
        SectionFigures(
            with_commas(_name(*player) for player in players),
            tuple(_figures(reading)),
            first_notes(reading.scale) if reading.scale else "",
        )
        for reading, players in readings(exercise, parts)
    )


def readings(exercise: Exercise, parts: Iterable[PartPlan]) -> tuple[tuple[Reading, Players], ...]:
    """Give what is read of an exercise in a band, each with those who read it.

    Who read alike have one reading, which lies where the first of them has it, if that lies
    in the range of each.
    """
    groups: list[tuple[Reading, list[tuple[PartPlan, Instrument]]]] = []
    for part in parts:
        row = part.instrument
        if not (row and row.pitched and row.scales and takes_part(part.id, row, exercise.who)):
            continue
        own = _reading(exercise, row)
        if own is None:
            continue
        shared = next((players for reading, players in groups if reading.serves(own)), None)
        if shared is None:
            groups.append((own, [(part, row)]))
        else:
            shared.append((part, row))
    return tuple((reading, tuple(players)) for reading, players in groups)


def _name(part: PartPlan, row: Instrument) -> str:
    return instrument_name(row) if part.id == row.id else called_alone(part.id)


def _reading(exercise: Exercise, reader: Instrument) -> Reading | None:
    """Give what an instrument reads; None where there is nothing to be read."""
    key = exercise.scale
    try:
        practised = scale(key, reader, exercise.scale_form) if key else None
    except ValueError:  # a form that the key's mode does not have; a check tells of it
        return None
    if not (practised or exercise.notes):
        return None
    written = written_key(key, reader) if key else None
    return Reading(reader, written, practised, tuple(_line(exercise, reader)))


def _figures(reading: Reading) -> Iterator[Notation]:
    if reading.scale:
        yield scale_figure(reading.scale, reading.reader.clef)
    if reading.line:
        yield notes_figure(reading.line, reading.reader.clef, reading.key)


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
