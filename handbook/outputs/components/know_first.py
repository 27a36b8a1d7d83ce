"""What a player learns before playing: keys, notes with fingerings, rhythms, signs, goal tempos.

All of it is reckoned from the pieces of the cycle for one instrument, each thing once however
many pieces have it. On the page each is a card: what is asked, and an answer behind it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from functools import partial

from handbook.domain.anchors import anchor_of
from handbook.domain.circle_of_fifths import signature
from handbook.domain.tables.brass import Action
from handbook.domain.tables.instruments import Family
from handbook.domain.tables.rudiments import Rudiment
from handbook.domain.values.keys import WrittenKey
from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.pitch import NoteName, WrittenPitch
from handbook.domain.values.tempo import Tempo
from handbook.outputs.components.fingering_words import fingering_words
from handbook.outputs.components.notation import Notation, Reader, rhythm_question
from handbook.outputs.components.part_links import part_name
from handbook.outputs.components.part_music import Shared
from handbook.outputs.components.terms import TermView
from handbook.outputs.components.weeks import measures
from handbook.outputs.i18n.formats import with_clauses
from handbook.outputs.instrument_names import rudiment_name
from handbook.outputs.note_names import signature_words
from handbook.plan.parts_model import PartNote, PartPiece, PartPlan, PieceRhythm
from handbook.records import dataclass
from handbook.schema.music import Passage, Piece


@dataclass(frozen=True, slots=True)
class KnowPlace:
    """Where something comes: a piece, and within it measures, if it is not all through it.

    `first` is the first of them, or 0.
    """

    title: str
    where: str
    first: int = 0


@dataclass(frozen=True, slots=True)
class KnowKey:
    """A piece's key as the player reads it, with its signature in words."""

    id: str
    title: str
    key: WrittenKey
    signature: str


@dataclass(frozen=True, slots=True)
class KnowWay:
    """How a note is played: reckoned for brass, else the director's own words, else neither."""

    written: WrittenPitch
    way: str
    spoken: str
    own: str


@dataclass(frozen=True, slots=True)
class KnowNote:
    """A note to know, at each height at which it is read, low to high.

    `keys` are the pieces whose signature alters it, `places` where it is to be watched.
    """

    id: str
    name: NoteName
    ways: tuple[KnowWay, ...]
    keys: tuple[str, ...]
    places: tuple[KnowPlace, ...]

    @property
    def known(self) -> bool:
        """Whether the handbook says how to play it."""
        return any(way.own or way.way for way in self.ways)


@dataclass(frozen=True, slots=True)
class KnowTrill:
    """A trill with the fingerings that are taught for it; `passage` is its id, if it has one."""

    id: str
    piece: str
    passage: str | None
    place: KnowPlace
    lower: WrittenPitch
    upper: WrittenPitch
    ways: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class KnowRhythm:
    """A rhythm without its counts, and then they, with the hands if the player strikes."""

    id: str
    piece: str
    name: str
    place: KnowPlace
    asked: Notation
    counts: tuple[str, ...]
    hands: str


@dataclass(frozen=True, slots=True)
class KnowRudiment:
    """A rudiment with its sticking."""

    id: str
    name: str
    rudiment: Rudiment


@dataclass(frozen=True, slots=True)
class KnowWord:
    """A term that stands in the parts."""

    id: str
    term: TermView


@dataclass(frozen=True, slots=True)
class KnowTempo:
    """A goal tempo of a piece, with the passages that are played at it."""

    id: str
    title: str
    passages: tuple[KnowPlace, ...]
    goal: Tempo


@dataclass(frozen=True, slots=True)
class PencilMark:
    """What to write at some measures: of its fields those that are to be written are filled.

    `first` sorts the marks of a piece; `where` is empty for what stands at its beginning.
    """

    first: int
    where: str
    signature: tuple[NoteName, ...] = ()
    notes: tuple[KnowWay, ...] = ()
    trill: KnowTrill | None = None
    rhythm: KnowRhythm | None = None
    tempo: Tempo | None = None

    @property
    def known(self) -> tuple[KnowWay, ...]:
        """The notes that the page can say how to play."""
        return tuple(way for way in self.notes if way.own or way.way)


