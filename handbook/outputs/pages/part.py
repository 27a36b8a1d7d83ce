"""A part: what one player practises this week, in the pitch that is read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from handbook.domain.circle import signature_text
from handbook.domain.fingerings import Fingering
from handbook.domain.marks import marks_named
from handbook.domain.scales import Scale
from handbook.domain.tables.brass import TUBES, Action
from handbook.domain.tables.instruments import Clef, Family
from handbook.domain.tables.rudiments import Rudiment
from handbook.domain.tuning import frequency, shown_cents
from handbook.domain.values.keys import ConcertKey, Mode, SpelledKey
from handbook.domain.values.pitch import NoteName, SpelledPitch
from handbook.domain.values.tempo import Tempo
from handbook.outputs.base import SearchEntry
from handbook.outputs.flat_svg import Glyph
from handbook.outputs.pages import addresses
from handbook.outputs.pages.draft import Context, Link, PageDraft
from handbook.outputs.pages.drones import DroneView, drone_view
from handbook.outputs.pages.notation import (
    Notation,
    RhythmFigure,
    RhythmFigures,
    notes_figure,
    page_sprite,
    scale_figure,
)
from handbook.outputs.pages.part_week import (
    PracticeRow,
    TargetsByPassage,
    WeekExercises,
    has_material,
    practice_rows,
    targets_by_passage,
    watched_in,
    week_exercises,
)
from handbook.outputs.pages.piece import TermView, anchor_of
from handbook.outputs.pages.sound import ClickView, click_view
from handbook.outputs.pages.spellings import spellings
from handbook.outputs.pages.weeks import WeekView, measures, week_views
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.plan.parts_model import PartExercise, PartNote, PartPiece, PartPlan, PartPoint

_OCTAVE = 12
_IN_TUNE = 2  # cents that nobody hears


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
    others: str
    own: str
    in_range: bool


@dataclass(frozen=True, slots=True)
class PointView:
    """One thing to look out for, with its notes as the part has them."""

    text: str
    where: str
    notes: tuple[SpelledPitch, ...]


@dataclass(frozen=True, slots=True)
class RhythmView:
    """A rhythm to count; `rudiment` is its name if it is one."""

    name: str
    where: str
    figure: RhythmFigure
    rudiment: str
    text: str


@dataclass(frozen=True, slots=True)
class PassageView:
    """A passage to practise; `id` is its anchor on this page."""

    id: str
    name: str
    measures: str
    home: str
    click: ClickView
    points: tuple[PointView, ...]


@dataclass(frozen=True, slots=True)
class PieceView:
    """A piece in the player's pitch."""

    id: str
    title: str
    path: str
    key: KeyView | None
    rows: tuple[PracticeRow, ...]
    everywhere: tuple[NoteName, ...]
    scale: Notation | None
    scale_form: str
    notes: Notation | None
    note_rows: tuple[NoteRow, ...]
    points: tuple[PointView, ...]
    passages: tuple[PassageView, ...]
    rhythms: tuple[RhythmView, ...]
    terms: tuple[TermView, ...]
    recording: str


@dataclass(frozen=True, slots=True)
class ExerciseView:
    """A fundamentals exercise in the player's pitch."""

    id: str
    name: str
    strand: str
    path: str
    tempo: Tempo | None
    how: str
    key: KeyView | None
    scale: Notation | None
    notes: Notation | None
    rhythm: RhythmFigure | None
    rudiment: Rudiment | None


@dataclass(frozen=True, slots=True)
class TuningView:
    """The tuning note as it is read and as it sounds, with its frequency in hertz."""

    written: SpelledPitch
    concert: SpelledPitch
    hertz: str
    pitch: int


