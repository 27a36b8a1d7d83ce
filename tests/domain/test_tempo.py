"""Metronome marks: note lengths and speeds in quarters, against music21 10.5.1."""

from __future__ import annotations

from fractions import Fraction

import pytest
from music21 import duration
from music21 import tempo as oracle

from handbook.domain.values.tempo import BEAT_UNITS, Tempo, parse_tempo
from handbook.domain.values.unreadable import UnreadableError


@pytest.mark.parametrize(
    ("text", "beat", "bpm"),
    [
        ("quarter = 96", "quarter", Fraction(96)),
        ("dotted quarter = 80", "dotted quarter", Fraction(80)),
        ("dotted-quarter=80", "dotted quarter", Fraction(80)),
        ("Half note = 66 bpm", "half", Fraction(66)),
        ("96", "quarter", Fraction(96)),
        ("72.5", "quarter", Fraction(145, 2)),
        ("♩ = 96", "quarter", Fraction(96)),
        ("♩. = 80", "dotted quarter", Fraction(80)),
    ],
)
def test_a_tempo_is_read(text: str, beat: str, bpm: Fraction) -> None:
    assert parse_tempo(text) == Tempo(BEAT_UNITS[beat], bpm)


def test_a_bare_number_counts_the_beat_given() -> None:
    assert parse_tempo("80", "dotted quarter").quarters_per_minute == 120


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("fast", "no tempo"),
        ("96-104", "no tempo"),
        ("minim = 60", "no beat"),
        ("9", "outside 10 to 400"),
        ("quarter = 401", "outside 10 to 400"),
    ],
)
def test_other_text_is_refused(text: str, says: str) -> None:
    with pytest.raises(UnreadableError, match=says):
        parse_tempo(text)


# music21 10.5.1: duration.Duration(type, dots).quarterLength and MetronomeMark.getQuarterBPM.
@pytest.mark.parametrize("name", BEAT_UNITS)
def test_beat_lengths_agree_with_music21(name: str) -> None:
    kind = {"sixteenth": "16th"}.get(name.removeprefix("dotted "), name.removeprefix("dotted "))
    note = duration.Duration(kind, dots=1 if name.startswith("dotted ") else 0)
    assert BEAT_UNITS[name].quarters == note.quarterLength
    assert BEAT_UNITS[name].dotted is (note.dots == 1)
    mark = oracle.MetronomeMark(number=80, referent=note)
    assert Tempo(BEAT_UNITS[name], Fraction(80)).quarters_per_minute == mark.getQuarterBPM()


@pytest.mark.parametrize(
    ("bpm", "text"),
    [
        (Fraction(96), "quarter = 96"),
        (Fraction(145, 2), "quarter = 72.5"),
        (Fraction(200, 3), "quarter = 66.667"),
        (Fraction(100), "quarter = 100"),
    ],
)
def test_a_tempo_is_written_as_a_mark(bpm: Fraction, text: str) -> None:
    assert str(Tempo(BEAT_UNITS["quarter"], bpm)) == text
