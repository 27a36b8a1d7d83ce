"""How the notes of a rhythm are played, in words: what slurs, dots and accents show the eye."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.rhythm import Articulation, Rhythm
from handbook.domain.slurs import Place, slurs
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.formats import in_a_row, with_clauses

_TOLD = (
    Articulation.STACCATO,
    Articulation.TENUTO,
    Articulation.ACCENT,
    Articulation.STRONG_ACCENT,
)


def articulation_words(rhythm: Rhythm) -> tuple[str, ...]:
    """Say what is slurred, staccato, tenuto or accented, one sentence a measure that has any.

    Notes are numbered within their measure, rests left out: `Measure 2: slur notes 3 to 4,
    staccato on notes 1 and 2.` A slur is told in the measure where it begins.
    """
    said = []
    for index in range(len(rhythm.measures)):
        parts = [*_slurs(rhythm, index), *_signs(rhythm, index)]
        if parts:
            said.append(_in_measure(rhythm.number(index), with_clauses(parts)))
    return tuple(said)


def _in_measure(number: int, played: str) -> str:
    if not number:
        # Translators: the notes before the first whole measure
        return gettext("Pickup: %(played)s.", played=played)
    return gettext("Measure %(number)s: %(played)s.", number=number, played=played)


def _slurs(rhythm: Rhythm, index: int) -> Iterator[str]:
    inside = []
    for slur in slurs(rhythm):
        if slur.first[0] != index:
            continue
        first, last = _number(rhythm, slur.first), _number(rhythm, slur.last)
        if slur.last[0] == index:
            # Translators: numbers of notes that are slurred
            inside.append(gettext("%(first)s to %(last)s", first=first, last=last))
        else:
            yield gettext(
                "slur note %(first)s to note %(last)s of measure %(number)s",
                first=first,
                last=last,
                number=rhythm.number(slur.last[0]),
            )
    if inside:
        yield gettext("slur notes %(ranges)s", ranges=in_a_row(inside))


def _signs(rhythm: Rhythm, index: int) -> Iterator[str]:
    for sign in _TOLD:
        numbers = [
            str(_number(rhythm, (index, place)))
            for place, note in enumerate(rhythm.measures[index])
            if sign in note.articulations
        ]
        if numbers:
            yield _on_notes(sign, len(numbers), in_a_row(numbers))


def _on_notes(sign: Articulation, count: int, notes: str) -> str:
    match sign:
        case Articulation.STACCATO:
            return ngettext(
                "staccato on note %(notes)s", "staccato on notes %(notes)s", count, notes=notes
            )
        case Articulation.TENUTO:
            return ngettext(
                "tenuto on note %(notes)s", "tenuto on notes %(notes)s", count, notes=notes
            )
        case Articulation.ACCENT:
            return ngettext(
                "accent on note %(notes)s", "accent on notes %(notes)s", count, notes=notes
            )
        case Articulation.STRONG_ACCENT:
            return ngettext(
                "strong accent on note %(notes)s",
                "strong accent on notes %(notes)s",
                count,
                notes=notes,
            )


def _number(rhythm: Rhythm, place: Place) -> int:
    """Give the number of a note in its measure, from 1, rests left out."""
    index, at = place
    return sum(not note.rest for note in rhythm.measures[index][: at + 1])