@dataclass(frozen=True, slots=True)
class PartView:
    """The page of a part."""

    name: str
    ensemble: str
    ensemble_id: str
    ensemble_path: str
    cycle: str
    instrument: str
    store: str
    sounds: str
    known: bool
    drums: bool
    slide: bool
    valved: bool
    weeks: tuple[WeekView, ...]
    week_exercises: tuple[WeekExercises, ...]
    pieces: tuple[PieceView, ...]
    exercises: tuple[ExerciseView, ...]
    tuning: TuningView | None
    drone: DroneView | None
    glyphs: tuple[Glyph, ...]
    words_path: str


Clicks = Mapping[tuple[str, str], ClickView]


@dataclass(frozen=True, slots=True)
class _Shared:
    """What all parts of an ensemble's cycle show alike, made once."""

    context: Context
    cycle: CyclePlan
    ensemble: EnsemblePlan
    weeks: tuple[WeekView, ...]
    targets: TargetsByPassage
    clicks: Clicks
    figures: RhythmFigures


def drafts(context: Context) -> Iterator[PageDraft]:
    """Make a page for each instrument of each ensemble and cycle."""
    figures = RhythmFigures()
    for cycle in context.plan.cycles:
        for ensemble in cycle.ensembles:
            shared = _shared(context, cycle, ensemble, figures)
            for part in ensemble.parts:
                yield _draft(shared, part)


def part_name(part: PartPlan) -> str:
    """Name a part: as the table does, else by its id with spaces."""
    plain = part.id.replace("-", " ").capitalize()
    known = part.instrument
    return known.name if known is not None and known.id == part.id else plain


def _shared(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, figures: RhythmFigures
) -> _Shared:
    weeks = week_views(context, cycle, ensemble)
    marks = marks_named(cycle.item.marks.kind, cycle.item.marks.step)
    clicks = {
        (piece.item.id, passage.item.id): click_view(context, marks, piece, passage)
        for piece in ensemble.pieces
        for passage in piece.passages
    }
    return _Shared(context, cycle, ensemble, weeks, targets_by_passage(weeks), clicks, figures)


def _draft(shared: _Shared, part: PartPlan) -> PageDraft:
    cycle, ensemble = shared.cycle, shared.ensemble
    view = _view(shared, part)
    return PageDraft(
        path=addresses.part(cycle.id, ensemble.item.id, part.id),
        kind="part",
        title=view.name,
        description=f"{view.name}, {view.ensemble}: this week's passages and tempos, with key, notes and rhythms as your part has them.",
        section=f"ensemble-{ensemble.item.id}",
        view=view,
        crumbs=(
            Link(view.cycle, addresses.cycle(cycle.id)),
            Link(view.ensemble, view.ensemble_path),
        ),
        search=tuple(_entries(view)),
    )


def _entries(view: PartView) -> Iterator[SearchEntry]:
    keys = "; ".join(f"{piece.title}: {piece.key.key}" for piece in view.pieces if piece.key)
    tuning = (
        f"Tuning note {view.tuning.written.name}, {view.tuning.hertz} Hz." if view.tuning else ""
    )
    yield SearchEntry(
        f"{view.name}, {view.ensemble}",
        f"{keys} {tuning} {view.sounds}",
        keywords=f"part practice this week {view.instrument} {spellings(keys)}",
    )
    for piece in view.pieces:
        notes = ", ".join(str(row.written.name) for row in piece.note_rows)
        if piece.key is None:
            continue
        text = f"{piece.key.key}, {piece.key.signature}. {f'Watch {notes}.' if notes else ''}"
        yield SearchEntry(
            f"{piece.title}: {view.name}",
            text,
            anchor=piece.id,
            keywords=f"{view.name} {piece.key.key} scale key signature notes {piece.key.key.spoken} {spellings(text)}",
        )


