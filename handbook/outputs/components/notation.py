"""Engraved examples as a page shows them: drawing, label, and the same facts in words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from enum import Enum, auto
from fractions import Fraction

from markupsafe import Markup

from handbook.domain.circle_of_fifths import signature_text
from handbook.domain.counting import count_line
from handbook.domain.rhythm import Rhythm, RhythmNote, length_text, strokes
from handbook.domain.scales import Scale, ScaleForm
from handbook.domain.tables.instruments import Clef
from handbook.domain.values.keys import SpelledKey
from handbook.domain.values.pitch import SpelledPitch, WrittenPitch
from handbook.outputs.components.articulation_words import articulation_words
from handbook.outputs.engraving.engraver import engraved, sprite
from handbook.outputs.engraving.flat_svg import FlatSvg, Glyph
from handbook.outputs.engraving.rhythm_layout import RhythmExample
from handbook.outputs.engraving.staff_mei import StaffExample, StaffNote
from handbook.plan.parts_model import PartNote, RhythmRow
from handbook.records import dataclass

_BELOW = re.compile("<text[^>]*>[^<]*</text>")  # the only words of a drawing
_PIXELS = 0.046  # to a drawing unit: a staff is then 33 pixels high
_NUMBERS = {5: "five", 8: "eight"}  # as far as the fifth goes in sevens and in twelves
_MARGIN = 60  # units round the drawing


@dataclass(frozen=True, slots=True)
class Notation:
    """An example: `label` says key, meter, range and pattern; `text` gives it note by note."""

    drawing: FlatSvg
    label: str
    text: str

    @property
    def box(self) -> str:
        """The drawing's box with a margin."""
        wide, high = self.drawing.width + 2 * _MARGIN, self.drawing.height + 2 * _MARGIN
        return f"{-_MARGIN} {-_MARGIN} {wide} {high}"

    @property
    def width(self) -> int:
        """Pixels; narrower where the page is."""
        return round((self.drawing.width + 2 * _MARGIN) * _PIXELS)

    @property
    def height(self) -> int:
        """Pixels."""
        return round((self.drawing.height + 2 * _MARGIN) * _PIXELS)

    @property
    def shapes(self) -> Markup:
        """The ink."""
        return self.drawing.shapes


@dataclass(frozen=True, slots=True)
class RhythmFigure:
    """A rhythm: its notation, the counts of each measure, the sticking if it has one.

    `played` says slurs, staccato, tenuto and accents, one sentence a measure that has any.
    """

    notation: Notation
    counts: tuple[str, ...]
    sticking: str
    played: tuple[str, ...]


def page_sprite(figures: Iterable[Notation | None]) -> tuple[Glyph, ...]:
    """Collect the glyphs that a page's examples need."""
    return sprite(figure.drawing for figure in figures if figure is not None)


def scale_figure(
    of: Scale, clef: Clef, fingerings: Sequence[str] = (), *, concert: str = ""
) -> Notation:
    """Engrave a scale going up, and coming down too where that differs.

    `fingerings` stand below the rising notes; `concert` is the key as it sounds.
    """
    shown = list(fingerings) or [""] * len(of.up)
    up = tuple(StaffNote(note, below) for note, below in zip(of.up, shown, strict=True))
    down = () if of.down == of.up[::-1] else (tuple(map(StaffNote, of.down)),)
    drawing = engraved(StaffExample(clef, of.key.fifths, (up, *down)))
    sounding = f", which sounds concert {concert}" if concert else ""
    return Notation(
        drawing,
        f"{_capital(scale_name(of))}{sounding}, {clef} clef, {signature_text_spoken(of.key)}, "
        f"from {of.up[0].spoken} to {of.up[-1].spoken}",
        _names(of.up) + (f", down {_names(of.down)}" if down else ""),
    )


def scale_name(of: Scale) -> str:
    """Name a scale as it is read aloud: `G minor, harmonic scale`, `first five notes of the G major scale`."""
    form = "" if of.form is ScaleForm.OF_THE_KEY else f", {of.form}"
    name = f"{of.key.spoken}{form} scale"
    return name if of.whole else f"{first_notes(of)} of the {name}"


def first_notes(of: Scale) -> str:
    """Say how much there is of a scale that is not whole: `first five notes`; nothing of others."""
    return "" if of.whole else f"first {_NUMBERS.get(len(of.up), str(len(of.up)))} notes"


