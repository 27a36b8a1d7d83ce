"""Just intervals as ratios of frequencies, and chords built of them.

Ratios are those of the harmonic series and its usual extensions: common practice, no source.
`semitones` is the equal-tempered interval each one is compared with.
"""

from __future__ import annotations

from fractions import Fraction

from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class JustInterval:
    """A pure interval: upper over lower frequency."""

    id: str
    name: str
    ratio: Fraction
    semitones: int


JUST_INTERVALS: dict[str, JustInterval] = {
    row.id: row
    for row in (
        JustInterval("unison", "unison", Fraction(1), 0),
        JustInterval("minor-second", "minor second", Fraction(16, 15), 1),
        JustInterval("major-second", "major second", Fraction(9, 8), 2),
        JustInterval("major-second-small", "small major second", Fraction(10, 9), 2),
        JustInterval("minor-third", "minor third", Fraction(6, 5), 3),
        JustInterval("major-third", "major third", Fraction(5, 4), 4),
        JustInterval("major-third-pythagorean", "Pythagorean third", Fraction(81, 64), 4),
        JustInterval("fourth", "fourth", Fraction(4, 3), 5),
        JustInterval("tritone", "tritone", Fraction(7, 5), 6),
        JustInterval("tritone-wide", "wide tritone", Fraction(45, 32), 6),
        JustInterval("fifth", "fifth", Fraction(3, 2), 7),
        JustInterval("minor-sixth", "minor sixth", Fraction(8, 5), 8),
        JustInterval("major-sixth", "major sixth", Fraction(5, 3), 9),
        JustInterval("harmonic-seventh", "harmonic seventh", Fraction(7, 4), 10),
        JustInterval("minor-seventh", "minor seventh", Fraction(16, 9), 10),
        JustInterval("minor-seventh-wide", "wide minor seventh", Fraction(9, 5), 10),
        JustInterval("major-seventh", "major seventh", Fraction(15, 8), 11),
        JustInterval("octave", "octave", Fraction(2), 12),
    )
}

# Chord names to the intervals above the root. A seventh that resolves is tuned 16:9 and not
# as the harmonic seventh, which is lower than most bands will place it: common practice.
CHORDS: dict[str, tuple[str, ...]] = {
    "major": ("unison", "major-third", "fifth"),
    "minor": ("unison", "minor-third", "fifth"),
    "dominant seventh": ("unison", "major-third", "fifth", "minor-seventh"),
    "major seventh": ("unison", "major-third", "fifth", "major-seventh"),
    "minor seventh": ("unison", "minor-third", "fifth", "minor-seventh-wide"),
    "suspended fourth": ("unison", "fourth", "fifth"),
}
