"""Where players are at home by how long they have played.

Beginner is the first year and developing the second. Their ranges follow a publisher's table
(Northeastern Music Publications, "NMP Grading System": grade 1 1/2, playable after all of a
first book, and grade 2, well into a second), which prints letters; the octaves are those
usual in the part. Beginning clarinets follow its grade 1, which stays below the break.
Common practice, no source: a half step more for second-year trumpets, trombones and tubas,
where their scale of concert E flat ends; instruments that the table does not name; the notes
that single notes lie about; all advanced ranges. A pair of timpani has F2 to F3
(J. Papastefan, "Timpani Sizes and Ranges"). Intermediate is the instrument's own row.
"""

from __future__ import annotations

from enum import StrEnum

from handbook.domain.tables.instruments import INSTRUMENTS, Range, usual_range


class Experience(StrEnum):
    """How far the players of an ensemble are."""

    BEGINNER = "beginner"
    DEVELOPING = "developing"
    INTERMEDIATE = "intermediate"
    ADVANCED = "advanced"


# By the instrument as which others read. Lowest and highest note, where scales may start, and what single notes lie about if not the middle.
_BEGINNER = {
    "alto-flute": usual_range("F4", "D6", "F4"),
    "bass-clarinet": usual_range("E3", "Bb4", "F3"),
    "bass-trombone": usual_range("A2", "C4", "Bb2", "G3"),
    "flute": usual_range("F4", "D6", "F4"),
    "piccolo": usual_range("F4", "D6", "F4"),
    "oboe": usual_range("D4", "A5", "D4"),
    "bassoon": usual_range("F2", "C4", "F2"),
    "clarinet": usual_range("E3", "Bb4", "F3"),
    "alto-saxophone": usual_range("D4", "B5", "D4"),
    "trumpet": usual_range("Bb3", "D5", "C4", "G4"),
    "horn": usual_range("A3", "B4", "Bb3"),
    "trombone": usual_range("A2", "C4", "Bb2", "G3"),
    "euphonium-treble-clef": usual_range("B3", "D5", "C4", "A4"),
    "tuba": usual_range("Bb1", "D3", "Bb1"),
    "timpani": usual_range("F2", "F3", "F2"),
}
_DEVELOPING = {
    "alto-flute": usual_range("C4", "D6", "Eb4"),
    "bass-clarinet": usual_range("E3", "E5", "F3"),
    "bass-trombone": usual_range("G2", "Eb4", "Bb2", "G3"),
    "flute": usual_range("C4", "F6", "Eb4"),
    "piccolo": usual_range("D4", "F6", "Eb4"),
    "oboe": usual_range("C4", "B5", "D4"),
    "bassoon": usual_range("Bb1", "D4", "F2"),
    "clarinet": usual_range("E3", "A5", "F3"),
    "alto-saxophone": usual_range("C4", "C6", "D4"),
    "trumpet": usual_range("A3", "F5", "Bb3", "A4"),
    "horn": usual_range("G3", "C5", "A3"),
    "trombone": usual_range("G2", "Eb4", "Bb2", "G3"),
    "euphonium-treble-clef": usual_range("A3", "F5", "C4", "A4"),
    "tuba": usual_range("A1", "Eb3", "Bb1"),
    "timpani": usual_range("F2", "F3", "F2"),
}
_ADVANCED = {
    "alto-flute": usual_range("C4", "G6", "C4"),
    "bass-clarinet": usual_range("Eb3", "C6", "E3"),
    "bass-trombone": usual_range("Bb1", "Bb4", "F2", "G3"),
    "flute": usual_range("C4", "Bb6", "C4"),
    "piccolo": usual_range("D4", "Bb6", "D4"),
    "oboe": usual_range("Bb3", "D6", "C4"),
    "bassoon": usual_range("Bb1", "Bb4", "Bb1"),
    "clarinet": usual_range("E3", "F6", "E3"),
    "alto-saxophone": usual_range("Bb3", "F6", "Bb3"),
    "trumpet": usual_range("F#3", "C6", "G3"),
    "horn": usual_range("F3", "A5", "G3"),
    "trombone": usual_range("E2", "Bb4", "F2", "G3"),
    "euphonium-treble-clef": usual_range("F#3", "C6", "G3", "A4"),
    "tuba": usual_range("E1", "Bb3", "F1"),
}
_LEVELS: dict[Experience, dict[str, Range]] = {
    Experience.BEGINNER: _BEGINNER,
    Experience.DEVELOPING: _DEVELOPING,
    Experience.ADVANCED: _ADVANCED,
}

RANGES: dict[tuple[str, Experience], Range] = {
    (row.id, level): ranges[row.reads_as]
    for level, ranges in _LEVELS.items()
    for row in INSTRUMENTS
    if row.reads_as in ranges
}
"""Instrument id and experience to the range, where it is not that of the instrument's own row."""
