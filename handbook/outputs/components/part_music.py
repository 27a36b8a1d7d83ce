"""Pieces and exercises as one player reads them: keys, scales, notes to watch, rhythms."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from datetime import date
from functools import partial

from handbook.domain.anchors import anchor_of
from handbook.domain.fingerings import Fingering
from handbook.domain.metronome_marks import marks_named
from handbook.domain.scales import Scale, ScaleForm
from handbook.domain.tables.instruments import Clef, Family
from handbook.domain.tables.rudiments import Rudiment
from handbook.domain.values.keys import ConcertKey, SpelledKey
from handbook.domain.values.pitch import NoteName, SpelledPitch
from handbook.domain.values.text import Text
from handbook.outputs import addresses
from handbook.outputs.components.fingering_words import fingering_words, tendency, with_side
from handbook.outputs.components.notation import (
    Notation,
    Reader,
    RhythmFigure,
    RhythmFigures,
    first_notes,
    notes_figure,
    scale_figure,
)
from handbook.outputs.components.part_week import (
    PassageTargets,
    TargetsByPassage,
    exercise_weeks,
    has_material,
    targets_by_passage,
    watched_in,
)
from handbook.outputs.components.recordings import RecordingView, recording_view
from handbook.outputs.components.rhythm_list import RhythmView, rhythm_views
from handbook.outputs.components.road import road_lines
from handbook.outputs.components.rotation import RotationLine, rotation_lines
from handbook.outputs.components.sound import ClickView, click_view
from handbook.outputs.components.terms import TermView
from handbook.outputs.components.weeks import WeekView, measures, week_views
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.formats import with_clauses, with_commas
from handbook.outputs.note_names import form_words, signature_words, signs, spoken
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.plan.parts_model import (
    PartExercise,
    PartNote,
    PartPiece,
    PartPlan,
    PartPoint,
    PieceRhythm,
)
from handbook.plan.percussion import is_percussion
from handbook.records import dataclass
from handbook.schema.fundamentals import Exercise
from handbook.schema.music import Passage, Piece

_OTHERS_SHOWN = 2


@dataclass(frozen=True, slots=True)
class KeyView:
    """A written key with its signature in words."""

    key: SpelledKey
    signature: str
    concert: SpelledKey
    alike: SpelledKey | None


@dataclass(frozen=True, slots=True)
class NoteRow:
    """A note to watch: as read, as it sounds, how it is played, where it tends."""

    written: SpelledPitch
    concert: SpelledPitch
    way: str
    way_spoken: str
    tendency: str
    others: tuple[str, ...]
    own: str
    in_range: bool


@dataclass(frozen=True, slots=True)
class PointView:
    """One thing to look out for, with its notes as the part has them."""

    text: str
    where: str
    notes: tuple[NoteName, ...]


@dataclass(frozen=True, slots=True)
class PartPassageView:
    """A passage to practise; `id` is its anchor on this page.

    `targets` are None for a passage that no rehearsal plays. `watched` are the notes to
    watch in it, `ways` those of them that have a fingering, `rhythms` what it has of those
    of the piece.
    """

    item: Passage
    id: str
    name: str
    measures: str
    targets: PassageTargets | None
    home: tuple[str, ...]
    click: ClickView | None
    points: tuple[PointView, ...]
    watched: tuple[NoteName, ...]
    ways: tuple[NoteRow, ...]
    rhythms: tuple[RhythmView, ...]


@dataclass(frozen=True, slots=True)
class PartPieceView:
    """A piece in the player's pitch; `partner` is the band it is played with and belongs to.

    `rhythms` are those that stand at none of its passages.
    """

    item: Piece
    title: str
    path: str
    key: KeyView | None
    everywhere: tuple[NoteName, ...]
    scale: Notation | None
    scale_caption: str
    drums: tuple[SpelledPitch, ...]
    notes: Notation | None
    note_rows: tuple[NoteRow, ...]
    points: tuple[PointView, ...]
    passages: tuple[PartPassageView, ...]
    rhythms: tuple[RhythmView, ...]
    terms: tuple[TermView, ...]
    road: tuple[str, ...]
    recording: RecordingView | None
    percussion: tuple[RotationLine, ...] = ()
    partner: str = ""

    @property
    def inside(self) -> str:
        """What the page has of the piece beside its passages, in words."""
        has = {
            pgettext("what a piece has", "key"): self.key,
            pgettext("what a piece has", "drums"): self.drums,
            pgettext("what a piece has", "scale"): self.scale,
            pgettext("what a piece has", "notes"): self.notes,
            pgettext("what a piece has", "players"): self.percussion,
            pgettext("what a piece has", "rhythms"): self.rhythms,
            pgettext("what a piece has", "road map"): self.road,
            pgettext("what a piece has", "recording"): self.recording,
            pgettext("what a piece has", "words"): self.terms,
        }
        return with_commas(word for word, there in has.items() if there)


@dataclass(frozen=True, slots=True)
class PartExerciseView:
    """A fundamentals exercise in the player's pitch; `weeks` are the Mondays of those it is for.

    `read` are its notes in words.
    """

    item: Exercise
    name: str
    strand: str
    path: str
    how: tuple[str, ...]
    key: KeyView | None
    scale: Notation | None
    scale_caption: str
    notes: Notation | None
    rhythm: RhythmFigure | None
    rudiment: Rudiment | None
    weeks: tuple[date, ...]
    read: str


Clicks = Mapping[tuple[str, str], ClickView | None]
Tell = Callable[[Text | None], str]


@dataclass(frozen=True, slots=True)
class Shared:
    """What all parts of an ensemble's cycle show alike, made once.

    `hosts` maps the ids of joined pieces to what the ensemble shows that they belong to.
    """

    context: Context
    cycle: CyclePlan
    ensemble: EnsemblePlan
    weeks: tuple[WeekView, ...]
    targets: TargetsByPassage
    clicks: Clicks
    figures: RhythmFigures
    hosts: Mapping[str, Shared] = field(default_factory=dict)


def shared_by_parts(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, figures: RhythmFigures
) -> Shared:
    """Make what all parts of an ensemble show alike; `figures` holds the rhythms shown so far."""
    names = dict.fromkeys(joined.host.id for joined in ensemble.joined)
    hosts = {
        plan.item.id: _shared(context, cycle, plan, figures)
        for plan in cycle.ensembles
        if plan.item.id in names
    }
    return replace(
        _shared(context, cycle, ensemble, figures),
        hosts={joined.piece.item.id: hosts[joined.host.id] for joined in ensemble.joined},
    )


def _shared(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, figures: RhythmFigures
) -> Shared:
    weeks = week_views(context, cycle, ensemble)
    marks = marks_named(cycle.item.marks.kind, cycle.item.marks.step)
    clicks = {
        (piece.item.id, passage.item.id): click_view(context, marks, piece, passage)
        for piece in ensemble.pieces
        for passage in piece.passages
    }
    return Shared(context, cycle, ensemble, weeks, targets_by_passage(weeks), clicks, figures)


def piece_views(shared: Shared, part: PartPlan) -> Iterator[PartPieceView]:
    """Show a player's pieces, then those that the ensemble plays with another."""
    yield from (piece_view(shared, part, piece) for piece in part.pieces)
    for piece in part.joined:
        host = shared.hosts[piece.item.id]
        partner = shared.context.say(host.ensemble.item.name)
        yield replace(piece_view(host, part, piece), partner=partner)