@dataclass(frozen=True, slots=True)
class PencilPiece:
    """What to write into the part of one piece, in order of measures."""

    title: str
    marks: tuple[PencilMark, ...]


KnowCard = KnowKey | KnowNote | KnowTrill | KnowRhythm | KnowRudiment | KnowWord | KnowTempo


@dataclass(frozen=True, slots=True)
class KnowFirstView:
    """All that a player learns first; `store` is where a device keeps what is known.

    `whose` names the part, its band and the cycle, and `pencil` is what to write into it.

    The first stage goes until `first_until`; from `last_from`, the beginning of the last one,
    goal tempos alone are left. A cycle of one stage has none. `fingered` are instruments
    whose notes are learned with a fingering, or on a `slide` with a position.
    """

    store: str
    whose: str
    first_until: date
    last_from: date | None
    slide: bool
    fingered: bool
    keys: tuple[KnowKey, ...]
    notes: tuple[KnowNote, ...]
    trills: tuple[KnowTrill, ...]
    rhythms: tuple[KnowRhythm, ...]
    rudiments: tuple[KnowRudiment, ...]
    words: tuple[KnowWord, ...]
    tempos: tuple[KnowTempo, ...]
    pencil: tuple[PencilPiece, ...]

    @property
    def empty(self) -> bool:
        """Whether there is nothing to learn."""
        return not any(self.groups)

    @property
    def note_cards(self) -> tuple[KnowNote, ...]:
        """The notes that are asked: of fingered instruments those with an answer.

        The others stand in their key, and among the pencil marks.
        """
        return tuple(note for note in self.notes if note.known or not self.fingered)

    @property
    def groups(self) -> tuple[tuple[KnowCard, ...], ...]:
        """All that is asked, group by group in the order of the page."""
        return (
            *(self.keys, self.notes, self.trills, self.rhythms),
            *(self.rudiments, self.words, self.tempos),
        )


def know_first_view(shared: Shared, part: PartPlan) -> KnowFirstView:
    """Gather what a player learns first, of own and joined pieces in the order of the plan.

    Pieces that were dropped have nothing left to learn.
    """
    pieces = [piece for piece in (*part.pieces, *part.joined) if piece.item.dropped is None]
    stages, say = shared.ensemble.stages, shared.context.say
    trills = tuple(_trills(shared, part, pieces))
    rhythms = tuple(_rhythms(shared, part, pieces))
    tubes = part.instrument.tubes if part.instrument else ()
    return KnowFirstView(
        store=f"{shared.cycle.id}-{shared.ensemble.item.id}-{part.id}",
        whose=with_clauses(
            (part_name(part), say(shared.ensemble.item.name), say(shared.cycle.item.name))
        ),
        first_until=stages[0].ends,
        last_from=stages[-1].begins if len(stages) > 1 else None,
        slide=any(tube.action is Action.SLIDE for tube in tubes),
        fingered=part.instrument is not None and part.instrument.family is not Family.PERCUSSION,
        keys=tuple(_keys(shared, pieces)),
        notes=tuple(_notes(shared, pieces)),
        trills=trills,
        rhythms=rhythms,
        rudiments=tuple(_rudiments(part, pieces)),
        words=shared.context.once(
            "words to know", shared.ensemble, lambda: tuple(_words(shared, pieces))
        ),
        tempos=tuple(
            tempo
            for piece in pieces
            for tempo in shared.context.once(
                f"tempos to know, {piece.passages}",
                piece.item,
                partial(_tempos, shared, piece.item, piece.passages),
            )
        ),
        pencil=tuple(_pencil(shared, pieces, trills, rhythms)),
    )


