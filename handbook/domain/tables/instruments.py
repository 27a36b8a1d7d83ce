"""Band instruments: how each is written, how that sounds, and where school players are at home.

Transpositions are facts of the trade. Those of most rows were compared with at least two
published teaching charts each; alto and bass flute, contra clarinets, trumpet in C, flugelhorn,
mellophone, bass trombone, fretted strings, harp, piano, keyboard and mallet percussion are from memory.
Ranges and scale registers are a school band's usual ones, as written in the part, not an
instrument's limits; they, the families and what players sit on are common practice, no source.
A tenor saxophone is counted with neither high nor low woodwinds.
"""

from __future__ import annotations

import difflib
import re
from enum import StrEnum

from handbook.domain.tables.brass import (
    EUPHONIUM_TUBE,
    HORN_B_FLAT_SIDE,
    HORN_F_SIDE,
    TROMBONE_TUBE,
    TRUMPET_TUBE,
    TUBA_TUBE,
    Tube,
)
from handbook.domain.values.pitch import (
    UNISON,
    Interval,
    NoteName,
    WrittenPitch,
    parse_written_pitch,
)
from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass


class Family(StrEnum):
    """The section of the band an instrument belongs to."""

    WOODWIND = "woodwind"
    BRASS = "brass"
    STRINGS = "strings"
    PERCUSSION = "percussion"
    KEYBOARD = "keyboard"


class Clef(StrEnum):
    """The clef a part is usually written in."""

    TREBLE = "treble"
    BASS = "bass"
    GRAND = "treble and bass"
    PERCUSSION = "percussion"


@dataclass(frozen=True, slots=True)
class Range:
    """Usual written pitches, both ends included; scales start at or above `scale_from`.

    `around` is the note about which single notes are played, if that is not the middle.
    """

    low: WrittenPitch
    high: WrittenPitch
    scale_from: WrittenPitch
    around: WrittenPitch | None = None

    @property
    def twice_centre(self) -> int:
        """Twice the MIDI number of the height that single notes lie nearest to."""
        return 2 * self.around.midi if self.around else self.low.midi + self.high.midi

    def outside(self, lowest: int, highest: int) -> int:
        """Count semitones by which a line from one MIDI number to another passes the ends."""
        return max(0, self.low.midi - lowest) + max(0, highest - self.high.midi)

    def holds(self, pitch: WrittenPitch) -> bool:
        """Whether a written pitch lies within the usual range."""
        return self.low.midi <= pitch.midi <= self.high.midi


class Seat(StrEnum):
    """Where and on what players of an instrument sit or stand."""

    ON_A_CHAIR = "on a chair"
    ON_A_STOOL = "on a stool"
    STANDING = "standing at a station"
    ON_A_STOOL_AT_A_STATION = "on a stool at a station"
    PLUGGED_IN = "on a chair with an amplifier"
    AT_A_KEYBOARD = "on a bench"
    AT_A_PLUGGED_IN_KEYBOARD = "on a bench with an amplifier"


@dataclass(frozen=True, slots=True)
class Instrument:
    """One row, all that is known of an instrument.

    `sounds` is the interval from the written to the sounding pitch. `range` is None for
    percussion of no definite pitch, and so is the key it is "in"; it is that of players of
    intermediate experience, and the others' is that of `reads_as`, an instrument whose players
    read the same notes. `scales` is False for drums that are tuned to a few notes at a time.
    `groups` are the families beyond its section that directors count it to; `tubes` the brass
    it is made of, for fingerings; `seat` what its players sit on or stand at.
    """

    id: str
    name: str
    family: Family
    clef: Clef
    sounds: Interval = UNISON
    range: Range | None = None
    aliases: tuple[str, ...] = ()
    scales: bool = True
    groups: tuple[str, ...] = ()
    reads_as: str = ""
    tubes: tuple[Tube, ...] = ()
    seat: Seat = Seat.ON_A_CHAIR

    def __hash__(self) -> int:
        """By its id alone, since what is reckoned of an instrument is looked up by it."""
        return hash(self.id)

    @property
    def pitched(self) -> bool:
        """Whether it plays notes of definite pitch, so that keys concern it."""
        return self.range is not None

    @property
    def sounding_c(self) -> NoteName:
        """What a written C sounds, whatever the octave: the key the instrument is "in"."""
        return NoteName.from_fifths(self.sounds.fifths)


