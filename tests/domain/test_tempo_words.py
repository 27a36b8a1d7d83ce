"""Italian tempo words name no speed: charts differ, and music21 10.5.1 differs from them.

The ranges are one common chart's; others spread further. So a plan's tempo is always a
number, and no word is printed that the plan did not give.
"""

from __future__ import annotations

import importlib
from typing import Any

import pytest

from handbook.domain.values.tempo import parse_tempo
from handbook.domain.values.unreadable import UnreadableError

m21: Any = importlib.import_module("music21")  # its own hints are partial

# Word, a common chart's range, and the speed that the library takes for it.
WORDS = [
    ("grave", 25, 40, 40),
    ("largo", 40, 60, 46),
    ("lento", 45, 60, 52),
    ("larghetto", 60, 66, 60),
    ("adagio", 66, 76, 56),
    ("andante", 76, 108, 72),
    ("andantino", 80, 108, 80),
    ("moderato", 108, 120, 92),
    ("allegretto", 112, 120, 108),
    ("allegro", 120, 168, 132),
    ("vivace", 168, 176, 160),
    ("presto", 168, 200, 184),
    ("prestissimo", 200, 1000, 208),
]
OUTSIDE_THE_CHART = {"adagio", "andante", "moderato", "allegretto", "vivace"}


@pytest.mark.parametrize(("word", "low", "high", "number"), WORDS)
def test_library_fact_its_speed_for_a_word(word: str, low: int, high: int, number: int) -> None:
    """A fact about music21 10.5.1: five of its speeds lie outside the chart."""
    assert m21.tempo.MetronomeMark(word).number == number
    assert (not low <= number <= high) is (word in OUTSIDE_THE_CHART)


@pytest.mark.parametrize(("number", "word"), [(120, "animato"), (132, "allegro")])
def test_library_fact_it_guesses_words(number: int, word: str) -> None:
    """A fact about music21 10.5.1: it makes up a word that nobody wrote."""
    assert m21.tempo.MetronomeMark(number=number).text == word


@pytest.mark.parametrize("word", [row[0] for row in WORDS])
def test_word_alone_is_no_tempo(word: str) -> None:
    with pytest.raises(UnreadableError):
        parse_tempo(word)
