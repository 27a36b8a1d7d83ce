"""Laws of rhythms and their counts."""

from __future__ import annotations

import itertools
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.counting import CountKind, counts
from handbook.domain.measure_beats import measure_beats
from handbook.domain.rhythm import faults, placed
from handbook.domain.rhythm_notation import parse_rhythm
from handbook.domain.tables.counting_systems import COUNTING_SYSTEMS, CountingSystem
from handbook.domain.values.meter import Meter, parse_meter

BLOCKS = ["q", "e e", "e s s", "s s s s", "3(e e e)", "3(q e)", "e. s", "-q", "-e e", "q>"]
meters = st.sampled_from([parse_meter(m) for m in ("2/4", "3/4", "4/4", "5/4 (3+2)", "7/4")])
systems = st.sampled_from(list(COUNTING_SYSTEMS.values()))


@st.composite
def full_rhythms(draw: st.DrawFn) -> tuple[str, Meter]:
    meter = draw(meters)
    block = st.sampled_from(BLOCKS)
    measures = draw(
        st.lists(st.lists(block, min_size=meter.top, max_size=meter.top), min_size=1, max_size=4)
    )
    return " | ".join(" ".join(measure) for measure in measures), meter


@given(full_rhythms())
def test_measures_of_whole_beats_fit(case: tuple[str, Meter]) -> None:
    text, meter = case
    assert faults(parse_rhythm(text), meter) == ()


@given(full_rhythms())
def test_a_beat_too_many_or_too_few_is_found(case: tuple[str, Meter]) -> None:
    text, meter = case
    (fault,) = faults(parse_rhythm(f"{text} q"), meter)
    assert fault.shortfall == -1
    assert fault.index == text.count("|")


@given(full_rhythms())
def test_notes_fill_the_measure_without_gap(case: tuple[str, Meter]) -> None:
    text, meter = case
    for measure in parse_rhythm(text).measures:
        places = placed(measure)
        assert places[0].start == 0
        assert places[-1].end == meter.quarters
        assert all(a.end == b.start for a, b in itertools.pairwise(places))


@given(full_rhythms(), systems)
def test_every_note_is_counted_once_and_every_beat_by_number(
    case: tuple[str, Meter], system: CountingSystem
) -> None:
    text, meter = case
    rhythm = parse_rhythm(text)
    for measure, line in zip(rhythm.measures, counts(rhythm, meter, system), strict=True):
        spoken = [count.note for count in line if count.kind is CountKind.SPOKEN]
        assert spoken == [index for index, note in enumerate(measure) if not note.rest]
        assert all(count.text for count in line)
        starts = [count.start for count in line]
        assert starts == sorted(set(starts))
        if not system.lengths:
            numbered = {count.start: count.text for count in line if count.text.isdigit()}
            beats = measure_beats(meter)
            assert numbered == {beat.start: str(beat.number) for beat in beats}


@given(st.integers(1, 16), st.sampled_from([2, 4, 8, 16]), st.booleans())
def test_beats_fill_any_measure(top: int, unit: int, every_unit: bool) -> None:
    meter = Meter(top, unit)
    beats = measure_beats(meter, every_unit=every_unit)
    assert sum((beat.length for beat in beats), Fraction(0)) == meter.quarters