def usual_range(low: str, high: str, scale_from: str, around: str = "") -> Range:
    """Write a range by the names of its notes; UnreadableError for a name that is none."""
    return Range(
        parse_written_pitch(low),
        parse_written_pitch(high),
        parse_written_pitch(scale_from),
        parse_written_pitch(around) if around else None,
    )


TWO_OCTAVES_UP = Interval(14, 24)
OCTAVE_UP = Interval(7, 12)
MINOR_THIRD_UP = Interval(2, 3)
MAJOR_SECOND_DOWN = Interval(-1, -2)
FOURTH_DOWN = Interval(-3, -5)
FIFTH_DOWN = Interval(-4, -7)
MAJOR_SIXTH_DOWN = Interval(-5, -9)
OCTAVE_DOWN = Interval(-7, -12)
MAJOR_NINTH_DOWN = Interval(-8, -14)
MAJOR_THIRTEENTH_DOWN = Interval(-12, -21)
TWO_OCTAVES_AND_SECOND_DOWN = Interval(-15, -26)

_W, _B, _S, _P, _K = (
    Family.WOODWIND,
    Family.BRASS,
    Family.STRINGS,
    Family.PERCUSSION,
    Family.KEYBOARD,
)
_TREBLE, _BASS, _GRAND, _DRUMS = Clef.TREBLE, Clef.BASS, Clef.GRAND, Clef.PERCUSSION

_notes = usual_range

