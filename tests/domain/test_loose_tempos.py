"""Ranges and free tempos of a form, and durations with them, by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from handbook.domain.timing import FormPart, format_duration, part_seconds
from handbook.domain.values.tempo import (
    BEAT_UNITS,
    LooseTempo,
    Tempo,
    parse_part_tempo,
    parse_tempo,
)
from handbook.domain.values.unreadable import UnreadableError


@pytest.mark.parametrize(
    ("text", "bpm", "least", "most", "shown"),
    [
        ("quarter = 72-80", 76, 72, 80, "quarter = 72-80"),
        ("dotted quarter = 100 to 112", 106, 100, 112, "dotted quarter = 100-112"),
        ("♩. = 60–69 bpm", 64, 60, 69, "dotted quarter = 60-69"),  # the middle, 64.5, rounded down
        ("Half=52 - 53", 52, 52, 53, "half = 52-53"),
    ],
)
def test_the_middle_of_a_range_is_reckoned_with(
    text: str, bpm: int, least: int, most: int, shown: str
) -> None:
    tempo = parse_part_tempo(text)
    assert isinstance(tempo, LooseTempo)
    assert (tempo.bpm, tempo.least, tempo.most) == (
        Fraction(bpm),
        Fraction(least),
        Fraction(most),
    )
    assert (tempo.about, tempo.free) == (True, False)
    assert tempo.plain == Tempo(tempo.beat, Fraction(bpm))
    assert str(tempo) == shown
    assert parse_part_tempo(str(tempo)) == tempo


@pytest.mark.parametrize(
    ("text", "bpm", "shown", "read"),
    [
        ("free", 60, "free", "a free tempo"),
        ("Freely", 60, "free", "a free tempo"),
        ("free, about quarter = 54", 54, "free, about quarter = 54", "about 54"),
        ("free about half = 40", 40, "free, about half = 40", "about 40"),
    ],
)
def test_what_is_free_has_a_number_at_most_to_reckon_with(
    text: str, bpm: int, shown: str, read: str
) -> None:
    tempo = parse_part_tempo(text)
    assert (tempo.bpm, tempo.free, tempo.about) == (Fraction(bpm), True, True)
    assert (str(tempo), tempo.bpm_text) == (shown, read)
    assert tempo.plain == tempo


def test_a_tempo_is_read_as_ever() -> None:
    for text in ("quarter = 96", "dotted half = 60.5", "♪ = 120"):
        tempo = parse_part_tempo(text)
        assert tempo == parse_tempo(text)
        assert (tempo.free, tempo.about, tempo.plain) == (False, False, tempo)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("quarter = 80-72", ("quarter = 72-80",)),
        ("quarter = 72-72", ("quarter = 72-72",)),
        ("quarter = 5-80", ()),
        ("free, about 60", ()),
        ("free, about", ("quarter = 96", "dotted quarter = 80")),
        ("rubato", ("quarter = 96", "dotted quarter = 80")),
    ],
)
def test_what_cannot_be_played_is_refused(text: str, meant: tuple[str, ...]) -> None:
    if text == "free, about 60":  # a bare number is for the field to refuse
        assert parse_part_tempo(text).bpm == 60
        return
    with pytest.raises(UnreadableError) as refused:
        parse_part_tempo(text)
    if meant != ("quarter = 72-72",):
        assert refused.value.suggestions == meant


def test_a_part_lasts_as_long_as_at_the_middle() -> None:
    # 32 measures of 4/4 are 128 quarters; at 76 a minute they last 128 * 60 / 76 s = 101.05 s.
    tempo = parse_part_tempo("quarter = 72-80")
    assert part_seconds(FormPart(Fraction(128), tempo)) == pytest.approx(101.0526, abs=1e-4)
    assert format_duration(101.05, about=True) == "about 1 min 40 s"
    assert format_duration(101.05) == "1 min 40 s"
    free = LooseTempo(BEAT_UNITS["quarter"], Fraction(60), free=True)
    assert part_seconds(FormPart(Fraction(30), free)) == 30
