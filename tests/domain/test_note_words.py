"""Notes inside sentences, compared with music21's transpositions."""

from __future__ import annotations

import pytest
from music21 import instrument as m21_instrument
from music21 import interval, pitch

from handbook.domain.note_words import Naming, as_read, in_concert_pitch, unreadable_notes
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


NAMING = Naming(str, lambda note: f"concert {note}")
NOTES = ["Bb4", "F#4", "C5", "Ab3", "E4", "Db5", "B3"]


@pytest.mark.parametrize("name", ORACLE)
@pytest.mark.parametrize("note", NOTES)
def test_a_note_in_braces_is_read_as_music21_writes_it(name: str, note: str) -> None:
    sounds = ORACLE[name]().transposition or interval.Interval("P1")  # type: ignore[no-untyped-call]
    wanted = pitch.Pitch(note.replace("b", "-", 1)).transpose(sounds.reverse())  # type: ignore[no-untyped-call]
    shown = wanted.nameWithOctave.replace("-", "♭").replace("#", "♯")
    told = as_read(f"Watch {{{note}}} and {{{note[:-1]}}}.", NAMING, instrument(name), None)
    assert told == f"Watch {shown} and {shown[:-1]}."


@pytest.mark.parametrize(
    ("words", "who", "told"),
    [
        ("{Bb} is low.", "trumpet", "C is low."),
        ("{Bb} is low.", "alto-saxophone", "G is low."),
        ("Count, then {Eb}.", "horn", "Count, then B♭."),
        ("Mira el {Bb}.", "trumpet", "Mira el C."),
        ("{Ab} es nueva.", "clarinet", "B♭ es nueva."),
        ("Es {F#}.", "flute", "Es F♯."),
        # The sounding note for everyone, where the sentence says so.
        ("Listen for concert {Bb}.", "trumpet", "Listen for concert B♭."),
        ("Concert {Bb} first.", "trumpet", "Concert B♭ first."),
        ("Oye el {Bb} real.", "trumpet", "Oye el B♭ real."),
        # Nothing to transpose for these.
        ("Roll on {Bb}.", "snare-drum", "Roll on concert B♭."),
        ("No notes here.", "trumpet", "No notes here."),
        ("{later}", "trumpet", "{later}"),  # told by a check
    ],
)
def test_what_a_player_is_told(words: str, who: str, told: str) -> None:
    assert as_read(words, NAMING, instrument(who), None) == told


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("Watch {Bb} and {F#4}.", "Watch concert B♭ and concert F♯4."),
        ("{Bb}, then stop. {Eb} next.", "Concert B♭, then stop. Concert E♭ next."),
        ("{B-flat} and {B flat}", "Concert B♭ and concert B♭"),
        ("¡{Bb}!", "¡Concert B♭!"),
        ("Oye el {Bb} real.", "Oye el B♭ real."),
        ("Start on concert {Bb}.", "Start on concert B♭."),
    ],
)
def test_pages_for_all_say_that_it_is_concert_pitch(words: str, told: str) -> None:
    assert in_concert_pitch(words, NAMING) == told


def test_the_key_spells_the_note() -> None:
    """Concert B major is A flat major for an alto saxophone, and its D sharp is written C."""
    key = parse_concert_key("B major")
    assert as_read("{D#} {D#4}", NAMING, instrument("alto-saxophone"), key) == "C C5"


def test_a_player_of_no_known_instrument_is_told_concert_pitch() -> None:
    assert as_read("{Bb}", NAMING, None, None) == "Concert B♭"


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
