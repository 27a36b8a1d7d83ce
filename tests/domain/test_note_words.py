"""Notes inside sentences, compared with music21's transpositions.

Names in Spanish are common practice, no source.
"""

from __future__ import annotations

import pytest
from music21 import instrument as m21_instrument
from music21 import interval, pitch

from handbook.domain.note_words import as_read, in_concert_pitch, unreadable_notes
from handbook.domain.tables.instruments import instrument
from handbook.domain.values.keys import parse_concert_key

ORACLE = {
    "flute": m21_instrument.Flute,
    "piccolo": m21_instrument.Piccolo,
    "clarinet": m21_instrument.Clarinet,
    "bass-clarinet": m21_instrument.BassClarinet,
    "alto-saxophone": m21_instrument.AltoSaxophone,
    "tenor-saxophone": m21_instrument.TenorSaxophone,
    "baritone-saxophone": m21_instrument.BaritoneSaxophone,
    "trumpet": m21_instrument.Trumpet,
    "horn": m21_instrument.Horn,
    "trombone": m21_instrument.Trombone,
    "tuba": m21_instrument.Tuba,
    "string-bass": m21_instrument.Contrabass,
}
NOTES = ["Bb4", "F#4", "C5", "Ab3", "E4", "Db5", "B3"]


@pytest.mark.parametrize("name", ORACLE)
@pytest.mark.parametrize("note", NOTES)
def test_a_note_in_braces_is_read_as_music21_writes_it(name: str, note: str) -> None:
    sounds = ORACLE[name]().transposition or interval.Interval("P1")  # type: ignore[no-untyped-call]
    wanted = pitch.Pitch(note.replace("b", "-", 1)).transpose(sounds.reverse())  # type: ignore[no-untyped-call]
    shown = wanted.nameWithOctave.replace("-", "♭").replace("#", "♯")
    told = as_read(f"Watch {{{note}}} and {{{note[:-1]}}}.", "en", instrument(name), None)
    assert told == f"Watch {shown} and {shown[:-1]}."


@pytest.mark.parametrize(
    ("words", "language", "who", "told"),
    [
        ("{Bb} is low.", "en", "trumpet", "C is low."),
        ("{Bb} is low.", "en", "alto-saxophone", "G is low."),
        ("Count, then {Eb}.", "en", "horn", "Count, then B♭."),
        ("Mira el {Bb}.", "es", "trumpet", "Mira el do."),
        ("{Ab} es nueva.", "es", "clarinet", "Si♭ es nueva."),
        ("Es {F#}.", "es-MX", "flute", "Es fa♯."),
        # The sounding note for everyone, where the sentence says so.
        ("Listen for concert {Bb}.", "en", "trumpet", "Listen for concert B♭."),
        ("Concert {Bb} first.", "en", "trumpet", "Concert B♭ first."),
        ("Oye el {Bb} real.", "es", "trumpet", "Oye el si♭ real."),
        # Nothing to transpose for these.
        ("Roll on {Bb}.", "en", "snare-drum", "Roll on concert B♭."),
        ("No notes here.", "en", "trumpet", "No notes here."),
        ("{later}", "en", "trumpet", "{later}"),  # told by a check
    ],
)
def test_what_a_player_is_told(words: str, language: str, who: str, told: str) -> None:
    assert as_read(words, language, instrument(who), None) == told


@pytest.mark.parametrize(
    ("words", "language", "told"),
    [
        ("Watch {Bb} and {F#4}.", "en", "Watch concert B♭ and concert F♯4."),
        ("{Bb}, then stop. {Eb} next.", "en", "Concert B♭, then stop. Concert E♭ next."),
        ("{B-flat} and {B flat}", "en", "Concert B♭ and concert B♭"),
        ("El {Bb} y el {C}.", "es", "El si♭ real y el do real."),
        ("¡{Bb}!", "es", "¡Si♭ real!"),
        ("Oye el {Bb} real.", "es", "Oye el si♭ real."),
        ("Start on concert {Bb}.", "en", "Start on concert B♭."),
    ],
)
def test_pages_for_all_say_that_it_is_concert_pitch(words: str, language: str, told: str) -> None:
    assert in_concert_pitch(words, language) == told


def test_the_key_spells_the_note() -> None:
    """Concert B major is A flat major for an alto saxophone, and its D sharp is written C."""
    key = parse_concert_key("B major")
    assert as_read("{D#} {D#4}", "en", instrument("alto-saxophone"), key) == "C C5"


def test_a_player_of_no_known_instrument_is_told_concert_pitch() -> None:
    assert as_read("{Bb}", "en", None, None) == "Concert B♭"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("{Bb} {F#4} {E flat} {c}", []),
        ("no braces", []),
        ("{slow}", [("{slow}", ())]),
        ("{}", [("{}", ())]),
        ("{H}", [("{H}", ())]),
        ("{B flt}", [("{B flt}", ())]),
        ("{F#, C#}", [("{F#, C#}", ("{F#}", "{C#}"))]),
        ("{Bb and E flat}", [("{Bb and E flat}", ("{Bb}", "{E flat}"))]),
        ("{Bb Eb}", [("{Bb Eb}", ("{Bb}", "{Eb}"))]),
        ("then {Bb", [("{Bb", ("{Bb}",))]),
        ("{C11}", [("{C11}", ())]),
    ],
)
def test_what_is_no_note(words: str, told: list[tuple[str, tuple[str, ...]]]) -> None:
    assert list(unreadable_notes(words)) == told