def _keys(shared: Shared, pieces: Iterable[PartPiece]) -> Iterator[KnowKey]:
    for piece in pieces:
        if piece.key:
            title = shared.context.say(piece.item.title)
            yield KnowKey(f"key/{piece.item.id}", title, piece.key, signature_words(piece.key))


def _notes(shared: Shared, pieces: Sequence[PartPiece]) -> Iterator[KnowNote]:
    """Give each note of a signature, then the others that are watched."""
    heights: dict[NoteName, dict[int, PartNote]] = {}
    keys: dict[NoteName, dict[str, None]] = {}
    places: dict[NoteName, dict[KnowPlace, None]] = {}
    for piece in pieces:
        title = shared.context.say(piece.item.title)
        for note in piece.key_notes:
            heights.setdefault(note.written.name, {}).setdefault(note.written.octave, note)
            keys.setdefault(note.written.name, {})[title] = None
    for piece in pieces:
        for point in piece.points:
            place = _place(
                shared, piece.item, point.item.measures or _passage(piece, point.passage)
            )
            for note in point.notes:
                heights.setdefault(note.written.name, {}).setdefault(note.written.octave, note)
                places.setdefault(note.written.name, {})[place] = None
    for name, found in heights.items():
        yield KnowNote(
            f"note/{name.typed}",
            name,
            tuple(_way(shared, found[octave]) for octave in sorted(found)),
            tuple(keys.get(name, ())),
            tuple(places.get(name, ())),
        )


def _way(shared: Shared, note: PartNote) -> KnowWay:
    return KnowWay(
        note.written,
        note.usual.label if note.usual else "",
        fingering_words(note.usual) if note.usual else "",
        shared.context.say(note.own),
    )


def _trills(shared: Shared, part: PartPlan, pieces: Iterable[PartPiece]) -> Iterator[KnowTrill]:
    """Give each trill of a piece; one between the same notes at the same measures is one."""
    known = set[str]()
    for piece in pieces:
        for trill in piece.trills:
            span = trill.item.measures or _passage(piece, trill.passage)
            own = f"trill/{piece.item.id}/{trill.lower.name.typed}{trill.lower.octave}"
            own += f"-{trill.upper.name.typed}" + (f"/{span.first}" if span else "")
            if own in known:
                continue
            known.add(own)
            yield KnowTrill(
                own,
                piece.item.id,
                trill.passage,
                _place(shared, piece.item, span),
                trill.lower,
                trill.upper,
                tuple(
                    shared.context.say_to(part.instrument, piece.item.key, way)
                    for way in trill.ways
                ),
            )


def _rhythms(shared: Shared, part: PartPlan, pieces: Iterable[PartPiece]) -> Iterator[KnowRhythm]:
    strikes = part.instrument is not None and part.instrument.family is Family.PERCUSSION
    reader = Reader.STRIKES if strikes else Reader.BLOWS
    for piece in pieces:
        for one in piece.rhythms:
            make = partial(_rhythm, shared, piece.item, one, reader)
            yield shared.context.once(f"rhythm to know, {reader.name}", one, make)


def _rhythm(shared: Shared, piece: Piece, one: PieceRhythm, reader: Reader) -> KnowRhythm:
    figure = shared.figures.of(one.row, reader)
    name, first = one.item.name, shared.context.plan.languages[0]
    called = anchor_of(name.read(first)) if name else piece.rhythms.index(one.item) + 1
    return KnowRhythm(
        f"rhythm/{piece.id}/{called}",
        piece.id,
        shared.context.say(name),
        _place(shared, piece, one.item.measures),
        rhythm_question(one.row, figure),
        figure.counts,
        figure.sticking,
    )