def piece_view(shared: Shared, part: PartPlan, piece: PartPiece) -> PartPieceView:
    """Show a piece as a player reads it."""
    context, item, clef = shared.context, piece.item, _clef(part)
    tell = _told_to(shared, part, item.key)
    rhythms = tuple(
        zip(
            piece.rhythms,
            rhythm_views(tell, piece.rhythms, shared.figures, _reader(part)),
            strict=True,
        )
    )
    passages = tuple(_passages(shared, piece, tell, rhythms))
    played = tuple(passage.item for passage in passages)
    notes = tuple({note.written: note for point in piece.points for note in point.notes}.values())
    return PartPieceView(
        item=item,
        title=context.say(item.title),
        path=addresses.piece(shared.cycle.id, shared.ensemble.item.id, item.id),
        key=_key(piece.key, item.key, piece.alike),
        everywhere=watched_in(piece, None),
        scale=_scale(piece.scale, piece.scale_ways, clef, item.key),
        scale_caption=with_clauses((gettext("Your scale"), *_scale_words(piece.scale))),
        drums=tuple(note.written for note in piece.drums),
        notes=notes_figure(notes, clef, piece.key) if notes else None,
        note_rows=tuple(_note_row(shared, note) for note in notes),
        points=_points(tell, piece, None),
        passages=passages,
        rhythms=tuple(
            view for one, view in rhythms if not any(_is_in(one, passage) for passage in played)
        ),
        terms=tuple(
            TermView(term, context.say(context.plan.words[term]), anchor_of(term))
            for term in item.terms
        ),
        road=road_lines(context.say, item),
        recording=recording_view(context, item.recording),
        percussion=rotation_lines(context.plan.program, shared.ensemble, item)
        if is_percussion(context.plan.program, part.id)
        else (),
    )


def _told_to(shared: Shared, part: PartPlan, key: ConcertKey | None) -> Tell:
    """Make what tells a text to a player, its notes as the part has them."""
    return partial(shared.context.say_to, part.instrument, key)


