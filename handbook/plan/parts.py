"""What each player of an ensemble practises, in the pitch of the part."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from handbook.domain.circle_of_fifths import signature, sounding_alike
from handbook.domain.fingerings import Fingering, alternates, first_choice
from handbook.domain.note_words import names_notes
from handbook.domain.registers import in_register, instrument_at, line_in_register
from handbook.domain.scales import Scale, ScaleForm, scale
from handbook.domain.tables.experience import Experience
from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import Family, Instrument
from handbook.domain.transposition import concert_pitch, written_key, written_name, written_pitch
from handbook.domain.trills import step_up
from handbook.domain.tuning import TuningNote, tuning_note
from handbook.domain.values.keys import ConcertKey
from handbook.domain.values.pitch import ConcertPitch, NoteName, WrittenPitch
from handbook.domain.values.text import Text
from handbook.plan.model import PieceRow, StrandRow
from handbook.plan.parts_model import (
    PartExercise,
    PartNote,
    PartPiece,
    PartPlan,
    PartPoint,
    PartTrill,
    RhythmRow,
)
from handbook.records import dataclass
from handbook.schema.fundamentals import Exercise
from handbook.schema.music import Trill, WatchPoint
from handbook.schema.program import Ensemble, Program, is_same
from handbook.schema.texts_for import Texts, texts_for

_VALVES = 3
_MOST_DRUMS = 4  # timpani that stand before one player: common practice, no source
_FIFTH_UP = 1  # on the circle of fifths


@dataclass(frozen=True, slots=True)
class _Player:
    """Whose part it is: what is known of the instrument, and the program's own data about it."""

    id: str
    row: Instrument | None
    program: Program
    valves: int
    single_horn: bool
    experience: Experience

    def takes_part(self, who: Sequence[str]) -> bool:
        """Whether a passage or point is for this player."""
        return takes_part(self.id, self.row, who)

    def texts(self, given: Texts | None) -> tuple[Text, ...]:
        """Give the texts that are for this player."""
        return tuple(text for who, text in texts_for(given) if self.takes_part(who))

    @property
    def pitched(self) -> Instrument | None:
        """The instrument, if keys and notes concern it."""
        return self.row if self.row is not None and self.row.pitched else None


def part_plans(
    program: Program,
    ensemble: Ensemble,
    pieces: Sequence[PieceRow],
    strands: Sequence[StrandRow],
    rhythms: Mapping[str, RhythmRow],
) -> tuple[PartPlan, ...]:
    """Reckon the part of each instrument that the ensemble counts, in the order it counts them.

    `rhythms` maps exercises to theirs.
    """
    return tuple(
        _part(_player(name, program, ensemble), players, pieces, strands, rhythms)
        for name, players in ensemble.instruments.items()
    )


def with_joined_parts(
    program: Program, ensemble: Ensemble, parts: Sequence[PartPlan], pieces: Sequence[PieceRow]
) -> tuple[PartPlan, ...]:
    """Add to an ensemble's parts the pieces of another that it joins, in each player's pitch."""
    return tuple(
        replace(
            part,
            joined=tuple(_piece(_player(part.id, program, ensemble), piece) for piece in pieces),
        )
        for part in parts
    )


def instrument_for(name: str, program: Program, experience: Experience) -> Instrument | None:
    """Find how an instrument's part is written, with the range of players of some experience."""
    row = program.instrument(name)
    return instrument_at(row, experience) if row else None


def takes_part(name: str, row: Instrument | None, who: Sequence[str]) -> bool:
    """Whether what is for `who` is for an instrument; what is for nobody by name is for all.

    `who` names instruments, by any of their names, and families. `row` is what is known of
    the instrument.
    """
    return not who or _is_for(name, row.id if row is not None else "", tuple(who))


def is_played(program: Program, ensemble: Ensemble, who: Sequence[str]) -> bool:
    """Whether an ensemble has a player of what is for `who`; one that lists no instruments may have any."""
    names = ensemble.instruments
    return not names or any(takes_part(name, program.instrument(name), who) for name in names)


@lru_cache(maxsize=4096)  # asked anew for each point of each part
def _is_for(name: str, known: str, who: tuple[str, ...]) -> bool:
    return any(one == name or known in FAMILIES.get(one, ()) or is_same(one, name) for one in who)


