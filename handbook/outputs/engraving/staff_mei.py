"""Notes on a staff, in the player's clef and key, written as MEI for engraving.

MEI is the Music Encoding Initiative's format (5.0). Rhythms have a module of their own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from handbook.domain.tables.instruments import Clef
from handbook.domain.values.pitch import NoteName, WrittenPitch
from handbook.records import dataclass

_CLEFS = {Clef.TREBLE: ("G", 2), Clef.BASS: ("F", 4)}
_MIDDLE_C = 60
_SHARPS, _FLATS = "FCGDAEB", "BEADGCF"
_ACCIDENTALS = {-3: "tf", -2: "ff", -1: "f", 0: "n", 1: "s", 2: "x", 3: "ts"}


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
    return mei_document(staff, measures)


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
            yield f'<harm place="below" tstamp="{beat}">{escape(note.below, quote=False)}</harm>'


def _accidental(name: NoteName, note: StaffNote, *, shown: bool) -> str:
    sign = _ACCIDENTALS[name.alter]
    if shown:
        return f'<accid accid="{sign}"/>'
    if note.reminded and name.alter:
        return f'<accid accid="{sign}" func="caution" enclose="paren"/>'
    return f'<accid accid.ges="{sign}"/>'


def mei_document(staff: str, measures: str, spacing: str = "") -> str:
    """Wrap measures up; `staff` defines it, `spacing` is attributes of the whole score."""
    return (
        '<?xml version="1.0" encoding="UTF-8"?>'
        '<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.0"><meiHead/><music><body>'
        f"<mdiv><score><scoreDef{spacing}><staffGrp>{staff}</staffGrp></scoreDef>"
        f"<section>{measures}</section></score></mdiv></body></music></mei>"
    )
