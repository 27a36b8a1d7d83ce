"""Engraved examples as a page shows them: drawing, label, and the same facts in words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from enum import Enum, auto
from fractions import Fraction

from markupsafe import Markup

from handbook.domain.counting import count_line
from handbook.domain.rhythm import Rhythm, RhythmNote, strokes
from handbook.domain.scales import Scale, ScaleForm
from handbook.domain.tables.instruments import Clef
from handbook.domain.values.keys import SpelledKey
from handbook.domain.values.pitch import SpelledPitch, WrittenPitch
from handbook.outputs.components.articulation_words import articulation_words
from handbook.outputs.engraving.engraver import engraved, sprite
from handbook.outputs.engraving.flat_svg import FlatSvg, Glyph
from handbook.outputs.engraving.rhythm_layout import RhythmExample
from handbook.outputs.engraving.staff_mei import StaffExample, StaffNote
from handbook.outputs.i18n import gettext, gettext_noop, ngettext
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.note_names import clef_words, sign, signature_spoken, spoken
from handbook.outputs.note_values import length_words, note_words
from handbook.plan.parts_model import PartNote, RhythmRow
from handbook.records import dataclass

_BELOW = re.compile("<text[^>]*>[^<]*</text>")  # the only words of a drawing
_PIXELS = 0.046  # to a drawing unit: a staff is then 33 pixels high
_FORMS = {
    ScaleForm.OF_THE_KEY: gettext_noop("%(key)s scale"),
    ScaleForm.HARMONIC: gettext_noop("%(key)s, harmonic scale"),
    ScaleForm.MELODIC: gettext_noop("%(key)s, melodic scale"),
    ScaleForm.CHROMATIC: gettext_noop("%(key)s, chromatic scale"),
}
# As far as the fifth goes in sevens and in twelves, by itself and of a scale.
_FIRST_NOTES = {
    5: (gettext_noop("first five notes"), gettext_noop("first five notes of the %(scale)s")),
    8: (gettext_noop("first eight notes"), gettext_noop("first eight notes of the %(scale)s")),
}
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
    facts = {
        "scale": _capital(scale_name(of)),
        "clef": clef_words(clef),
        "signature": signature_spoken(of.key),
        "first": spoken(of.up[0]),
        "last": spoken(of.up[-1]),
    }
    if concert:
        label = gettext(
            "%(scale)s, which sounds concert %(concert)s, %(clef)s, %(signature)s, from %(first)s to %(last)s",
            concert=concert,
            **facts,
        )
    else:
        label = gettext("%(scale)s, %(clef)s, %(signature)s, from %(first)s to %(last)s", **facts)
    text = _names(of.up)
    if down:
        text = gettext("%(up)s, down %(down)s", up=text, down=_names(of.down))
    return Notation(drawing, label, text)


def scale_name(of: Scale) -> str:
    """Name a scale as it is read aloud: `G minor, harmonic scale`, `first five notes of the G major scale`."""
    name = gettext(_FORMS[of.form], key=spoken(of.key))
    if of.whole:
        return name
    count = len(of.up)
    if count in _FIRST_NOTES:
        return gettext(_FIRST_NOTES[count][1], scale=name)
    return ngettext(
        "first %(num)s note of the %(scale)s",
        "first %(num)s notes of the %(scale)s",
        count,
        scale=name,
    )


def first_notes(of: Scale) -> str:
    """Say how much there is of a scale that is not whole: `first five notes`; nothing of others."""
    if of.whole:
        return ""
    count = len(of.up)
    if count in _FIRST_NOTES:
        return gettext(_FIRST_NOTES[count][0])
    return ngettext("first %(num)s note", "first %(num)s notes", count)


def notes_figure(notes: Sequence[PartNote], clef: Clef, key: SpelledKey | None) -> Notation:
    """Engrave notes to watch or to play, brass with its fingering below."""
    marks = tuple(
        StaffNote(note.written, note.usual.label if note.usual else "", reminded=True)
        for note in notes
    )
    drawing = engraved(StaffExample(clef, key.fifths if key else 0, (marks,)))
    facts = {"notes": _spoken(note.written for note in notes), "clef": clef_words(clef)}
    if key:
        label = gettext(
            "%(notes)s in %(key)s, %(signature)s, %(clef)s",
            key=spoken(key),
            signature=signature_spoken(key),
            **facts,
        )
    else:
        label = gettext("%(notes)s, %(clef)s", **facts)
    return Notation(drawing, label, _names([note.written for note in notes]))


def concert_figure(notes: Sequence[SpelledPitch], clef: Clef) -> Notation:
    """Engrave sounding notes as they are."""
    marks = tuple(StaffNote(WrittenPitch(note.name, note.octave), reminded=True) for note in notes)
    return Notation(
        engraved(StaffExample(clef, 0, (marks,))),
        gettext("%(notes)s, concert pitch, %(clef)s", notes=_spoken(notes), clef=clef_words(clef)),
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
    drawing = engraved(RhythmExample(rhythm, row.meter, row.counts))
    return RhythmFigure(
        Notation(drawing, _rhythm_label(row, rhythm, counts, hit, played), " | ".join(counts)),
        counts,
        hit,
        played,
    )


def _rhythm_label(
    row: RhythmRow, rhythm: Rhythm, counts: Sequence[str], hit: str, played: Sequence[str]
) -> str:
    measures = len(rhythm.measures) - rhythm.pickup
    long = ngettext("%(num)s measure", "%(num)s measures", measures)
    if rhythm.pickup:
        before = length_words(sum((note.quarters for note in rhythm.measures[0]), Fraction(0)))
        long = gettext("%(measures)s after a pickup of %(length)s", measures=long, length=before)
    facts = {"meter": row.meter, "measures": long, "counts": " | ".join(counts)}
    if hit:
        label = gettext(
            "Rhythm in %(meter)s, %(measures)s, counted %(counts)s, sticking %(sticking)s",
            sticking=hit,
            **facts,
        )
    else:
        label = gettext("Rhythm in %(meter)s, %(measures)s, counted %(counts)s", **facts)
    if not played:
        return label
    return gettext("%(rhythm)s. %(played)s", rhythm=label, played=" ".join(played))


def rhythm_question(row: RhythmRow, figure: RhythmFigure) -> Notation:
    """Leave out of an engraved rhythm what is said and which hand plays: it is to be counted.

    Its label and text say the notes.
    """
    drawing = figure.notation.drawing
    shapes = Markup(_BELOW.sub("", drawing.shapes))  # noqa: S704 - less of what was safe
    notes = " | ".join(with_commas(map(note_words, measure)) for measure in row.rhythm.measures)
    label = gettext("Rhythm in %(meter)s: %(notes)s", meter=row.meter, notes=notes)
    return Notation(replace(drawing, shapes=shapes), label, notes)


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


def _spoken(notes: Iterable[SpelledPitch]) -> str:
    return with_commas(map(spoken, notes))


def _names(notes: Iterable[SpelledPitch]) -> str:
    return " ".join(sign(note.name) for note in notes)