# In score order. Lines stay one row each so that the table can be read as a table.
# fmt: off
INSTRUMENTS: tuple[Instrument, ...] = (
    Instrument("piccolo", "Piccolo", _W, _TREBLE, OCTAVE_UP, _notes("D4", "F6", "Eb4"), groups=("high-woodwinds", "flutes"), reads_as="piccolo"),
    Instrument("flute", "Flute", _W, _TREBLE, UNISON, _notes("C4", "F6", "Eb4"), groups=("high-woodwinds", "flutes"), reads_as="flute"),
    Instrument("alto-flute", "Alto flute", _W, _TREBLE, FOURTH_DOWN, _notes("C4", "D6", "Eb4"), groups=("flutes",), reads_as="alto-flute"),
    Instrument("bass-flute", "Bass flute", _W, _TREBLE, OCTAVE_DOWN, _notes("C4", "D6", "Eb4"), groups=("flutes",), reads_as="alto-flute"),
    Instrument("oboe", "Oboe", _W, _TREBLE, UNISON, _notes("C4", "C6", "D4"), groups=("high-woodwinds", "double-reeds"), reads_as="oboe"),
    Instrument("english-horn", "English horn", _W, _TREBLE, FIFTH_DOWN, _notes("C4", "C6", "D4"), aliases=("cor anglais",), groups=("double-reeds",), reads_as="oboe"),
    Instrument("bassoon", "Bassoon", _W, _BASS, UNISON, _notes("Bb1", "F4", "F2"), groups=("low-woodwinds", "double-reeds"), reads_as="bassoon"),
    Instrument("contrabassoon", "Contrabassoon", _W, _BASS, OCTAVE_DOWN, _notes("Bb1", "F4", "F2"), aliases=("double bassoon",), groups=("low-woodwinds", "double-reeds"), reads_as="bassoon"),
    Instrument("e-flat-clarinet", "E♭ clarinet", _W, _TREBLE, MINOR_THIRD_UP, _notes("E3", "C6", "F3"), aliases=("eefer", "soprano clarinet in E flat", "clarinet in E flat"), groups=("high-woodwinds", "clarinets"), reads_as="clarinet"),
    Instrument("clarinet", "Clarinet", _W, _TREBLE, MAJOR_SECOND_DOWN, _notes("E3", "C6", "F3"), aliases=("B flat clarinet", "clarinet in B flat", "soprano clarinet"), groups=("high-woodwinds", "clarinets"), reads_as="clarinet"),
    Instrument("alto-clarinet", "Alto clarinet", _W, _TREBLE, MAJOR_SIXTH_DOWN, _notes("E3", "C6", "F3"), aliases=("E flat alto clarinet",), groups=("clarinets",), reads_as="clarinet"),
    Instrument("bass-clarinet", "Bass clarinet", _W, _TREBLE, MAJOR_NINTH_DOWN, _notes("Eb3", "G5", "F3"), aliases=("B flat bass clarinet",), groups=("low-woodwinds", "clarinets"), reads_as="bass-clarinet"),
    Instrument("contra-alto-clarinet", "Contra-alto clarinet", _W, _TREBLE, MAJOR_THIRTEENTH_DOWN, _notes("Eb3", "G5", "F3"), aliases=("contra alto", "contralto clarinet", "E flat contrabass clarinet", "E flat contra alto clarinet"), groups=("low-woodwinds", "clarinets"), reads_as="bass-clarinet"),
    Instrument("contrabass-clarinet", "Contrabass clarinet", _W, _TREBLE, TWO_OCTAVES_AND_SECOND_DOWN, _notes("Eb3", "G5", "F3"), aliases=("B flat contrabass clarinet",), groups=("low-woodwinds", "clarinets"), reads_as="bass-clarinet"),
    Instrument("soprano-saxophone", "Soprano saxophone", _W, _TREBLE, MAJOR_SECOND_DOWN, _notes("C4", "C6", "D4"), aliases=("soprano sax", "B flat soprano saxophone"), groups=("high-woodwinds", "saxophones"), reads_as="alto-saxophone"),
    Instrument("alto-saxophone", "Alto saxophone", _W, _TREBLE, MAJOR_SIXTH_DOWN, _notes("C4", "D6", "D4"), aliases=("alto sax", "E flat alto saxophone", "E flat alto sax"), groups=("saxophones",), reads_as="alto-saxophone"),
    Instrument("tenor-saxophone", "Tenor saxophone", _W, _TREBLE, MAJOR_NINTH_DOWN, _notes("C4", "D6", "D4"), aliases=("tenor sax", "B flat tenor saxophone", "B flat tenor sax"), groups=("saxophones",), reads_as="alto-saxophone"),
    Instrument("baritone-saxophone", "Baritone saxophone", _W, _TREBLE, MAJOR_THIRTEENTH_DOWN, _notes("C4", "D6", "D4"), aliases=("bari sax", "baritone sax", "E flat baritone saxophone", "bari saxophone"), groups=("low-woodwinds", "saxophones"), reads_as="alto-saxophone"),
    Instrument("trumpet", "Trumpet", _B, _TREBLE, MAJOR_SECOND_DOWN, _notes("F#3", "A5", "Ab3"), aliases=("B flat trumpet", "trumpet in B flat"), groups=("high-brass",), reads_as="trumpet", tubes=(TRUMPET_TUBE,)),
    Instrument("trumpet-in-c", "Trumpet in C", _B, _TREBLE, UNISON, _notes("F#3", "A5", "Ab3"), aliases=("C trumpet",), groups=("high-brass",), reads_as="trumpet", tubes=(TRUMPET_TUBE,)),
    Instrument("cornet", "Cornet", _B, _TREBLE, MAJOR_SECOND_DOWN, _notes("F#3", "A5", "Ab3"), aliases=("B flat cornet",), groups=("high-brass",), reads_as="trumpet", tubes=(TRUMPET_TUBE,)),
    Instrument("flugelhorn", "Flugelhorn", _B, _TREBLE, MAJOR_SECOND_DOWN, _notes("F#3", "A5", "Ab3"), aliases=("B flat flugelhorn", "flugel"), groups=("high-brass",), reads_as="trumpet", tubes=(TRUMPET_TUBE,)),
    Instrument("horn", "Horn", _B, _TREBLE, FIFTH_DOWN, _notes("G3", "F5", "A3"), aliases=("F horn", "French horn", "horn in F"), groups=("high-brass",), reads_as="horn", tubes=(HORN_F_SIDE, HORN_B_FLAT_SIDE)),
    Instrument("mellophone", "Mellophone", _B, _TREBLE, FIFTH_DOWN, _notes("F#3", "A5", "Ab3"), aliases=("mellophone in F",), groups=("high-brass",), reads_as="trumpet", tubes=(TRUMPET_TUBE,)),
    Instrument("trombone", "Trombone", _B, _BASS, UNISON, _notes("E2", "F4", "F2", "G3"), aliases=("tenor trombone",), groups=("low-brass",), reads_as="trombone", tubes=(TROMBONE_TUBE,)),
    Instrument("bass-trombone", "Bass trombone", _B, _BASS, UNISON, _notes("C2", "F4", "F2", "G3"), groups=("low-brass",), reads_as="bass-trombone", tubes=(TROMBONE_TUBE,)),
    Instrument("euphonium", "Euphonium", _B, _BASS, UNISON, _notes("E2", "F4", "F2", "G3"), aliases=("baritone", "baritone horn", "euphonium bass clef", "baritone bass clef", "euphonium bc", "baritone bc"), groups=("low-brass",), reads_as="trombone", tubes=(EUPHONIUM_TUBE,)),
    Instrument("euphonium-treble-clef", "Euphonium (treble clef)", _B, _TREBLE, MAJOR_NINTH_DOWN, _notes("F#3", "G5", "Ab3", "A4"), aliases=("baritone treble clef", "euphonium tc", "baritone tc"), groups=("low-brass",), reads_as="euphonium-treble-clef", tubes=(TRUMPET_TUBE,)),
    Instrument("tuba", "Tuba", _B, _BASS, UNISON, _notes("E1", "F3", "F1"), aliases=("sousaphone", "BB flat tuba", "B flat tuba"), groups=("low-brass",), reads_as="tuba", tubes=(TUBA_TUBE,)),
    Instrument("string-bass", "String bass", _S, _BASS, OCTAVE_DOWN, _notes("E2", "G4", "F2"), aliases=("double bass", "upright bass", "contrabass"), seat=Seat.ON_A_STOOL),
    Instrument("electric-bass", "Electric bass", _S, _BASS, OCTAVE_DOWN, _notes("E2", "G4", "F2"), aliases=("bass guitar",), seat=Seat.PLUGGED_IN),
    Instrument("guitar", "Guitar", _S, _TREBLE, OCTAVE_DOWN, _notes("E3", "C6", "E3"), aliases=("electric guitar",), seat=Seat.PLUGGED_IN),
    Instrument("harp", "Harp", _S, _GRAND, UNISON, _notes("C2", "G6", "C4"), seat=Seat.ON_A_STOOL),
    Instrument("piano", "Piano", _K, _GRAND, UNISON, _notes("A0", "C8", "C4"), seat=Seat.AT_A_KEYBOARD),
    Instrument("keyboard", "Keyboard", _K, _GRAND, UNISON, _notes("A0", "C8", "C4"), aliases=("synthesizer",), seat=Seat.AT_A_PLUGGED_IN_KEYBOARD),
    Instrument("celesta", "Celesta", _K, _GRAND, OCTAVE_UP, _notes("C3", "C7", "C4"), aliases=("celeste",), seat=Seat.AT_A_KEYBOARD),
    Instrument("glockenspiel", "Glockenspiel", _P, _TREBLE, TWO_OCTAVES_UP, _notes("G3", "C6", "C4"), aliases=("bells", "orchestra bells"), groups=("mallets",), seat=Seat.STANDING),
    Instrument("xylophone", "Xylophone", _P, _TREBLE, OCTAVE_UP, _notes("F3", "C7", "C4"), groups=("mallets",), seat=Seat.STANDING),
    Instrument("vibraphone", "Vibraphone", _P, _TREBLE, UNISON, _notes("F3", "F6", "C4"), aliases=("vibes",), groups=("mallets",), seat=Seat.STANDING),
    Instrument("marimba", "Marimba", _P, _TREBLE, UNISON, _notes("A2", "C7", "C4"), groups=("mallets",), seat=Seat.STANDING),
    Instrument("chimes", "Chimes", _P, _TREBLE, UNISON, _notes("C4", "F5", "C4"), aliases=("tubular bells",), groups=("mallets",), seat=Seat.STANDING),
    Instrument("mallet-percussion", "Mallet percussion", _P, _TREBLE, UNISON, _notes("F3", "C6", "C4"), aliases=("mallets", "keyboard percussion"), groups=("mallets",), seat=Seat.STANDING),
    Instrument("timpani", "Timpani", _P, _BASS, UNISON, _notes("E2", "A3", "E2"), aliases=("kettledrums",), scales=False, reads_as="timpani", seat=Seat.ON_A_STOOL_AT_A_STATION),
    Instrument("snare-drum", "Snare drum", _P, _DRUMS, aliases=("snare", "side drum"), seat=Seat.STANDING),
    Instrument("tenor-drums", "Tenor drums", _P, _DRUMS, aliases=("tenor drum", "toms"), seat=Seat.STANDING),
    Instrument("bass-drum", "Bass drum", _P, _DRUMS, seat=Seat.STANDING),
    Instrument("cymbals", "Cymbals", _P, _DRUMS, aliases=("crash cymbals", "suspended cymbal", "cymbal"), seat=Seat.STANDING),
    Instrument("triangle", "Triangle", _P, _DRUMS, seat=Seat.STANDING),
    Instrument("tambourine", "Tambourine", _P, _DRUMS, seat=Seat.STANDING),
    Instrument("drum-set", "Drum set", _P, _DRUMS, aliases=("drumset", "drum kit", "drums"), seat=Seat.ON_A_STOOL_AT_A_STATION),
    Instrument("auxiliary-percussion", "Auxiliary percussion", _P, _DRUMS, aliases=("auxiliary", "aux percussion"), seat=Seat.STANDING),
    Instrument("percussion", "Percussion", _P, _DRUMS, seat=Seat.STANDING),
)
# fmt: on