def _passages(
    shared: Shared,
    piece: PartPiece,
    tell: Tell,
    rhythms: Sequence[tuple[PieceRhythm, RhythmView]],
) -> Iterator[PartPassageView]:
    for passage in piece.item.passages:
        if passage.id in piece.passages and (piece.item.id, passage.id) in shared.clicks:
            yield PartPassageView(
                item=passage,
                id=f"{piece.item.id}-{passage.id}",
                name=shared.context.say(passage.name),
                measures=measures(passage.measures.first, passage.measures.last),
                targets=shared.targets.get((piece.item.id, passage.id)),
                home=tuple(map(tell, piece.home.get(passage.id, ()))),
                click=shared.clicks[piece.item.id, passage.id],
                points=_points(tell, piece, passage.id),
                watched=watched_in(piece, passage.id),
                ways=_ways(shared, piece, passage.id),
                rhythms=tuple(view for one, view in rhythms if _is_in(one, passage)),
            )


def _ways(shared: Shared, piece: PartPiece, passage: str) -> tuple[NoteRow, ...]:
    """Give the notes to watch in a passage that the page can say how to play."""
    notes = {
        note.written: note
        for point in piece.points
        if point.passage == passage
        for note in point.notes
    }
    rows = (_note_row(shared, note) for note in notes.values())
    return tuple(row for row in rows if row.own or row.way)


def _is_in(rhythm: PieceRhythm, passage: Passage) -> bool:
    """Whether a rhythm stands in any measure of a passage."""
    where, measures = rhythm.item.measures, passage.measures
    return where is not None and where.first <= measures.last and measures.first <= where.last


def _points(tell: Tell, piece: PartPiece, passage: str | None) -> tuple[PointView, ...]:
    return tuple(_point(tell, point) for point in piece.points if point.passage == passage)


def _point(tell: Tell, point: PartPoint) -> PointView:
    item = point.item
    return PointView(
        tell(item.text),
        measures(item.measures.first, item.measures.last) if item.measures else "",
        tuple(note.written.name for note in point.notes),
    )


def _note_row(shared: Shared, note: PartNote) -> NoteRow:
    single = shared.ensemble.item.single_horns
    return NoteRow(
        written=note.written,
        concert=note.concert,
        way=note.usual.label if note.usual else "",
        way_spoken=fingering_words(note.usual) if note.usual else "",
        tendency=tendency(note.usual),
        others=tuple(
            way.label if single else with_side(way) for way in note.others[:_OTHERS_SHOWN]
        ),
        own=shared.context.say(note.own),
        in_range=note.in_range,
    )


def exercise_views(shared: Shared, part: PartPlan) -> Iterator[PartExerciseView]:
    """Show the exercises in which a player has something to read."""
    weeks = exercise_weeks(shared.ensemble, part.exercises, shared.weeks)
    for exercise in part.exercises:
        if has_material(exercise):
            yield _exercise_view(shared, part, exercise, weeks.get(exercise.item.id, ()))


def _exercise_view(
    shared: Shared, part: PartPlan, exercise: PartExercise, weeks: tuple[date, ...]
) -> PartExerciseView:
    context, item, clef = shared.context, exercise.item, _clef(part)
    key = exercise.scale.key if exercise.scale else None
    return PartExerciseView(
        item=item,
        name=context.say(item.name),
        strand=context.say(exercise.strand.name),
        path=f"{addresses.strand(exercise.strand.id)}#{item.id}",
        how=tuple(map(_told_to(shared, part, item.scale), exercise.how)),
        key=_key(key, item.scale, None),
        scale=_scale(exercise.scale, exercise.scale_ways, clef, item.scale),
        scale_caption=_capital(with_clauses(_scale_words(exercise.scale))),
        notes=notes_figure(exercise.notes, clef, key) if exercise.notes else None,
        rhythm=shared.figures.of(exercise.row, _reader(part)) if exercise.row else None,
        rudiment=item.rudiment if _strikes(part) else None,
        weeks=weeks,
        read=signs(note.written.name for note in exercise.notes),
    )


def _key(
    key: SpelledKey | None, concert: SpelledKey | None, alike: SpelledKey | None
) -> KeyView | None:
    if key is None or concert is None:
        return None
    return KeyView(key, signature_words(key), concert, alike)


def _scale(
    of: Scale | None, ways: Sequence[Fingering | None], clef: Clef, concert: ConcertKey | None
) -> Notation | None:
    if of is None:
        return None
    labels = [way.label if way else "" for way in ways]
    sounding = spoken(concert) if concert and concert.tonic != of.key.tonic else ""
    return scale_figure(of, clef, labels, concert=sounding)


def _scale_words(of: Scale | None) -> Iterator[str]:
    """Say what of a scale is there, and in what form, if that is not all of it as it is."""
    if of is None:
        return
    if of.form is not ScaleForm.OF_THE_KEY:
        yield form_words(of.form)
    if not of.whole:
        yield first_notes(of)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _clef(part: PartPlan) -> Clef:
    return part.instrument.clef if part.instrument else Clef.TREBLE


def _reader(part: PartPlan) -> Reader:
    return Reader.STRIKES if _strikes(part) else Reader.BLOWS


def _strikes(part: PartPlan) -> bool:
    """Whether stickings concern the player: all percussion, pitched or not."""
    return part.instrument is not None and part.instrument.family is Family.PERCUSSION
