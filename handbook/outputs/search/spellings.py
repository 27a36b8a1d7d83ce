"""Other spellings that a reader may type into search, put in when the index is made."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

# How signs, numbers and short forms are typed: common practice, no source.
_ACCIDENTAL = re.compile(r"\b([A-Ga-g])[ -]?(♭|♯|#|b(?![a-z])|flat\b|sharp\b)")
_MEASURES = re.compile(
    r"\b(?:mm?\.|meas\.|measures?|bars?)\s*(\d+)(?:\s*[-–]\s*(\d+))?", re.IGNORECASE
)
_CLOCK = re.compile(r"\b(\d{1,2})(?::(\d{2}))?(?:[-–](\d{1,2}):(\d{2}))?\s*([ap])m\b")
_TEMPO = re.compile(r"=\s*(\d{2,3})\b")
_DYNAMICS = re.compile(
    r"\b(?:ppp|pp|p|mp|mf|f|ff|fff|sfz|fp)(?:\s*/\s*(?:ppp|pp|p|mp|mf|f|ff|fff|sfz|fp))+\b"
)
_NOON = 12
_LONGEST_SPAN = 200  # measures that are spelled out one by one
_ISO_DAY = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")


def spellings(text: str) -> str:
    """Collect what may be typed for the signs, measures, times and tempos in a text."""
    found = dict.fromkeys(
        (*_accidentals(text), *_measures(text), *_clocks(text), *_tempos(text), *_dynamics(text))
    )
    return " ".join(found)


def day_spellings(day: date) -> str:
    """Collect what may be typed for a date: names in full and short, numbers by month and day."""
    return f"{day:%A} {day:%a} {day:%B} {day:%b} {day.day} {day.month}/{day.day} {day.isoformat()}"


def day_in(keywords: str) -> str:
    """Give the first date that `day_spellings` put among keywords, as `2026-12-17`, or nothing."""
    found = _ISO_DAY.search(keywords)
    return found[0] if found else ""


def _accidentals(text: str) -> Iterator[str]:
    for found in _ACCIDENTAL.finditer(text):
        letter = found[1].lower()
        flat = found[2] in {"♭", "b", "flat"}
        yield from (
            (f"{letter}b", f"{letter}flat", f"{letter} flat", f"{letter}♭")
            if flat
            else (f"{letter}#", f"{letter}sharp", f"{letter} sharp", f"{letter}♯")
        )


def _measures(text: str) -> Iterator[str]:
    """Spell out every measure of a span: who asks for measure 14 means the passage around it."""
    for found in _MEASURES.finditer(text):
        first = int(found[1])
        last = int(found[2] or first)
        for measure in range(first, min(last, first + _LONGEST_SPAN) + 1):
            yield f"m{measure}"


def _clocks(text: str) -> Iterator[str]:
    for found in _CLOCK.finditer(text):
        half = found[5]
        yield from _clock(int(found[1]), found[2] or "00", half)
        if found[3]:
            yield from _clock(int(found[3]), found[4], half)


def _clock(hour: int, minute: str, half: str) -> Iterator[str]:
    of_day = hour % _NOON + (_NOON if half == "p" else 0)
    yield f"{hour}:{minute}"
    yield f"{of_day:02}:{minute}"
    if minute == "00":
        yield f"{hour}{half}m"


def _tempos(text: str) -> Iterator[str]:
    for found in _TEMPO.finditer(text):
        yield from (found[1], f"{found[1]}bpm", "bpm", "tempo")


def _dynamics(text: str) -> Iterator[str]:
    for found in _DYNAMICS.finditer(text):
        yield from re.split(r"\s*/\s*", found[0])
