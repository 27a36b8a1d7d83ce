"""Brass fingerings, against the usual charts and the arithmetic of added length."""

from __future__ import annotations

import math

import pytest

from handbook.domain.fingerings import (
    ALTERNATES_WITHIN,
    EACH_VALVE_EXACT,
    added_length,
    alternates,
    first_choice,
    partial_off_by,
    valves_sharp_by,
)
from handbook.domain.tables.brass import PARTIAL_SEMITONES
from handbook.domain.values.pitch import WrittenPitch, parse_written_pitch

# Standard first choices: common practice, no source. Fingering preference is from memory;
# that each entry lands on an open partial is reckoned below.
TRUMPET = (
    "F#3:123 G3:13 Ab3:23 A3:12 Bb3:1 B3:2 C4:0 C#4:123 D4:13 Eb4:23 E4:12 F4:1 F#4:2 G4:0 "
    "Ab4:23 A4:12 Bb4:1 B4:2 C5:0 C#5:12 D5:1 Eb5:2 E5:0 F5:1 F#5:2 G5:0 Ab5:23 A5:12 Bb5:1 "
    "B5:2 C6:0"
)
HORN_F_SIDE = (
    "C3:0 C#3:123 D3:13 Eb3:23 E3:12 F3:1 F#3:2 G3:0 Ab3:23 A3:12 Bb3:1 B3:2 C4:0 C#4:12 D4:1 "
    "Eb4:2 E4:0 F4:1 F#4:2 G4:0 Ab4:23 A4:12 Bb4:1 B4:2 C5:0 C#5:12 D5:1 Eb5:2 E5:0 F5:1 F#5:2 "
    "G5:0 Ab5:23 A5:12"
)
HORN_B_FLAT_SIDE = (
    "Ab4:23 A4:12 Bb4:1 B4:2 C5:0 C#5:23 D5:12 Eb5:1 E5:2 F5:0 F#5:12 G5:1 Ab5:2 A5:0"
)
TROMBONE = (
    "E2:7 F2:6 Gb2:5 G2:4 Ab2:3 A2:2 Bb2:1 B2:7 C3:6 Db3:5 D3:4 Eb3:3 E3:2 F3:1 Gb3:5 G3:4 "
    "Ab3:3 A3:2 Bb3:1 B3:4 C4:3 Db4:2 D4:1 Eb4:3 E4:2 F4:1 Gb4:5 G4:4 Ab4:3 A4:2 Bb4:1"
)
EUPHONIUM = (
    "E2:123 F2:13 Gb2:23 G2:12 Ab2:1 A2:2 Bb2:0 B2:123 C3:13 Db3:23 D3:12 Eb3:1 E3:2 F3:0 "
    "Gb3:23 G3:12 Ab3:1 A3:2 Bb3:0 B3:12 C4:1 Db4:2 D4:0 Eb4:1 E4:2 F4:0 Gb4:23 G4:12 Ab4:1 "
    "A4:2 Bb4:0"
)


def chart(text: str, octaves: int = 0) -> list[tuple[WrittenPitch, str]]:
    rows = []
    for entry in text.split():
        name, _, shown = entry.partition(":")
        pitch = parse_written_pitch(name)
        rows.append((WrittenPitch(pitch.name, pitch.octave + octaves), shown))
    return rows


# The number of entries each chart holds.
CHARTS = [
    ("trumpet", chart(TRUMPET), 31),
    ("cornet", chart(TRUMPET), 31),
    ("euphonium-treble-clef", chart(TRUMPET), 31),
    ("trombone", chart(TROMBONE), 31),
    ("euphonium", chart(EUPHONIUM), 31),
    ("tuba", chart(EUPHONIUM, octaves=-1), 31),
]


@pytest.mark.parametrize(
    ("instrument_id", "pitch", "shown"),
    [(name, pitch, shown) for name, rows, _ in CHARTS for pitch, shown in rows],
    ids=str,
)
def test_first_choice(instrument_id: str, pitch: WrittenPitch, shown: str) -> None:
    found = first_choice(pitch, instrument_id)
    assert found is not None
    assert found.shown == shown


@pytest.mark.parametrize(("pitch", "shown"), chart(HORN_F_SIDE), ids=str)
def test_first_choice_on_a_single_f_horn(pitch: WrittenPitch, shown: str) -> None:
    found = first_choice(pitch, "horn", single_horn=True)
    assert found is not None
    assert (found.shown, found.tube.name) == (shown, "F side")