def _view(shared: _Shared, part: PartPlan) -> PartView:
    context, cycle, ensemble = shared.context, shared.cycle, shared.ensemble
    row = part.instrument
    pieces = tuple(_piece(shared, part, piece) for piece in part.pieces)
    exercises = tuple(
        _exercise(shared, part, exercise) for exercise in part.exercises if has_material(exercise)
    )
    tubes = TUBES.get(row.id, ()) if row else ()
    return PartView(
        name=part_name(part),
        ensemble=context.say(ensemble.item.name),
        ensemble_id=ensemble.item.id,
        ensemble_path=addresses.ensemble(cycle.id, ensemble.item.id),
        cycle=context.say(cycle.item.name),
        instrument=part.id,
        store=f"{cycle.id}-{ensemble.item.id}-{part.id}",
        sounds=_sounds(part),
        known=row is not None,
        drums=row is not None and not row.pitched,
        slide=any(tube.action is Action.SLIDE for tube in tubes),
        valved=any(tube.action is Action.VALVES for tube in tubes),
        weeks=shared.weeks,
        week_exercises=week_exercises(context, ensemble, part.exercises, shared.weeks),
        pieces=pieces,
        exercises=exercises,
        tuning=_tuning(context, part),
        drone=_drone(context, part),
        glyphs=page_sprite(_figures(pieces, exercises)),
        words_path=addresses.WORDS,
    )


def _figures(
    pieces: Sequence[PieceView], exercises: Sequence[ExerciseView]
) -> Iterator[Notation | None]:
    for piece in pieces:
        yield from (piece.scale, piece.notes, *(one.figure.notation for one in piece.rhythms))
    for exercise in exercises:
        yield from (exercise.scale, exercise.notes)
        yield exercise.rhythm.notation if exercise.rhythm else None


def _piece(shared: _Shared, part: PartPlan, piece: PartPiece) -> PieceView:
    context, item, clef = shared.context, piece.item, _clef(part)
    notes = tuple({note.written: note for point in piece.points for note in point.notes}.values())
    return PieceView(
        id=item.id,
        title=context.say(item.title),
        path=addresses.piece(shared.cycle.id, shared.ensemble.item.id, item.id),
        key=_key(piece.key, item.key, piece.alike),
        rows=practice_rows(piece, shared.targets),
        everywhere=watched_in(piece, None),
        scale=_scale(piece.scale, piece.scale_ways, clef, item.key),
        scale_form=str(piece.scale.form) if piece.scale else "",
        notes=notes_figure(notes, clef, piece.key) if notes else None,
        note_rows=tuple(_note_row(context, note) for note in notes),
        points=_points(context, piece, None),
        passages=tuple(_passages(shared, piece)),
        rhythms=tuple(
            RhythmView(
                context.say(one.item.name),
                measures(one.item.measures.first, one.item.measures.last)
                if one.item.measures
                else "",
                shared.figures.of(one.row, hands=_strikes(part)),
                one.item.rudiment.name if one.item.rudiment else "",
                context.say(one.item.text),
            )
            for one in piece.rhythms
        ),
        terms=tuple(
            TermView(term, context.say(context.plan.words[term]), anchor_of(term))
            for term in item.terms
        ),
        recording=media_path(item.recording),
    )


def media_path(name: str | None) -> str:
    """Give the address of a media file, or nothing for none."""
    return f"media/{name.removeprefix('media/')}" if name else ""


def _passages(shared: _Shared, piece: PartPiece) -> Iterator[PassageView]:
    context = shared.context
    for passage in piece.item.passages:
        if passage.id in piece.passages and (piece.item.id, passage.id) in shared.clicks:
            yield PassageView(
                id=f"{piece.item.id}-{passage.id}",
                name=context.say(passage.name),
                measures=measures(passage.measures.first, passage.measures.last),
                home=context.say(passage.home),
                click=shared.clicks[piece.item.id, passage.id],
                points=_points(context, piece, passage.id),
            )


def _points(context: Context, piece: PartPiece, passage: str | None) -> tuple[PointView, ...]:
    return tuple(_point(context, point) for point in piece.points if point.passage == passage)


