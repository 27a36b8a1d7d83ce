"""What readers may type for signs, measures, times and dates (common practice, no source)."""

from __future__ import annotations

from datetime import date

import pytest

from handbook.outputs.search.spellings import day_in, day_spellings, spellings


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("concert B♭", ["bb", "bflat", "b flat", "b♭"]),
        ("written F♯", ["f#", "fsharp", "f sharp"]),
        ("E-flat major", ["eb", "eflat", "e flat"]),
        ("Bb scale", ["bflat"]),
        ("mm. 9–12", ["m9", "m10", "m11", "m12"]),
        ("m. 14", ["m14"]),
        ("measure 30", ["m30"]),
        ("bars 3-4", ["m3", "m4"]),
        ("7:00 pm", ["7:00", "19:00", "7pm"]),
        ("noon is 12:00 pm", ["12:00", "12pm"]),
        ("12:05 am", ["12:05", "00:05"]),
        ("4:20–5:05 pm", ["4:20", "16:20", "5:05", "17:05"]),
        ("♩ = 96", ["96", "bpm", "tempo"]),
        ("from mf/ff down", ["mf", "ff"]),
    ],
)
def test_all_of_them_are_collected(text: str, typed: list[str]) -> None:
    found = f" {spellings(text)} "
    assert [one for one in typed if f" {one} " not in found] == []


@pytest.mark.parametrize(
    ("text", "not_typed"),
    [
        ("mm. 9–12", "m13"),
        ("mm. 9–12", "m8"),
        ("4:20–5:05 pm", "04:20"),
        ("a big bang", "b flat"),
        ("Grade 6", "m6"),
        ("6/8", "6"),
    ],
)
def test_nothing_else_is(text: str, not_typed: str) -> None:
    assert f" {not_typed} " not in f" {spellings(text)} "


def test_plain_prose_has_none() -> None:
    assert spellings("Breathe, tongue, stop. Do it until all of you sound alike.") == ""


def test_each_is_given_once() -> None:
    found = spellings("m. 14 and m. 14").split()
    assert found == ["m14"]


def test_a_mistyped_span_cannot_fill_the_index() -> None:
    assert len(spellings("mm. 1–99999").split()) < 300


def test_a_day_is_found_by_name_and_number() -> None:
    found = day_spellings(date(2026, 12, 17)).split()
    assert found == ["Thursday", "Thu", "December", "Dec", "17", "12/17", "2026-12-17"]


def test_the_day_is_read_back() -> None:
    assert day_in(f"concert {day_spellings(date(2026, 12, 17))} parking") == "2026-12-17"
    assert day_in("no date here, 12/17") == ""
