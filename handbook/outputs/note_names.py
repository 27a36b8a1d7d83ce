"""Notes, keys and clefs in words, as the language of the moment says them.

`sign` is for the eye (`B♭`, `B♭ major`), `spoken` for the ear (`B flat`, `B flat major`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from handbook.domain.circle_of_fifths import signature
from handbook.domain.scales import ScaleForm
from handbook.domain.tables.instruments import Clef
from handbook.domain.tables.note_names import SYLLABLES, NoteNames, with_h
from handbook.domain.values.keys import Mode, SpelledKey
from handbook.domain.values.pitch import NoteName, SpelledPitch
from handbook.outputs.i18n import Speech, gettext, gettext_noop, ngettext, pgettext, speech
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.i18n.languages import direction

Named = NoteName | SpelledPitch | SpelledKey

_KEYS = {
    # Translators: a key; the tonic is the name of a note
    Mode.MAJOR: gettext_noop("%(tonic)s major"),
    Mode.MINOR: gettext_noop("%(tonic)s minor"),
    Mode.IONIAN: gettext_noop("%(tonic)s ionian"),
    Mode.DORIAN: gettext_noop("%(tonic)s dorian"),
    Mode.PHRYGIAN: gettext_noop("%(tonic)s phrygian"),
    Mode.LYDIAN: gettext_noop("%(tonic)s lydian"),
    Mode.MIXOLYDIAN: gettext_noop("%(tonic)s mixolydian"),
    Mode.AEOLIAN: gettext_noop("%(tonic)s aeolian"),
    Mode.LOCRIAN: gettext_noop("%(tonic)s locrian"),
}
_LEFT_TO_RIGHT = "\u200e"
_ACCIDENTALS = {  # said with the context "note"; tables.py lists them
    1: "%(letter)s sharp",
    -1: "%(letter)s flat",
    2: "%(letter)s double sharp",
    -2: "%(letter)s double flat",
    3: "%(letter)s triple sharp",
    -3: "%(letter)s triple flat",
}
_CLEFS = {
    Clef.TREBLE: gettext_noop("treble clef"),
    Clef.BASS: gettext_noop("bass clef"),
    Clef.GRAND: gettext_noop("treble and bass clef"),
    Clef.PERCUSSION: gettext_noop("percussion clef"),
}


def sign(named: Named) -> str:
    """Write a note, a pitch or a key: `B♭`, `B♭4`, `B♭ major`."""
    return _sign(named, speech())


def spoken(named: Named) -> str:
    """Say a note, a pitch or a key as it is read aloud: `B flat`, `B flat 4`, `B flat major`."""
    return _spoken(named, speech())


def concert_sign(named: NoteName | SpelledPitch) -> str:
    """Write a note in a sentence, and that it is concert pitch."""
    return pgettext("a note among words", "concert %(note)s", note=sign(named))


def natural_sign(note: NoteName) -> str:
    """Write a note beside another of its letter: `C♮`."""
    return sign(note) if speech().notes is NoteNames.LETTERS_WITH_H else f"{sign(note)}♮"


def natural_spoken(note: NoteName) -> str:
    """Say a note beside another of its letter: `C natural`."""
    if speech().notes is NoteNames.LETTERS_WITH_H:
        return spoken(note)
    return pgettext("note", "%(letter)s natural", letter=spoken(note))


def signs(notes: Iterable[Named]) -> str:
    """Write notes in a row: `B♭, E♭`."""
    return with_commas(map(sign, notes))


def signature_words(key: SpelledKey) -> str:
    """Say a key signature: `2 flats: B♭, E♭`, `1 sharp: F♯`, `no sharps or flats`."""
    return _signature(key, signs(signature(key)))


def signature_spoken(key: SpelledKey) -> str:
    """Say a key signature as it is read aloud: `2 flats: B flat, E flat`."""
    return _signature(key, with_commas(map(spoken, signature(key))))


def clef_words(clef: Clef) -> str:
    """Name a clef: `treble clef`."""
    return gettext(_CLEFS[clef])


def form_words(form: ScaleForm) -> str:
    """Name the form of a scale: `harmonic`; nothing for the one of the key."""
    match form:
        case ScaleForm.HARMONIC:
            return pgettext("scale", "harmonic")
        case ScaleForm.MELODIC:
            return pgettext("scale", "melodic")
        case ScaleForm.CHROMATIC:
            return pgettext("scale", "chromatic")
        case _:
            return ""


def _signature(key: SpelledKey, notes: str) -> str:
    number = abs(key.fifths)
    if not number:
        return gettext("no sharps or flats")
    if key.fifths > 0:
        return ngettext(
            "%(num)s sharp: %(notes)s", "%(num)s sharps: %(notes)s", number, notes=notes
        )
    return ngettext("%(num)s flat: %(notes)s", "%(num)s flats: %(notes)s", number, notes=notes)


@lru_cache(maxsize=4096)
def _sign(named: Named, own: Speech) -> str:
    names = own.notes
    if isinstance(named, SpelledKey):
        return gettext(_KEYS[named.mode], tonic=sign(named.tonic))
    if isinstance(named, SpelledPitch):
        return f"{sign(named.name)}{named.octave}"
    if names is NoteNames.LETTERS_WITH_H:
        return with_h(named)
    shown = _letter(named, names) + str(named)[1:]
    # A sign at the end of Latin letters would go to their other side among letters from right to left.
    turns = named.alter and shown[0].isascii() and direction(own.code) == "rtl"
    return f"{shown}{_LEFT_TO_RIGHT}" if turns else shown


@lru_cache(maxsize=4096)
def _spoken(named: Named, own: Speech) -> str:
    if isinstance(named, SpelledKey):
        return gettext(_KEYS[named.mode], tonic=spoken(named.tonic))
    if isinstance(named, SpelledPitch):
        return f"{spoken(named.name)} {named.octave}"
    if own.notes is NoteNames.LETTERS_WITH_H:
        return with_h(named)
    letter = _letter(named, own.notes)
    return pgettext("note", _ACCIDENTALS[named.alter], letter=letter) if named.alter else letter


def _letter(note: NoteName, names: NoteNames) -> str:
    """Give what stands for the letter of a note."""
    if names is NoteNames.DO_RE_MI:
        return pgettext("solfège", SYLLABLES[note.letter])
    return note.letter


def note_messages() -> Iterator[tuple[str, str]]:
    """Give syllables, and what is said of a letter, with their contexts, for the catalogues."""
    yield from (("note", said) for said in _ACCIDENTALS.values())
    yield from (("solfège", syllable) for syllable in SYLLABLES.values())