def _point(context: Context, point: PartPoint) -> PointView:
    item = point.item
    return PointView(
        context.say(item.text),
        measures(item.measures.first, item.measures.last) if item.measures else "",
        tuple(note.written for note in point.notes),
    )


def _note_row(context: Context, note: PartNote) -> NoteRow:
    return NoteRow(
        written=note.written,
        concert=note.concert,
        way=note.usual.label if note.usual else "",
        way_spoken=note.usual.spoken if note.usual else "",
        tendency=_tendency(note.usual),
        others=" or ".join(way.label for way in note.others[:2]),
        own=context.say(note.own),
        in_range=note.in_range,
    )


def _tendency(way: Fingering | None) -> str:
    """Say where a note wants to go: `in tune`, `14 cents flat`."""
    if way is None:
        return ""
    shown = shown_cents(way.cents)
    if abs(way.cents) < _IN_TUNE:
        return "in tune"
    return f"{shown[1:]} cents {'sharp' if shown[0] == '+' else 'flat'}"


def _exercise(shared: _Shared, part: PartPlan, exercise: PartExercise) -> ExerciseView:
    context, item, clef = shared.context, exercise.item, _clef(part)
    key = exercise.scale.key if exercise.scale else None
    return ExerciseView(
        id=item.id,
        name=context.say(item.name),
        strand=context.say(exercise.strand.name),
        path=f"{addresses.strand(exercise.strand.id)}#{item.id}",
        tempo=item.tempo,
        how=context.say(item.how),
        key=_key(key, item.scale, None),
        scale=_scale(exercise.scale, exercise.scale_ways, clef, item.scale),
        notes=notes_figure(exercise.notes, clef, key) if exercise.notes else None,
        rhythm=shared.figures.of(exercise.row, hands=_strikes(part)) if exercise.row else None,
        rudiment=item.rudiment if _strikes(part) else None,
    )


def _key(
    key: SpelledKey | None, concert: SpelledKey | None, alike: SpelledKey | None
) -> KeyView | None:
    if key is None or concert is None:
        return None
    return KeyView(key, signature_text(key), concert, alike)


def _scale(
    of: Scale | None, ways: Sequence[Fingering | None], clef: Clef, concert: ConcertKey | None
) -> Notation | None:
    if of is None:
        return None
    labels = [way.label if way else "" for way in ways]
    sounding = f"concert {concert.spoken}" if concert and concert.tonic != of.key.tonic else ""
    return scale_figure(of, clef, labels, concert=sounding)


def _clef(part: PartPlan) -> Clef:
    return part.instrument.clef if part.instrument else Clef.TREBLE


def _strikes(part: PartPlan) -> bool:
    """Whether stickings concern the player: all percussion, pitched or not."""
    return part.instrument is not None and part.instrument.family is Family.PERCUSSION


def _sounds(part: PartPlan) -> str:
    """Say what a written C sounds, as far as the instrument transposes."""
    row = part.instrument
    if row is None or not row.pitched:
        return ""
    if row.sounding_c.fifths != 0:
        return f"A written C sounds a concert {row.sounding_c}."
    octaves = abs(row.sounds.semitones) // _OCTAVE
    if not octaves:
        return "Sounds as written."
    which = "higher" if row.sounds.semitones > 0 else "lower"
    return f"Sounds {'an octave' if octaves == 1 else f'{octaves} octaves'} {which} than written."


def _tuning(context: Context, part: PartPlan) -> TuningView | None:
    if part.tuning is None:
        return None
    pitch = context.plan.program.pitch
    hertz = frequency(part.tuning.concert, pitch)
    return TuningView(part.tuning.written, part.tuning.concert, f"{hertz:.1f}", pitch)


def _drone(context: Context, part: PartPlan) -> DroneView | None:
    """Give the drone of the tuning note; its chord is major, as tuning chords are."""
    if part.tuning is None:
        return None
    return drone_view(context, [("tuning note", part.tuning.concert.name, Mode.MAJOR)])