def notes_figure(notes: Sequence[PartNote], clef: Clef, key: SpelledKey | None) -> Notation:
    """Engrave notes to watch or to play, brass with its fingering below."""
    marks = tuple(
        StaffNote(note.written, note.usual.label if note.usual else "", reminded=True)
        for note in notes
    )
    drawing = engraved(StaffExample(clef, key.fifths if key else 0, (marks,)))
    in_key = f" in {key.spoken}, {signature_text_spoken(key)}" if key else ""
    return Notation(
        drawing,
        f"{', '.join(note.written.spoken for note in notes)}{in_key}, {clef} clef",
        _names([note.written for note in notes]),
    )


def concert_figure(notes: Sequence[SpelledPitch], clef: Clef) -> Notation:
    """Engrave sounding notes as they are."""
    marks = tuple(StaffNote(WrittenPitch(note.name, note.octave), reminded=True) for note in notes)
    return Notation(
        engraved(StaffExample(clef, 0, (marks,))),
        f"{', '.join(note.spoken for note in notes)}, concert pitch, {clef} clef",
        _names(notes),
    )


class Reader(Enum):
    """Who plays a rhythm."""

    ANYONE = auto()
    BLOWS = auto()
    STRIKES = auto()


class RhythmFigures:
    """Shows the rhythms of a plan, each once however many parts have it."""

    def __init__(self) -> None:
        self._shown: dict[tuple[int, Reader], tuple[RhythmRow, RhythmFigure]] = {}

    def of(self, row: RhythmRow, reader: Reader) -> RhythmFigure:
        """Show a rhythm to a reader."""
        key = id(row), reader
        if key not in self._shown:  # the row is kept beside, so that its id stays its own
            self._shown[key] = row, rhythm_figure(row, reader)
        return self._shown[key][1]


def rhythm_figure(row: RhythmRow, reader: Reader = Reader.ANYONE) -> RhythmFigure:
    """Engrave a rhythm with its counts, and what else its reader plays."""
    rhythm = _for(reader, row.rhythm)
    counts = tuple(count_line(measure) for measure in row.counts)
    hit = " ".join(map(str, strokes(rhythm)))
    played = articulation_words(rhythm)
    measures = len(rhythm.measures) - rhythm.pickup
    long = f"{measures} {'measure' if measures == 1 else 'measures'}"
    before = length_text(sum((note.quarters for note in rhythm.measures[0]), Fraction(0)))
    pickup = f" after a pickup of {before}" if rhythm.pickup else ""
    sticking = f", sticking {hit}" if hit else ""
    signs = f". {' '.join(played)}" if played else ""
    drawing = engraved(RhythmExample(rhythm, row.meter, row.counts))
    label = f"Rhythm in {row.meter}, {long}{pickup}, counted {' | '.join(counts)}{sticking}{signs}"
    return RhythmFigure(Notation(drawing, label, " | ".join(counts)), counts, hit, played)


def rhythm_question(row: RhythmRow, figure: RhythmFigure) -> Notation:
    """Leave out of an engraved rhythm what is said and which hand plays: it is to be counted.

    Its label and text say the notes.
    """
    drawing = figure.notation.drawing
    shapes = Markup(_BELOW.sub("", drawing.shapes))  # noqa: S704 - less of what was safe
    notes = " | ".join(", ".join(note.name for note in measure) for measure in row.rhythm.measures)
    return Notation(replace(drawing, shapes=shapes), f"Rhythm in {row.meter}: {notes}", notes)


def signature_text_spoken(key: SpelledKey) -> str:
    """Say the signature as it is read aloud: `2 flats: B flat, E flat`."""
    return signature_text(key).replace("♭", " flat").replace("♯", " sharp")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _for(reader: Reader, rhythm: Rhythm) -> Rhythm:
    """Leave out what a reader does not play: hands who blow, slurs who strike."""
    if reader is Reader.ANYONE:
        return rhythm

    def own(note: RhythmNote) -> RhythmNote:
        if reader is Reader.BLOWS:
            return replace(note, stroke=None)
        return replace(note, slurred=False)

    return replace(rhythm, measures=tuple(tuple(map(own, one)) for one in rhythm.measures))


def _names(notes: Iterable[SpelledPitch]) -> str:
    return " ".join(str(note.name) for note in notes)
