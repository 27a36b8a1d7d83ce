"""How the notes of a rhythm are played, in words: what slurs, dots and accents show the eye."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.rhythm import Articulation, Rhythm
from handbook.domain.slurs import Place, slurs

_NAMES = {
    Articulation.STACCATO: "staccato",
    Articulation.TENUTO: "tenuto",
    Articulation.ACCENT: "accent",
    Articulation.STRONG_ACCENT: "strong accent",
}


def articulation_words(rhythm: Rhythm) -> tuple[str, ...]:
    """Say what is slurred, staccato, tenuto or accented, one sentence a measure that has any.

    Notes are numbered within their measure, rests left out: `Measure 2: slur notes 3 to 4,
    staccato on notes 1 and 2.` A slur is told in the measure where it begins.
    """
    said = []
    for index in range(len(rhythm.measures)):
        parts = [*_slurs(rhythm, index), *_signs(rhythm, index)]
        if parts:
            said.append(f"{_measure(rhythm, index)}: {', '.join(parts)}.")
    return tuple(said)


def _measure(rhythm: Rhythm, index: int) -> str:
    number = rhythm.number(index)
    return f"Measure {number}" if number else "Pickup"


def _slurs(rhythm: Rhythm, index: int) -> Iterator[str]:
    inside = []
    for slur in slurs(rhythm):
        if slur.first[0] != index:
            continue
        first, last = _number(rhythm, slur.first), _number(rhythm, slur.last)
        if slur.last[0] == index:
            inside.append(f"{first} to {last}")
        else:
            yield f"slur note {first} to note {last} of {_measure(rhythm, slur.last[0]).lower()}"
    if inside:
        yield f"slur notes {_listed(inside)}"


def _signs(rhythm: Rhythm, index: int) -> Iterator[str]:
    for sign, name in _NAMES.items():
        numbers = [
            str(_number(rhythm, (index, place)))
            for place, note in enumerate(rhythm.measures[index])
            if sign in note.articulations
        ]
        if numbers:
            yield f"{name} on {'note' if len(numbers) == 1 else 'notes'} {_listed(numbers)}"


def _number(rhythm: Rhythm, place: Place) -> int:
    """Give the number of a note in its measure, from 1, rests left out."""
    index, at = place
    return sum(not note.rest for note in rhythm.measures[index][: at + 1])


def _listed(words: list[str]) -> str:
    return " and ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} and {words[-1]}"  # noqa: PLR2004
