"""Musical examples written as MEI, the Music Encoding Initiative's format (5.0), for engraving.

Two kinds are enough for a student: notes on a staff in the player's clef and key, and a
rhythm on one line with what is said and which hand plays below it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from xml.sax.saxutils import escape

from handbook.domain.counting import Count
from handbook.domain.measure_beats import Beat, measure_beats
from handbook.domain.rhythm import Measure, PlacedNote, Rhythm, RhythmNote, placed
from handbook.domain.tables.instruments import Clef
from handbook.domain.values.meter import Meter
from handbook.domain.values.pitch import NoteName, WrittenPitch

_CLEFS = {Clef.TREBLE: ("G", 2), Clef.BASS: ("F", 4)}
_MIDDLE_C = 60
_SHARPS, _FLATS = "FCGDAEB", "BEADGCF"
_ACCIDENTALS = {-3: "tf", -2: "ff", -1: "f", 0: "n", 1: "s", 2: "x", 3: "ts"}
_DURATIONS = {"w": 1, "h": 2, "q": 4, "e": 8, "s": 16, "t": 32}
_ACCENTS = {">": "acc", "^": "marc"}
_BEAMED = frozenset("est")
_QUARTERS_IN_WHOLE = 4

# What a line of rhythm may hold on a phone, in drawing units, and about how much of it the
# engraver gives to the signs at its start and to each note by its length in quarters.
_LINE, _SIGNS = 7600, 900
_NARROWEST, _OF_QUARTER, _WIDEST = 420, 690, 1500
_OF_COUNT, _OF_LETTER = 130, 190


@dataclass(frozen=True, slots=True)
class StaffNote:
    """A note of an example and what stands below it; `reminded` shows an accidental of the key too."""

    pitch: WrittenPitch
    below: str = ""
    reminded: bool = False


@dataclass(frozen=True, slots=True)
class StaffExample:
    """Notes without rhythm on a staff, one tuple a line; `fifths` is the key signature."""

    clef: Clef
    fifths: int
    lines: tuple[tuple[StaffNote, ...], ...]


@dataclass(frozen=True, slots=True)
class RhythmExample:
    """A rhythm on one line; `counts` are the syllables of each measure, or none at all."""

    rhythm: Rhythm
    meter: Meter
    counts: tuple[tuple[Count, ...], ...] = ()


def staff_mei(example: StaffExample) -> str:
    """Write notes on a staff; each line is one system, and accidentals hold to its end."""
    shape, line = _CLEFS[_clef(example)]
    staff = (
        f'<staffDef n="1" lines="5" keysig="{_keysig(example.fifths)}">'
        f'<clef shape="{shape}" line="{line}"/></staffDef>'
    )
    last = len(example.lines)
    measures = "<sb/>".join(
        f'<measure n="{number}" right="{"end" if number == last else "single"}"><staff n="1">'
        f'<layer n="1">{"".join(_staff_notes(notes, example.fifths))}</layer></staff>'
        f"{''.join(_words_below(notes))}</measure>"
        for number, notes in enumerate(example.lines, 1)
    )
    return _document(staff, measures)


def _clef(example: StaffExample) -> Clef:
    """Give the clef; of a grand staff the one its notes lie on."""
    if example.clef in _CLEFS:
        return example.clef
    heights = [note.pitch.midi for notes in example.lines for note in notes]
    return Clef.TREBLE if sum(heights) >= _MIDDLE_C * len(heights) else Clef.BASS


def _keysig(fifths: int) -> str:
    return f"{abs(fifths)}{'s' if fifths > 0 else 'f'}" if fifths else "0"


def _staff_notes(notes: Iterable[StaffNote], fifths: int) -> Iterator[str]:
    altered = _SHARPS[:fifths] if fifths > 0 else _FLATS[:-fifths]
    sign = 1 if fifths > 0 else -1
    in_force: dict[int, int] = {}
    for note in notes:
        name, place = note.pitch.name, note.pitch.staff_place
        of_key = sign if name.letter in altered else 0
        shown = name.alter != in_force.get(place, of_key)
        in_force[place] = name.alter
        yield (
            f'<note pname="{name.letter.lower()}" oct="{note.pitch.octave}" dur="4" '
            f'stem.visible="false">{_accidental(name, note, shown=shown)}</note>'
        )


def _words_below(notes: Iterable[StaffNote]) -> Iterator[str]:
    """Put words under their notes, each of which takes one beat of a measure without meter."""
    for beat, note in enumerate(notes, 1):
        if note.below:
            yield f'<harm place="below" tstamp="{beat}">{escape(note.below)}</harm>'


def _accidental(name: NoteName, note: StaffNote, *, shown: bool) -> str:
    sign = _ACCIDENTALS[name.alter]
    if shown:
        return f'<accid accid="{sign}"/>'
    if note.reminded and name.alter:
        return f'<accid accid="{sign}" func="caution" enclose="paren"/>'
    return f'<accid accid.ges="{sign}"/>'


def rhythm_mei(example: RhythmExample) -> str:
    """Write a rhythm with its syllables, and below them its sticking if it has one."""
    meter = example.meter
    top = "+".join(map(str, meter.groups)) if meter.irregular and meter.groups else meter.top
    staff = (
        f'<staffDef n="1" lines="1" meter.count="{top}" meter.unit="{meter.unit}">'
        '<clef shape="perc"/></staffDef>'
    )
    return _document(staff, "".join(_rhythm_measures(example)))


def _rhythm_measures(example: RhythmExample) -> Iterator[str]:
    last = len(example.rhythm.measures) - 1
    tied = False
    filled = _SIGNS
    for index, measure in enumerate(example.rhythm.measures):
        start = _pickup_start(example, index)
        layer = "".join(_layer(measure, measure_beats(example.meter), start, tied=tied))
        below = "".join(_below(example, index, start))
        line = "end" if index == last else "single"
        short = ' metcon="false"' if start else ""
        width = _measure_width(example, index)
        if index and filled + width > _LINE:
            yield "<sb/>"
            filled = _SIGNS
        filled += width
        yield (
            f'<measure n="{example.rhythm.number(index)}" right="{line}"{short}>'
            f'<staff n="1"><layer n="1">{layer}</layer></staff>{below}</measure>'
        )
        tied = measure[-1].tied


def _measure_width(example: RhythmExample, index: int) -> int:
    """Estimate the room of a measure; what is said during a note may want more than the note."""
    said = example.counts[index] if example.counts else ()
    return sum(
        max(
            _note_width(note),
            sum(_OF_COUNT + _OF_LETTER * len(str(count)) for count in said if count.note == place),
        )
        for place, note in enumerate(example.rhythm.measures[index])
    )


def _note_width(note: RhythmNote) -> int:
    """Estimate the room a note takes: longer ones get more, but not in proportion."""
    room = _OF_QUARTER * float(note.quarters) ** 0.6
    grace = _NARROWEST * (note.stroke.graces if note.stroke else 0)
    return int(min(max(room, _NARROWEST), _WIDEST)) + grace


def _pickup_start(example: RhythmExample, index: int) -> Fraction:
    """Give where in a whole measure the notes begin, in quarters: past 0 only in a pickup."""
    if index or not example.rhythm.pickup:
        return Fraction(0)
    length = sum((note.quarters for note in example.rhythm.measures[0]), Fraction(0))
    return max(Fraction(0), example.meter.quarters - length)


def _below(example: RhythmExample, index: int, start: Fraction) -> Iterator[str]:
    unit = Fraction(_QUARTERS_IN_WHOLE, example.meter.unit)

    def line(number: int, at: Fraction, text: str) -> str:
        stamp = float((at - start) / unit + 1)
        return f'<harm n="{number}" place="below" tstamp="{stamp:.6g}">{escape(text)}</harm>'

    for count in example.counts[index] if example.counts else ():
        yield line(1, count.start, str(count))
    for here in placed(example.rhythm.measures[index]):
        if here.note.stroke:
            yield line(2, here.start + start, str(here.note.stroke))


def _layer(
    measure: Measure, beats: tuple[Beat, ...], start: Fraction, *, tied: bool
) -> Iterator[str]:
    """Write the notes, groups as groups and short notes of one beat under one beam."""
    ties = [tied, *(note.tied for note in measure)]
    rows = [
        (here, _note(here.note, from_tie=ties[place])) for place, here in enumerate(placed(measure))
    ]
    for (_, tuplet), together in groupby(_with_groups(rows), key=lambda row: row[0]):
        inside = [row for _, row in together]
        notes = [here.note for here, _ in inside]
        if tuplet:
            beamed = all(note.value in _BEAMED and not note.rest for note in notes)
            first = notes[0].tuplet
            if first is None:  # cannot be: only notes of a group are grouped so
                raise ValueError("a group without its number")
            yield (
                f'<tuplet num="{first.count}" numbase="{first.time_of}" '
                f'bracket.visible="{"false" if beamed else "true"}">'
                f"{_joined(inside, beamed=beamed)}</tuplet>"
            )
        else:
            yield from _beams(inside, beats, start)


Row = tuple[PlacedNote, str]


def _with_groups(rows: list[Row]) -> Iterator[tuple[tuple[int, bool], Row]]:
    """Give each row the number of its group, since two of a kind may follow one another."""
    number = 0
    before = False
    for row in rows:
        tuplet = row[0].note.tuplet
        if (tuplet is not None and tuplet.place == 0) or (before and tuplet is None):
            number += 1
        before = tuplet is not None
        yield (number, before), row


def _beams(rows: list[Row], beats: tuple[Beat, ...], start: Fraction) -> Iterator[str]:
    def beat_of(row: Row) -> tuple[int, bool]:
        here = row[0]
        short = here.note.value in _BEAMED and not here.note.rest
        at = here.start + start
        beat = next((beat.number for beat in beats if beat.start <= at < beat.end), 0)
        return beat, short

    for (_, short), together in groupby(rows, key=beat_of):
        yield _joined(list(together), beamed=short)


def _joined(rows: list[Row], *, beamed: bool) -> str:
    inside = "".join(text for _, text in rows)
    return f"<beam>{inside}</beam>" if beamed and len(rows) > 1 else inside


def _note(note: RhythmNote, *, from_tie: bool) -> str:
    dots = f' dots="{note.dots}"' if note.dots else ""
    length = f'dur="{_DURATIONS[note.value]}"{dots}'
    if note.rest:
        return f'<rest loc="0" {length}/>'
    tie = {(True, True): ' tie="m"', (True, False): ' tie="t"', (False, True): ' tie="i"'}.get(
        (from_tie, note.tied), ""
    )
    accent = f' artic="{_ACCENTS[note.accent]}"' if note.accent else ""
    buzz = ' stem.mod="z"' if note.stroke and note.stroke.buzz else ""
    return f'{_graces(note)}<note loc="0" stem.dir="up" {length}{tie}{accent}{buzz}/>'


def _graces(note: RhythmNote) -> str:
    """Write a flam's grace note or a drag's two."""
    count = note.stroke.graces if note.stroke else 0
    if not count:
        return ""
    value = 8 if count == 1 else 16
    grace = f'<note grace="unacc" loc="0" dur="{value}" stem.dir="up"/>' * count
    return f"<graceGrp>{f'<beam>{grace}</beam>' if count > 1 else grace}</graceGrp>"


def _document(staff: str, measures: str) -> str:
    return (
        '<?xml version="1.0" encoding="UTF-8"?>'
        '<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.0"><meiHead/><music><body>'
        f"<mdiv><score><scoreDef><staffGrp>{staff}</staffGrp></scoreDef>"
        f"<section>{measures}</section></score></mdiv></body></music></mei>"
    )