@pytest.mark.parametrize(("pitch", "shown"), chart(HORN_B_FLAT_SIDE), ids=str)
def test_double_horn_changes_sides_at_a_flat_4(pitch: WrittenPitch, shown: str) -> None:
    found = first_choice(pitch, "horn")
    assert found is not None
    assert (found.shown, found.tube.name) == (shown, "B♭ side")


def test_double_horn_stays_on_the_f_side_below() -> None:
    found = first_choice(parse_written_pitch("G4"), "horn")
    assert found is not None
    assert (found.shown, found.tube.name) == ("0", "F side")


def test_charts_are_whole() -> None:
    assert [len(rows) for _, rows, _ in CHARTS] == [count for _, _, count in CHARTS]
    assert (len(chart(HORN_F_SIDE)), len(chart(HORN_B_FLAT_SIDE))) == (34, 14)


@pytest.mark.parametrize("side", [HORN_F_SIDE, HORN_B_FLAT_SIDE])
def test_horn_choices_land_on_partials_within_15_cents(side: str) -> None:
    for pitch, _ in chart(side):
        found = first_choice(pitch, "horn", single_horn=side is HORN_F_SIDE)
        assert found is not None
        assert abs(partial_off_by(found.partial)) < 15


@pytest.mark.parametrize(("name", "rows", "_count"), CHARTS)
def test_choices_land_on_partials_within_15_cents(
    name: str, rows: list[tuple[WrittenPitch, str]], _count: int
) -> None:
    for pitch, _ in rows:
        found = first_choice(pitch, name)
        assert found is not None
        assert abs(partial_off_by(found.partial)) < 15


@pytest.mark.parametrize(
    ("instrument_id", "pitch"),
    [
        ("trumpet", "F3"),
        ("trumpet", "C#6"),
        ("trombone", "Eb2"),
        ("tuba", "Eb1"),
        ("flute", "C5"),
        ("snare-drum", "C5"),
    ],
)
def test_outside_the_chart_there_is_none(instrument_id: str, pitch: str) -> None:
    assert first_choice(parse_written_pitch(pitch), instrument_id) is None


# With a fourth valve, 4 stands for 1+3 and 2+4 for 1+2+3: common practice, no source.
@pytest.mark.parametrize(
    ("pitch", "shown"),
    [
        ("C3", "4"),
        ("B2", "24"),
        ("F2", "4"),
        ("E2", "24"),
        ("Eb2", "14"),
        ("Bb2", "0"),
        ("D3", "12"),
    ],
)
def test_fourth_valve(pitch: str, shown: str) -> None:
    found = first_choice(parse_written_pitch(pitch), "euphonium", valves=4)
    assert found is not None
    assert found.shown == shown


@pytest.mark.parametrize(
    ("instrument_id", "pitch", "shown"),
    [
        ("trombone", "Gb4", "♯3"),  # 5 or raised 3: players differ
        ("trombone", "G4", "♯2"),  # 4 or raised 2
        ("trombone", "F4", "6"),
        ("trombone", "D4", "4"),
        ("trombone", "Bb3", "5"),
        ("trumpet", "E4", "3"),
        ("trumpet", "E5", "12"),
        ("trumpet", "A4", "3"),
        ("horn", "C5", "0"),
    ],
)
def test_alternates(instrument_id: str, pitch: str, shown: str) -> None:
    assert shown in [way.shown for way in alternates(parse_written_pitch(pitch), instrument_id)]


# Alternates that full fingering charts list beside the first choice: general knowledge of the
# trade, from memory. Each note has just these, in this order; `-` is none.
PUBLISHED = {
    ("trumpet", 3): "G4:- A4:3 E4:3 B4:13 C5:23 Eb5:23 E5:12,3 A5:3 F5:- D4:-",
    ("euphonium", 3): "G3:3 D3:3 A3:13 B3:3 Bb3:23 Db4:23 D4:12,3 F3:-",
    ("euphonium", 4): "B3:3 B2:- C#3:- F3:4 C4:4 Ab3:24 A3:4,13 F4:4",
    ("tuba", 4): "B2:3 B1:- C#2:- F2:4 C3:4 F3:4",
    (
        "trombone",
        3,
    ): "E3:7 F3:6 Bb3:5 B3:7 C4:6 Db4:5 D4:4,♯7 Eb4:♯6 E4:♯5,7 F4:♯4,6 Gb4:♯3 G4:♯2 Ab4:-",
}


