"""Italian tempo words name no speed, since charts differ: a plan's tempo is always a number."""

from __future__ import annotations

import pytest

from handbook.domain.values.tempo import parse_tempo
from handbook.domain.values.unreadable import UnreadableError

WORDS = (
    "grave",
    "largo",
    "lento",
    "larghetto",
    "adagio",
    "andante",
    "andantino",
    "moderato",
    "allegretto",
    "allegro",
    "vivace",
    "presto",
    "prestissimo",
)


@pytest.mark.parametrize("word", WORDS)
def test_word_alone_is_no_tempo(word: str) -> None:
    with pytest.raises(UnreadableError):
        parse_tempo(word)