def _player(name: str, program: Program, ensemble: Ensemble) -> _Player:
    return _Player(
        name,
        instrument_for(name, program, ensemble.experience),
        program,
        ensemble.valves.get(name, _VALVES),
        ensemble.single_horns,
        ensemble.experience,
    )


def _part(
    player: _Player,
    players: int,
    pieces: Sequence[PieceRow],
    strands: Sequence[StrandRow],
    rhythms: Mapping[str, RhythmRow],
) -> PartPlan:
    return PartPlan(
        id=player.id,
        players=players,
        instrument=player.row,
        tuning=_tuning(player),
        pieces=tuple(_piece(player, piece) for piece in pieces),
        exercises=tuple(_exercises(player, strands, rhythms)),
    )


def _tuning(player: _Player) -> TuningNote | None:
    if player.row is None:
        return None
    strings = player.row.family is Family.STRINGS
    return tuning_note(player.row, None if strings else player.program.tuning_note)


def _piece(player: _Player, piece: PieceRow) -> PartPiece:
    item, row = piece.item, player.pitched
    key = written_key(item.key, row) if item.key and row else None
    practised = _scale(player, item.key, item.scale_form)
    return PartPiece(
        item=item,
        passages=tuple(passage.id for passage in item.passages if player.takes_part(passage.who)),
        points=tuple(_points(player, piece)),
        rhythms=tuple(one for one in piece.rhythms if player.takes_part(one.item.who)),
        trills=tuple(_trills(player, piece)),
        key=key,
        alike=sounding_alike(key) if key else None,
        key_notes=_key_notes(player, item.key),
        scale=practised,
        scale_ways=_ways(player, practised),
        drums=_drums(player, item.key),
        home={passage.id: player.texts(passage.home) for passage in item.passages},
    )


def _key_notes(player: _Player, key: ConcertKey | None) -> tuple[PartNote, ...]:
    """Find the notes that a key's signature alters, wherever the player reads them."""
    row = player.pitched
    if key is None or row is None or row.range is None or not row.scales:
        return ()
    octaves = range(row.range.low.octave, row.range.high.octave + 1)
    written = (
        WrittenPitch(name, octave)
        for name in signature(written_key(key, row))
        for octave in octaves
    )
    return tuple(
        _note(player, row, note, concert_pitch(note, row, key))
        for note in written
        if row.range.holds(note)
    )


def _drums(player: _Player, key: ConcertKey | None) -> tuple[PartNote, ...]:
    """Give the first and the fifth note of a key, the lower first: timpani are often tuned so.

    Common practice, no source.
    """
    row = player.pitched
    if key is None or row is None or row.scales:
        return ()
    fifth = NoteName.from_fifths(key.tonic.fifths + _FIFTH_UP)
    notes = _notes(player, (key.tonic, fifth), key)
    return tuple(sorted(notes, key=lambda note: note.written.midi))


def _points(player: _Player, piece: PieceRow) -> Iterator[PartPoint]:
    item = piece.item

    def of(points: Iterable[WatchPoint], passage: str | None) -> Iterator[PartPoint]:
        for point in points:
            if player.takes_part(point.who) and (point.who or not _only_for_notes(player, point)):
                yield PartPoint(point, passage, _notes(player, point.notes, item.key))

    yield from of(item.watch, None)
    for passage in item.passages:
        if player.takes_part(passage.who):
            yield from of(passage.watch, passage.id)


def _only_for_notes(player: _Player, point: WatchPoint) -> bool:
    """Whether a point is about notes, and the player's instrument has none of definite pitch."""
    without_pitch = player.row is not None and not player.row.pitched
    return without_pitch and (
        bool(point.notes) or any(names_notes(text) for _, text in point.text.versions)
    )