@pytest.mark.parametrize(
    ("instrument_id", "valves", "note", "others"),
    [
        (name, valves, *entry.split(":"))
        for (name, valves), row in PUBLISHED.items()
        for entry in row.split()
    ],
)
def test_alternates_are_those_of_fingering_charts(
    instrument_id: str, valves: int, note: str, others: str
) -> None:
    found = alternates(parse_written_pitch(note), instrument_id, valves)
    assert ",".join(way.shown for way in found) == others.replace("-", "")


def test_the_bound_parts_first_choices_that_need_a_slide_from_those_that_do_not() -> None:
    """2-3 on a third partial is played as it is; 2-4, 1-3 and 1-2-3 want a slide drawn out.

    That 1-3 and 1-2-3 do is told by teaching pages and trumpet makers alike.
    """
    third = partial_off_by(3)
    assert valves_sharp_by("23") + third < ALTERNATES_WITHIN < valves_sharp_by("24")
    assert valves_sharp_by("24") < valves_sharp_by("13") < valves_sharp_by("123")


@pytest.mark.parametrize(
    ("note", "ways"),
    [
        ("Ab4", ["T2-3 B♭ side", "2-3 F side"]),
        ("A4", ["T1-2 B♭ side", "1-2 F side", "3 F side", "T3 B♭ side"]),
        ("C5", ["T0 B♭ side", "0 F side", "2-3 F side"]),
        ("F4", ["1 F side"]),
    ],
)
def test_a_double_horn_names_its_side(note: str, ways: list[str]) -> None:
    pitch = parse_written_pitch(note)
    usual = first_choice(pitch, "horn")
    assert usual is not None
    found = (usual, *alternates(pitch, "horn"))
    assert [f"{way.label} {way.tube.name}" for way in found] == ways
    assert all(way.sided for way in found)


def test_a_single_horn_has_no_ways_of_the_other_side() -> None:
    found = alternates(parse_written_pitch("A4"), "horn", single_horn=True)
    assert [(way.label, way.tube.name) for way in found] == [("3", "F side")]


def test_the_thumb_is_read_aloud() -> None:
    found = first_choice(parse_written_pitch("A4"), "horn")
    assert found is not None
    assert found.spoken == "thumb valve, first and second valves"


def test_a_flat_4_is_never_played_in_first_position() -> None:
    """The 7th partial is 31 cents flat, and in first the slide cannot be drawn in further."""
    a_flat = parse_written_pitch("Ab4")
    found = first_choice(a_flat, "trombone")
    assert found is not None
    ways = [found.shown, *(way.shown for way in alternates(a_flat, "trombone"))]
    assert ways == ["3"]


@pytest.mark.parametrize(
    ("instrument_id", "pitch", "label", "spoken"),
    [
        ("trumpet", "C5", "0", "open"),
        ("trumpet", "B4", "2", "second valve"),
        ("trumpet", "A4", "1-2", "first and second valves"),
        ("trumpet", "C#4", "1-2-3", "first, second and third valves"),
        ("trombone", "C4", "3", "third position"),
    ],
)
def test_fingering_on_the_page(instrument_id: str, pitch: str, label: str, spoken: str) -> None:
    found = first_choice(parse_written_pitch(pitch), instrument_id)
    assert found is not None
    assert (found.label, found.spoken) == (label, spoken)


def test_raised_position_in_words() -> None:
    raised = alternates(parse_written_pitch("G4"), "trombone")[0]
    assert (raised.shown, raised.label) == ("♯2", "♯2")
    assert raised.spoken == "raised second position"


# Harmonic series: 1200 log2(n) against the nearest semitone. The 11th and 13th are left
# out, since the nearest semitone is arbitrary there.
@pytest.mark.parametrize(
    ("partial", "semitones", "off"),
    [
        (1, 0, 0.0),
        (2, 12, 0.0),
        (3, 19, 2.0),
        (4, 24, 0.0),
        (5, 28, -13.7),
        (6, 31, 2.0),
        (7, 34, -31.2),
        (8, 36, 0.0),
        (9, 38, 3.9),
        (10, 40, -13.7),
        (12, 43, 2.0),
        (14, 46, -31.2),
        (15, 47, -11.7),
        (16, 48, 0.0),
    ],
)
def test_harmonic_series(partial: int, semitones: int, off: float) -> None:
    assert PARTIAL_SEMITONES[partial] == semitones == round(12 * math.log2(partial))
    assert partial_off_by(partial) == pytest.approx(off, abs=0.05)


@pytest.mark.parametrize(("partial", "off"), [(11, -48.7), (13, 40.5)])
def test_partials_between_two_notes(partial: int, off: float) -> None:
    assert partial_off_by(partial) == pytest.approx(off, abs=0.05)


