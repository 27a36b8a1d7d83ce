"""What a page offers to search."""

from __future__ import annotations

from datetime import date, time

from handbook.domain.values.keys import SpelledKey
from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.tempo import Tempo
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class SearchEntry:
    """What search may find: a page, or a place on it if `anchor` (no `#`) is given.

    Only title and text are shown; `answer` is the question's answer in a few words, which
    stands above all that was found if this is among the best and not over. `keywords` are other words a reader may type; `day` is the
    one it is about; `times` (clock times), `measures`, `tempos` and `keys` are what readers
    may ask for in spellings of their own.
    """

    title: str
    text: str
    anchor: str = ""
    keywords: str = ""
    day: date | None = None
    times: tuple[time, ...] = ()
    measures: tuple[MeasureSpan, ...] = ()
    tempos: tuple[Tempo, ...] = ()
    keys: tuple[SpelledKey, ...] = ()
    answer: str = ""


def apart(*parts: str) -> str:
    """Write what an entry says as parts that can be told from each other; empty ones are left out."""
    return " · ".join(filter(None, map(str.strip, parts)))