def _trills(player: _Player, piece: PieceRow) -> Iterator[PartTrill]:
    """Give the trills that a player has, those of no passage first."""
    item = piece.item

    def of(trills: Iterable[Trill], passage: str | None) -> Iterator[PartTrill]:
        for trill in trills:
            upper = trill.upper(item.key)
            step = step_up(trill.lower, upper) if upper else None
            if step and player.takes_part(trill.who):
                for note in _notes(player, (trill.note,), item.key):
                    ways = player.texts(trill.fingering)
                    yield PartTrill(trill, passage, note.written, note.written.shifted(step), ways)

    yield from of(item.trills, None)
    for passage in item.passages:
        if player.takes_part(passage.who):
            yield from of(passage.trills, passage.id)


def _exercises(
    player: _Player, strands: Sequence[StrandRow], rhythms: Mapping[str, RhythmRow]
) -> Iterator[PartExercise]:
    for strand in strands:
        if not player.takes_part(strand.item.who):
            continue
        done: dict[str, Exercise] = {item.id: item for _, item in strand.appearances}
        for exercise in done.values():
            if not player.takes_part(exercise.who):
                continue
            practised = _scale(player, exercise.scale, exercise.scale_form)
            yield PartExercise(
                exercise,
                strand.item,
                rhythms.get(exercise.id),
                practised,
                _ways(player, practised),
                _notes(player, _playable(player, exercise.notes), exercise.scale),
                player.texts(exercise.how),
            )


def _playable(
    player: _Player, notes: Sequence[ConcertPitch | NoteName]
) -> Sequence[ConcertPitch | NoteName]:
    """Leave out an exercise of more notes than there are tuned drums."""
    tuned = player.pitched is not None and not player.pitched.scales
    return () if tuned and len(set(notes)) > _MOST_DRUMS else notes


def _scale(player: _Player, key: ConcertKey | None, form: ScaleForm) -> Scale | None:
    """Spell a scale for a player; a form that the key's mode does not have is left out."""
    if key is None or player.pitched is None or not player.pitched.scales:
        return None
    return _spelled(key, player.pitched, form)


@lru_cache(maxsize=1024)
def _spelled(key: ConcertKey, row: Instrument, form: ScaleForm) -> Scale | None:
    try:
        return scale(key, row, form)
    except ValueError:
        return None


def _ways(player: _Player, practised: Scale | None) -> tuple[Fingering | None, ...]:
    row = player.pitched
    if practised is None or row is None or not row.tubes:
        return ()
    return tuple(_usual(player, row, note) for note in practised.up)


def _usual(player: _Player, row: Instrument, written: WrittenPitch) -> Fingering | None:
    return first_choice(written, row.id, player.valves, single_horn=player.single_horn)


def _notes(
    player: _Player, notes: Sequence[ConcertPitch | NoteName], key: ConcertKey | None
) -> tuple[PartNote, ...]:
    """Place and spell notes for a player; those without an octave make one line."""
    row = player.pitched
    if row is None or not notes:
        return ()
    names = [written_name(note, row, key) for note in notes if isinstance(note, NoteName)]
    line = iter(line_in_register(names, row) if row.scales else _each(names, row))
    return tuple(
        _note(player, row, written_pitch(note, row, key), note)
        if isinstance(note, ConcertPitch)
        else _note(player, row, written := next(line), concert_pitch(written, row, key))
        for note in notes
    )


def _each(names: Sequence[NoteName], row: Instrument) -> Iterator[WrittenPitch]:
    """Place each note by itself, as drums are tuned."""
    return (in_register(name, row) for name in names)


def _note(
    player: _Player, row: Instrument, written: WrittenPitch, concert: ConcertPitch
) -> PartNote:
    usual = _usual(player, row, written)
    return PartNote(
        concert,
        written,
        in_range=row.range is not None and row.range.holds(written),
        usual=usual,
        others=_others(player, row, written),
        own=_own(player, written),
    )


def _own(player: _Player, written: WrittenPitch) -> Text | None:
    """Find the director's fingering for a note, or for one that sounds alike."""
    given = player.program.fingerings.get(player.id, {})
    alike = (text for note, text in given.items() if note.midi == written.midi)
    return given.get(written) or next(alike, None)


def _others(player: _Player, row: Instrument, written: WrittenPitch) -> tuple[Fingering, ...]:
    """Find what may stand for the usual fingering; a beginner learns one way first."""
    if player.experience is Experience.BEGINNER:
        return ()
    return alternates(written, row.id, player.valves, single_horn=player.single_horn)