def test_no_partial_past_16() -> None:
    with pytest.raises(ValueError, match="partial 17"):
        partial_off_by(17)


def test_all_four_valves() -> None:
    assert valves_sharp_by("1234") == pytest.approx(175.29, abs=0.0051)


def test_published_trumpet_table() -> None:
    """A teaching article's trumpet: first and second slides long by 1.7 and 0.9 cents.

    Its third slide is not printed; it is taken from its 2+3 (0.1 flat), and its other
    combinations (12 +8.2, 13 +14.7, 123 +37.9) must follow.
    """
    first, second = added_length(201.7), added_length(100.9)
    lengths = {1: first, 2: second, 3: added_length(400.1) - second}
    assert valves_sharp_by("1", lengths) == pytest.approx(-1.7)
    assert valves_sharp_by("23", lengths) == pytest.approx(-0.1)
    assert valves_sharp_by("12", lengths) == pytest.approx(8.2, abs=0.1)
    assert valves_sharp_by("13", lengths) == pytest.approx(14.7, abs=0.1)
    assert valves_sharp_by("123", lengths) == pytest.approx(37.9, abs=0.1)


# A university brass-pedagogy page's 100-inch tube, 6 % a semitone: inches needed, inches
# that the valves give together, inches short.
@pytest.mark.parametrize(
    ("valves", "semitones", "needed", "given", "short"),
    [
        ("12", 3, 19.1, 18.36, 0.74),
        ("23", 4, 26.25, 25.1, 1.15),
        ("13", 5, 33.83, 31.46, 2.37),
        ("123", 6, 41.86, 37.46, 4.4),
    ],
)
def test_published_hundred_inch_tube(
    valves: str, semitones: int, needed: float, given: float, short: float
) -> None:
    by_six_per_cent = {1: 12.36, 2: 6.0, 3: 19.1}
    assert sum(by_six_per_cent[int(valve)] for valve in valves) == pytest.approx(given)
    assert needed - given == pytest.approx(short, abs=0.005)
    # Equal temperament is 5.946 % a semitone, so our inches differ a little from the page's.
    ours = 100 * added_length(100 * semitones)
    assert ours == pytest.approx(needed, rel=0.012)
    ours_given = 100 * sum(EACH_VALVE_EXACT[int(valve)] for valve in valves)
    assert ours - ours_given == pytest.approx(short, abs=0.1)


# Partial and valves together, each valve exact by itself: 1200 log2.
@pytest.mark.parametrize(
    ("instrument_id", "pitch", "cents"),
    [
        ("trumpet", "D4", 1.96 + 30.32),  # 1+3 on the 3rd partial
        ("trumpet", "C#4", 1.96 + 53.56),
        ("trumpet", "E5", -13.7),  # open 5th partial
        ("trumpet", "C5", 0.0),
        ("trumpet", "A4", 10.6),
        ("trombone", "D4", -13.7),
        ("trombone", "B2", 2.0),  # a slide is placed by ear
    ],
)
def test_tendency(instrument_id: str, pitch: str, cents: float) -> None:
    found = first_choice(parse_written_pitch(pitch), instrument_id)
    assert found is not None
    assert found.cents == pytest.approx(cents, abs=0.06)


# The third slide is cut long, so that second and third together are exact.
SECOND_AND_THIRD_EXACT = {
    **EACH_VALVE_EXACT,
    3: added_length(100 * 4) - EACH_VALVE_EXACT[2],
}


# L = 1 + sum(2^(k/12) - 1), lowering = 1200 log2(L): valve alone exact, and third cut so
# that 2+3 is exact.
@pytest.mark.parametrize(
    ("valves", "exact", "cut"),
    [
        ("0", 0.0, 0.0),
        ("1", 0.0, 0.0),
        ("2", 0.0, 0.0),
        ("12", 10.63, 10.63),
        ("3", 0.0, -16.30),
        ("23", 15.53, 0.0),
        ("13", 30.32, 15.53),
        ("123", 53.56, 39.41),
        ("24", 24.55, 24.55),
        ("14", 48.04, 48.04),
        ("124", 78.80, 78.80),
    ],
)
def test_valves_together_are_sharp(valves: str, exact: float, cut: float) -> None:
    assert valves_sharp_by(valves) == pytest.approx(exact, abs=0.0051)
    assert valves_sharp_by(valves, SECOND_AND_THIRD_EXACT) == pytest.approx(cut, abs=0.0051)
