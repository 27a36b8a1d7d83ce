"""What readers may type for measures, times, tempos and dates (common practice, no source)."""

from __future__ import annotations

from datetime import date, time

import pytest

from handbook.domain.values.keys import parse_concert_key
from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.tempo import parse_tempo
from handbook.outputs.search.entry import SearchEntry
from handbook.outputs.search.spellings import spellings


def spelled(
    *,
    times: tuple[time, ...] = (),
    measures: tuple[MeasureSpan, ...] = (),
    tempos: tuple[str, ...] = (),
) -> list[str]:
    entry = SearchEntry(
        "Title",
        "Text.",
        times=times,
        measures=measures,
        tempos=tuple(parse_tempo(tempo) for tempo in tempos),
    )
    return spellings(entry).split()


@pytest.mark.parametrize(
    ("at", "typed"),
    [
        (time(19), ["7:00", "19:00", "7pm"]),
        (time(12), ["12:00", "12pm"]),
        (time(0, 5), ["12:05", "00:05"]),
        (time(0), ["12:00", "00:00", "12am"]),
        (time(16, 20), ["4:20", "16:20"]),
        (time(9, 5), ["9:05", "09:05"]),
    ],
)
def test_a_time_is_found_by_both_clocks(at: time, typed: list[str]) -> None:
    assert spelled(times=(at,)) == typed


def test_a_passage_is_found_by_each_of_its_measures() -> None:
    assert spelled(measures=(MeasureSpan(9, 12), MeasureSpan(12, 12))) == [
        "m9",
        "m10",
        "m11",
        "m12",
    ]


def test_a_mistyped_span_cannot_fill_the_index() -> None:
    assert 200 <= len(spelled(measures=(MeasureSpan(1, 9999),))) < 300


def test_a_tempo_is_found_by_its_unit() -> None:
    assert spelled(tempos=("dotted quarter = 80",)) == [
        "dotted",
        "quarter",
        "=",
        "80",
        "bpm",
        "tempo",
    ]


def test_a_day_is_found_by_name_and_number() -> None:
    found = spellings(SearchEntry("Concert", "Music.", day=date(2026, 12, 17)))
    assert found == "Thursday Thu December Dec 17 12/17 2026-12-17"


def test_a_key_is_found_by_its_name() -> None:
    entry = SearchEntry("Lamps", "", keys=(parse_concert_key("E-flat major"),))
    assert spellings(entry) == "E♭ major"


def test_what_has_no_such_values_has_no_spellings() -> None:
    assert spellings(SearchEntry("Breathe", "At 7:00 pm play mm. 9–12.", keywords="air")) == ""
