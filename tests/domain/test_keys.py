"""Keys, against music21 10.5.1."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from music21 import key as m21_key

from handbook.domain.values.keys import ConcertKey, Mode, SpelledKey, WrittenKey, parse_concert_key
from handbook.domain.values.pitch import NoteName
from handbook.domain.values.unreadable import UnreadableError
from tests.oracles.keys import parse_written_key


@pytest.mark.parametrize(
    ("text", "shown", "spoken", "fifths"),
    [
        ("Bb major", "B♭ major", "B flat major", -2),
        ("B-flat major", "B♭ major", "B flat major", -2),
        ("b flat Major", "B♭ major", "B flat major", -2),
        ("B♭-major", "B♭ major", "B flat major", -2),
        ("concert Bb major", "B♭ major", "B flat major", -2),
        ("G minor", "G minor", "G minor", -2),
        ("g min", "G minor", "G minor", -2),
        ("F sharp minor", "F♯ minor", "F sharp minor", 3),
        ("D dorian", "D dorian", "D dorian", 0),
        ("F lydian", "F lydian", "F lydian", 0),
        ("Eb mixolydian", "E♭ mixolydian", "E flat mixolydian", -4),
        ("E phrygian", "E phrygian", "E phrygian", 0),
        ("A-flat major", "A♭ major", "A flat major", -4),
        ("a major", "A major", "A major", 3),
        ("Cb major", "C♭ major", "C flat major", -7),
    ],
)
def test_key_is_read_as_a_director_types_it(
    text: str, shown: str, spoken: str, fifths: int
) -> None:
    key = parse_concert_key(text)
    assert (str(key), key.spoken, key.fifths) == (shown, spoken, fifths)


@pytest.mark.parametrize(
    ("text", "message", "suggestions"),
    [
        ("Bb", "does not say in words whether it is major or minor", ("Bb major", "Bb minor")),
        ("B flat", "does not say in words whether it is major or minor", ("Bb major", "Bb minor")),
        ("F#m", "does not say in words whether it is major or minor", ("F# minor",)),
        ("concert F", "does not say in words whether it is major or minor", ("F major", "F minor")),
        ("G# major", "would need 8 sharps; a key signature holds 7", ("Ab major",)),
        ("Fb major", "would need 8 flats; a key signature holds 7", ("E major",)),
        ("Ab locrian", "would need 9 flats; a key signature holds 7", ("G# locrian",)),
        ("H minor", "names no key", ("Bb major", "G minor")),
        ("", "names no key", ("Bb major", "G minor")),
        ("Bb4 major", "names no key", ("Bb major", "G minor")),
    ],
)
def test_no_key_is_refused_with_one_that_works(
    text: str, message: str, suggestions: tuple[str, ...]
) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_concert_key(text)
    assert refused.value.message == f"`{text}` {message}"
    assert refused.value.suggestions == suggestions
    assert all(parse_concert_key(offered) for offered in suggestions)


def test_unknown_mode_lists_the_known_ones() -> None:
    with pytest.raises(UnreadableError, match="`blues` is no mode that is known here") as refused:
        parse_written_key("Bb blues")
    assert refused.value.suggestions[:3] == ("Bb major", "Bb minor", "Bb ionian")


@pytest.mark.parametrize("mode", list(Mode))
@pytest.mark.parametrize("fifths", range(-7, 8))
def test_signature_agrees_with_music21(fifths: int, mode: Mode) -> None:
    key = WrittenKey.from_fifths(fifths, mode)
    tonic = key.tonic.typed.replace("b", "-")
    assert m21_key.Key(tonic, mode.value).sharps == key.fifths == fifths


def test_more_than_seven_accidentals_is_our_own_bug() -> None:
    with pytest.raises(ValueError, match="would need 8"):
        ConcertKey(NoteName("G", 1))


def test_sounding_and_written_keys_are_never_equal() -> None:
    concert: SpelledKey = parse_concert_key("C major")
    assert concert != parse_written_key("C major")


SWAPS = """\
from handbook.domain.values.keys import ConcertKey, WrittenKey, parse_concert_key
from handbook.domain.values.pitch import ConcertPitch, WrittenPitch, parse_concert_pitch

key: WrittenKey = parse_concert_key("C major")
pitch: WrittenPitch = parse_concert_pitch("C4")
"""


def test_type_checker_refuses_a_concert_value_where_a_written_one_is_wanted(tmp_path: Path) -> None:
    snippet = tmp_path / "swap.py"
    snippet.write_text(SWAPS, encoding="utf-8")
    command = [sys.executable, "-m", "mypy", "--strict", "--cache-dir", str(tmp_path), str(snippet)]
    found = subprocess.run(command, capture_output=True, text=True, check=False)
    assert found.returncode == 1
    assert found.stdout.count('variable has type "Written') == 2, found.stdout
