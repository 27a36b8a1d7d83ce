"""Note values, rhythms and tempos in words of the page's language."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from handbook.domain.rhythm import VALUES, RhythmNote
from handbook.domain.values.tempo import BEAT_UNITS, LooseTempo, Tempo
from handbook.outputs.i18n import gettext, ngettext, pgettext

_VALUE, _RHYTHM, _LENGTH = "note value", "rhythm", "length"
_SHORTER = "thirty-second"  # half of the shortest beat, as a click divides it
_TUPLETS = {
    2: "duplet %(note)s",
    3: "triplet %(note)s",
    4: "quadruplet %(note)s",
    5: "quintuplet %(note)s",
    6: "sextuplet %(note)s",
    7: "septuplet %(note)s",
    9: "nonuplet %(note)s",
}
_MOST_DOTS = 2


def messages() -> Iterator[tuple[str, str]]:
    """Give each word of these tables with its context."""
    yield from ((_VALUE, name) for name in (*BEAT_UNITS, _SHORTER))
    for value in VALUES:
        for dots in range(_MOST_DOTS + 1):
            note = RhythmNote(value, dots)
            yield _RHYTHM, note.name
            yield _RHYTHM, RhythmNote(value, dots, rest=True).name
            yield _LENGTH, _with_article(note)
    yield from ((_RHYTHM, message) for message in _TUPLETS.values())


def note_value(name: str) -> str:
    """Say the name of a beat or of a division of it: `dotted quarter`."""
    return pgettext(_VALUE, name)


def tempo_words(tempo: Tempo) -> str:
    """Say a tempo without signs: `quarter = 96`, `quarter = 72-80`, `free, about quarter = 60`."""
    if not isinstance(tempo, LooseTempo):
        return f"{note_value(tempo.beat.name)} = {tempo.bpm_text}"
    if not tempo.free:
        return f"{note_value(tempo.beat.name)} = {tempo.least}-{tempo.most}"
    if not tempo.stated:
        return pgettext("tempo", "free")
    about = Tempo(tempo.beat, tempo.bpm)
    return pgettext("tempo", "free, about %(tempo)s", tempo=tempo_words(about))


def bpm_words(tempo: Tempo) -> str:
    """Say the number of a tempo as it is read after `at`: `96`, `72–80`, `about 60`, `a free tempo`."""
    if not (isinstance(tempo, LooseTempo) and tempo.free):
        return tempo.bpm_text
    if not tempo.stated:
        # Translators: a passage is played at it, in place of a number of the metronome.
        return pgettext("tempo", "a free tempo")
    return pgettext("tempo", "about %(bpm)s", bpm=Tempo(tempo.beat, tempo.bpm).bpm_text)


def note_words(note: RhythmNote) -> str:
    """Say a note or rest of a rhythm: `dotted quarter note`, `eighth rest`, `triplet eighth note`."""
    alone = pgettext(_RHYTHM, RhythmNote(note.value, note.dots, rest=note.rest).name)
    return pgettext(_RHYTHM, _TUPLETS[note.tuplet.count], note=alone) if note.tuplet else alone


def length_words(quarters: Fraction) -> str:
    """Say a length as a note: `an eighth note`, else in quarters, `5/6 of a quarter note`."""
    for value in VALUES:
        for dots in range(_MOST_DOTS + 1):
            note = RhythmNote(value, dots)
            if note.quarters == quarters:
                return pgettext(_LENGTH, _with_article(note))
    if quarters.denominator == 1:
        return ngettext("%(num)s quarter note", "%(num)s quarter notes", quarters.numerator)
    return gettext("%(share)s of a quarter note", share=quarters)


def _with_article(note: RhythmNote) -> str:
    return f"{'an' if note.name[0] in 'aeiou' else 'a'} {note.name}"
