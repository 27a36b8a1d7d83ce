"""Whole pieces against the music21 10.5.1 corpus: lengths and seconds as that library reckons them.

Traps of the library, kept out: `Score.seconds` is not a number, so the seconds map is read;
"playback only" marks have no `number`; marks are repeated for each part with no length.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from music21 import corpus

from handbook.domain.timing import FormPart, part_seconds, span_quarters
from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.meter import parse_meter
from handbook.domain.values.tempo import parse_tempo

TOLERANCE = 0.001  # seconds

# Each row: name, measures, meter, length in quarters, mark and seconds.
PIECES = [
    ("schumann_clara/opus17/movement3", 80, "6/8", 240, "eighth = 112", 257.1429),
    ("trecento/PMFC_01-Rex quem metrorum.xml", 120, "6/8", 360, "dotted quarter = 140", 102.8571),
    (
        "trecento/PMFC_01-Virtutibus laudabilis.xml",
        147,
        "6/8",
        441,
        "dotted quarter = 110",
        160.3636,
    ),
    ("beethoven/opus18no1/movement2", 110, "9/8", 495, "quarter = 54", 550.0),
    ("beethoven/opus18no1/movement3", 145, "3/4", 435, "quarter = 320", 81.5625),
    ("chopin/mazurka06-2", 72, "3/4", 216, "quarter = 189", 68.5714),
]
# Tunes of one collection, each parsed alone: number in it, length in quarters, mark and seconds.
TUNES = [(1, 64, "half = 112", 17.143), (4, 48, "dotted quarter = 120", 16.000)]


def seconds_of(score: object) -> float:
    """Read the end of the seconds map."""
    return float(max(entry["endTimeSeconds"] for entry in score.flatten().secondsMap))  # type: ignore[attr-defined]


def quarter_speeds(score: object) -> set[float]:
    """Read the marks that last, in quarters a minute."""
    rows = score.metronomeMarkBoundaries()  # type: ignore[attr-defined]
    return {mark.getQuarterBPM(useNumberSounding=True) for start, end, mark in rows if end > start}


@pytest.mark.parametrize(("name", "measures", "meter", "quarters", "mark", "seconds"), PIECES)
def test_a_piece_lasts_as_long_as_music21_says(
    name: str, measures: int, meter: str, quarters: int, mark: str, seconds: float
) -> None:
    score = corpus.parse(name)
    length = span_quarters(MeasureSpan(1, measures), parse_meter(meter))
    tempo = parse_tempo(mark)
    assert length == quarters == Fraction(score.highestTime)
    assert list(quarter_speeds(score)) == pytest.approx([float(tempo.quarters_per_minute)])
    ours = part_seconds(FormPart(length, tempo))
    assert ours == pytest.approx(seconds, abs=TOLERANCE)
    assert ours == pytest.approx(seconds_of(score), abs=TOLERANCE)


@pytest.mark.parametrize(("number", "quarters", "mark", "seconds"), TUNES)
def test_a_tune_marked_in_another_beat_lasts_as_long(
    number: int, quarters: int, mark: str, seconds: float
) -> None:
    score = corpus.parse("airdsAirs/book1.abc", number=number)
    ours = part_seconds(FormPart(Fraction(quarters), parse_tempo(mark)))
    assert Fraction(score.highestTime) == quarters
    assert ours == pytest.approx(seconds, abs=TOLERANCE)
    assert ours == pytest.approx(seconds_of(score), abs=TOLERANCE)