_SHORT_FLAT = re.compile(r"\b([abe])b(?=-)")


def _kebab(text: str) -> str:
    """Write a name as an id: `Bb Clarinet`, `B♭ clarinet` and `B flat clarinet` are one."""
    plain = text.lower().replace("♭", " flat ").replace(".", "")
    words = re.sub(r"[\W_]+", "-", plain).strip("-")
    return _SHORT_FLAT.sub(r"\1-flat", words)


_BY_NAME: dict[str, Instrument] = {
    _kebab(name): row for row in INSTRUMENTS for name in (row.id, row.name, *row.aliases)
}


def instrument(name: str) -> Instrument:
    """Find the row for an id, a name or an alias, one or many: `alto-saxophone`, `Alto Sax`, `trumpets`.

    Raises UnreadableError for an unknown name, with the ids of all of its kind, else the nearest.
    """
    wanted = _kebab(name)
    for one in _one_or_many(wanted):
        if one in _BY_NAME:
            return _BY_NAME[one]
    if kind := of_kind(name):
        raise UnreadableError(f"`{name}` is no instrument that is known here", kind)
    near = difflib.get_close_matches(wanted, _BY_NAME, n=6, cutoff=0.6)
    ids = tuple(dict.fromkeys(_BY_NAME[known].id for known in near))
    raise UnreadableError(f"`{name}` is no instrument that is known here", ids[:3])


def of_kind(name: str) -> tuple[str, ...]:
    """Give the ids of all instruments whose names end with a word, in the table's order: `sax`, `drums`."""
    words = tuple(f"-{one}" for one in _one_or_many(_kebab(name)))
    return tuple(dict.fromkeys(row.id for known, row in _BY_NAME.items() if known.endswith(words)))


def _one_or_many(wanted: str) -> tuple[str, ...]:
    return wanted, wanted.removesuffix("s"), wanted.removesuffix("es")