def _rudiments(part: PartPlan, pieces: Iterable[PartPiece]) -> Iterator[KnowRudiment]:
    """Give the rudiments of a percussion player's pieces and exercises, each once."""
    if part.instrument is None or part.instrument.family is not Family.PERCUSSION:
        return
    found = (
        *(one.item.rudiment for piece in pieces for one in piece.rhythms),
        *(exercise.item.rudiment for exercise in part.exercises),
    )
    for rudiment in dict.fromkeys(one for one in found if one):
        own = f"rudiment/{anchor_of(rudiment.name)}"
        yield KnowRudiment(own, rudiment_name(rudiment), rudiment)


def _words(shared: Shared, pieces: Iterable[PartPiece]) -> Iterator[KnowWord]:
    context = shared.context
    for term in dict.fromkeys(term for piece in pieces for term in piece.item.terms):
        anchor = anchor_of(term)
        view = TermView(term, context.say(context.plan.words[term]), anchor)
        yield KnowWord(f"word/{anchor}", view)


def _tempos(shared: Shared, piece: Piece, passages: Sequence[str]) -> tuple[KnowTempo, ...]:
    """Give each goal tempo of a piece once; one that all of it is at names no passages."""
    goals: dict[Tempo, list[Passage]] = {}
    for passage in piece.passages:
        if passage.id in passages:
            goals.setdefault(passage.goal, []).append(passage)
    return tuple(
        KnowTempo(
            f"tempo/{piece.id}/{found[0].id}",
            shared.context.say(piece.title),
            tuple(
                KnowPlace(shared.context.say(one.name), str(one.measures))
                for one in (found if len(goals) > 1 else ())
            ),
            goal,
        )
        for goal, found in goals.items()
    )


def _pencil(
    shared: Shared,
    pieces: Iterable[PartPiece],
    trills: Iterable[KnowTrill],
    rhythms: Iterable[KnowRhythm],
) -> Iterator[PencilPiece]:
    for piece in pieces:
        own = piece.item.id
        marks = (
            *_in_the_notes(shared, piece),
            *shared.context.once(
                f"tempos to pencil, {piece.passages}",
                piece.item,
                partial(_tempo_marks, piece.item, piece.passages),
            ),
            *(
                PencilMark(one.place.first, one.place.where, trill=one)
                for one in trills
                if one.piece == own
            ),
            *(
                shared.context.once("rhythm to pencil", one, partial(_rhythm_mark, one))
                for one in rhythms
                if one.piece == own
            ),
        )
        if marks:
            title = shared.context.say(piece.item.title)
            yield PencilPiece(title, tuple(sorted(marks, key=lambda mark: mark.first)))


def _in_the_notes(shared: Shared, piece: PartPiece) -> Iterator[PencilMark]:
    """Circle what the key changes, and the notes that are to be watched."""
    if piece.key_notes and piece.key:
        yield PencilMark(0, "", signature=signature(piece.key))
    for point in piece.points:
        if point.notes:
            span = point.item.measures or _passage(piece, point.passage)
            place = _place(shared, piece.item, span)
            ways = tuple(_way(shared, note) for note in point.notes)
            yield PencilMark(place.first, place.where, notes=ways)


def _rhythm_mark(one: KnowRhythm) -> PencilMark:
    return PencilMark(one.place.first, one.place.where, rhythm=one)


def _tempo_marks(piece: Piece, passages: Sequence[str]) -> tuple[PencilMark, ...]:
    """Write a goal tempo where it is another than before."""
    before: Tempo | None = None
    marks: list[PencilMark] = []
    for passage in sorted(piece.passages, key=lambda one: one.measures.first):
        if passage.id in passages and passage.goal != before:
            before, first = passage.goal, passage.measures.first
            marks.append(PencilMark(first, measures(first, first), tempo=before))
    return tuple(marks)


def _place(shared: Shared, piece: Piece, span: MeasureSpan | None) -> KnowPlace:
    title = shared.context.say(piece.title)
    return (
        KnowPlace(title, measures(span.first, span.last), span.first)
        if span
        else KnowPlace(title, "")
    )


def _passage(piece: PartPiece, name: str | None) -> MeasureSpan | None:
    return next((one.measures for one in piece.item.passages if one.id == name), None)
