"""Tempo ladders, worked by hand: percents by geometric means, then rounded down to printed settings."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest

from handbook.domain.ladders import (
    Band,
    LadderError,
    LadderFault,
    Mean,
    Pace,
    Rung,
    SubdividedClick,
    ladder,
    subdivided,
    visits_needed,
)
from handbook.domain.metronome_marks import EveryMarks, Marks, TraditionalMarks
from handbook.domain.values.tempo import parse_tempo

TRADITIONAL = TraditionalMarks()


def bands(*percents: tuple[int, int]) -> list[Band]:
    return [Band(Fraction(low), Fraction(high)) for low, high in percents]


THREE = bands((50, 65), (65, 90), (90, 100))


def speeds(rungs: Sequence[Rung]) -> list[str]:
    return [rung.tempo.bpm_text for rung in rungs]


FAR = Fraction(1000)  # a leap that never binds


def visits(*counts: int) -> list[int]:
    """Give the stage of each visit from the counts of visits in each stage."""
    return [stage for stage, count in enumerate(counts) for _ in range(count)]


def climb(
    goal: str,
    counts: tuple[int, ...],
    of_bands: list[Band],
    marks: Marks = EveryMarks(1),  # noqa: B008
    *,
    leap: Fraction = FAR,
    start: str | None = None,
    settled: int | None = None,
) -> tuple[Rung, ...]:
    """Climb, with the last visit the first at the goal unless `settled` says another."""
    return ladder(
        Pace(parse_tempo(goal), marks, leap),
        visits(*counts),
        of_bands,
        start=parse_tempo(start) if start else None,
        settled=sum(counts) - 1 if settled is None else settled,
    )


@pytest.mark.parametrize(
    ("goal", "counts", "stage_bands", "marks", "expected"),
    [
        # 50 57.01 65 | the band begins where the last ended: thirds 72.45 80.75 90 | 93.22 96.55
        # 100 percent of 120
        ("120", (3, 3, 3), THREE, TRADITIONAL, "60 66 76 84 96 108 108 112 120"),
        ("120", (3, 3, 3), THREE, EveryMarks(1), "60 68 78 86 96 108 111 115 120"),
        # a goal that is no mark is still the end
        ("130", (3, 3, 3), THREE, TRADITIONAL, "63 72 84 92 104 116 120 120 130"),
        ("dotted quarter = 80", (3, 3, 3), THREE, TRADITIONAL, "40 44 52 56 63 72 72 76 80"),
        # one visit takes the high end; the last one would have a stage's climb to itself, so it
        # is shared with the one before: 65 | the root of 65 x 100 is 80.62 | 100
        ("120", (1, 1, 1), THREE, EveryMarks(1), "78 96 120"),
        ("120", (1, 1), THREE, EveryMarks(1), "78 120"),
        # 65 to 100 over four visits, 72.39 80.62 89.79; 90, as the band ends, would leave 12 at once
        ("120", (3, 3, 1), THREE, EveryMarks(1), "60 68 78 86 96 107 120"),
        # bands with a gap: the second stage begins at its own low end
        ("100", (2, 2), bands((50, 60), (80, 100)), EveryMarks(1), "50 60 80 100"),
        # bands that overlap: the second stage goes on from 70, by geometric thirds 78.8 88.8 100
        ("100", (2, 3), bands((50, 70), (60, 100)), EveryMarks(1), "50 70 78 88 100"),
        # a second band wholly below what is reached keeps it
        ("100", (2, 2, 2), bands((50, 70), (50, 60), (70, 100)), EveryMarks(1), "50 70 70 70 83 100"),
        # the last stage climbs to the goal whatever its band says: 60 | 77.5 100
        ("100", (2, 2), bands((50, 60), (60, 95)), EveryMarks(1), "50 60 77 100"),
        # a stage without a visit is left out
        ("100", (2, 0, 2), bands((50, 60), (60, 80), (80, 100)), EveryMarks(1), "50 60 80 100"),
        ("100", (1,), bands((50, 60)), TRADITIONAL, "100"),
        ("100", (2,), bands((64, 81)), EveryMarks(1), "64 100"),
        ("quarter = 300", (3,), bands((50, 100)), TRADITIONAL, "144 208 300"),  # 150 212.13
        ("30", (3,), bands((50, 100)), TRADITIONAL, "15 21 30"),
        ("100", (), [], TRADITIONAL, ""),
    ],
)  # fmt: skip
def test_a_ladder_climbs_through_its_bands(
    goal: str, counts: tuple[int, ...], stage_bands: list[Band], marks: Marks, expected: str
) -> None:
    rungs = climb(goal, counts, stage_bands, marks)
    assert speeds(rungs) == expected.split()
    assert [rung.stage for rung in rungs] == visits(*counts)
    assert all(rung.tempo.beat == parse_tempo(goal).beat for rung in rungs)


def test_each_rung_tells_its_exact_share_of_the_goal() -> None:
    # 64 * (100/64)**(1/2) = 80 percent of 120 = 96; 64 percent = 76.8, rounded down to 76
    rungs = climb("120", (3,), bands((64, 100)))
    assert [rung.tempo.bpm for rung in rungs] == [76, 96, 120]
    assert [rung.percent for rung in rungs] == [Fraction(7600, 120), 80, 100]


def test_a_mean_that_is_a_mark_is_not_rounded_below_it() -> None:
    """50 to 72 in six steps: the middle is the root of 50 x 72 = 3600, which is 60 exactly."""
    rungs = climb("72", (7,), bands((50, 100)), start="50")
    assert rungs[3].tempo.bpm == 60
    # 27 to 64 in three steps: the cube roots of 27 are 3, of 64 are 4: 27 36 48 64
    assert speeds(climb("64", (4,), bands((40, 100)), start="27")) == ["27", "36", "48", "64"]


@pytest.mark.parametrize(
    ("low", "high", "step", "of", "value", "reaches"),
    [
        (50, 72, 1, 2, Fraction(60), True),
        (50, 72, 1, 2, 60 + Fraction(1, 10**30), False),  # no float can tell
        (27, 64, 2, 3, Fraction(48), True),
        (27, 64, 2, 3, 48 + Fraction(1, 10**30), False),
        (50, 72, 0, 2, Fraction(50), True),
        (50, 72, 2, 2, 72 + Fraction(1, 10**30), False),
    ],
)
def test_a_tie_is_decided_on_whole_numbers(
    low: int, high: int, step: int, of: int, value: Fraction, reaches: bool
) -> None:
    assert Mean(Fraction(low), Fraction(high), step, of).reaches(value) is reaches


@pytest.mark.parametrize(
    ("start", "expected"),
    [
        ("72", "72 74 78 86 96 108 111 115 120"),  # 60 percent: 60 62.45 65, then as ever
        ("48", "48 61 78 86 96 108 111 115 120"),  # 40 50.99 65: slower than any band begins
        ("half = 36", "72 74 78 86 96 108 111 115 120"),
        # 80 percent passes the first band: one climb of six to 90: 80 81.91 83.86 85.86 87.90 90
        ("96", "96 98 100 103 105 108 111 115 120"),
        ("120", "120 120 120 120 120 120 120 120 120"),
        ("72.5", "72.5 75 78 86 96 108 111 115 120"),  # kept though it is no mark
    ],
)
def test_a_start_re_stretches_the_climb(start: str, expected: str) -> None:
    assert speeds(climb("120", (3, 3, 3), THREE, start=start)) == expected.split()


@pytest.mark.parametrize(
    ("settled", "expected"),
    [
        (8, "60 68 78 86 96 108 111 115 120"),
        (7, "60 68 78 86 96 108 113 120 120"),  # 90 * sqrt(100/90): 94.87
        (5, "60 68 78 90 103 120 120 120 120"),  # 65 * (100/65)**(k/3): 75.04 86.62
        (3, "60 75 95 120 120 120 120 120 120"),  # thirds of 50 to 100: 63.00 79.37
        (1, "60 120 120 120 120 120 120 120 120"),
        (0, "120 120 120 120 120 120 120 120 120"),
    ],
)
def test_the_goal_is_kept_from_the_visit_that_settles_it(settled: int, expected: str) -> None:
    rungs = climb("120", (3, 3, 3), THREE, settled=settled)
    assert speeds(rungs) == expected.split()
    assert rungs[settled].percent == 100


def test_left_out_the_last_visit_but_one_is_at_the_goal() -> None:
    pace = Pace(parse_tempo("120"), EveryMarks(1), FAR)
    assert speeds(ladder(pace, visits(3, 3, 3), THREE)) == "60 68 78 86 96 108 113 120 120".split()  # noqa: SIM905


def test_no_visit_asks_for_more_than_the_leap() -> None:
    """The bands leap from 65 to 90 percent (108): 15 percent on is 69, 79.35, 90.85, 103.5, 118.45."""
    pace = Pace(parse_tempo("120"), EveryMarks(1))
    assert visits_needed(pace, Fraction(60)) == 7  # 60 69 79 90 103 118 120
    # from the sixth visit on the band binds: 90 percent to 100 in four steps, 97.4 is 116.9
    rungs = ladder(pace, visits(2, 6), bands((50, 65), (90, 100)))
    assert speeds(rungs) == ["60", "69", "79", "90", "103", "116", "120", "120"]


def test_the_climb_begins_before_the_bands_say_where_they_leave_too_much_for_the_end() -> None:
    """Back from 120 by 15 percent, rounded up: 104.3, 91.3, 80, 69.6, 60.9; the band ends at 66.

    Of the two visits that have the last climb to themselves the first is at 74.2 percent, 89.
    """
    pace = Pace(parse_tempo("120"), EveryMarks(1))
    rungs = ladder(pace, visits(6, 3), bands((50, 55), (55, 100)))
    assert " ".join(speeds(rungs)) == "60 61 62 70 80 92 105 120 120"


def test_too_few_visits_come_as_near_as_the_leap_allows() -> None:
    """Three visits from 60: 60, 69, 79; the goal of 120 is not reached, and not pretended."""
    pace = Pace(parse_tempo("120"), EveryMarks(1))
    assert speeds(ladder(pace, [0, 0, 0], bands((50, 60)))) == ["60", "69", "79"]


def test_marks_further_apart_than_the_leap_have_whole_numbers_between() -> None:
    """Marks of 40 up to 120: from 80 the next mark is half as much again; 15 percent on is 92, 105.8."""
    pace = Pace(parse_tempo("120"), EveryMarks(40))
    rungs = ladder(pace, [0] * 4, bands((70, 100)), start=parse_tempo("80"), settled=3)
    assert speeds(rungs) == ["80", "92", "105", "120"]


def test_what_has_been_stays_and_the_climb_goes_on_from_it() -> None:
    """Held at 60 and 66: three more visits to 120 by the leap: 66 x 1.15 = 75.9, 86.25, 98.9."""
    pace = Pace(parse_tempo("120"), EveryMarks(1))
    held = [parse_tempo("60"), parse_tempo("66")]
    rungs = ladder(pace, [0] * 5, bands((50, 100)), held=held)
    assert speeds(rungs) == ["60", "66", "75", "86", "98"]


@pytest.mark.parametrize("start", ["121", "half = 61"])
def test_a_start_above_the_goal_is_named(start: str) -> None:
    with pytest.raises(LadderError) as refused:
        climb("120", (3, 3, 3), THREE, start=start)
    assert refused.value.kind is LadderFault.GOAL_BELOW_START


@pytest.mark.parametrize(("low", "high"), [(0, 50), (70, 60), (-5, 10)])
def test_an_impossible_band_cannot_be_made(low: int, high: int) -> None:
    with pytest.raises(ValueError, match="no band runs"):
        Band(Fraction(low), Fraction(high))


@pytest.mark.parametrize(
    ("tempo", "name", "bpm"),
    [
        # Division of a beat in halves or thirds: common practice, no source.
        ("quarter = 48", "eighth", 96),
        ("half = 40", "quarter", 80),
        ("dotted quarter = 46", "eighth", 138),
        ("dotted half = 40", "quarter", 120),
        ("dotted eighth = 48", "sixteenth", 144),
        ("dotted whole = 20", "half", 60),
        ("sixteenth = 40", "thirty-second", 80),
    ],
)
def test_a_slow_beat_is_also_given_in_its_divisions(tempo: str, name: str, bpm: int) -> None:
    assert subdivided(parse_tempo(tempo)) == SubdividedClick(name, Fraction(bpm))


def test_slow_rungs_carry_a_click_and_others_none() -> None:
    rungs = climb("80", (3, 3, 3), THREE, TRADITIONAL)
    assert [rung.click is not None for rung in rungs] == [rung.tempo.bpm < 50 for rung in rungs]
    assert subdivided(parse_tempo("50")) is None


def test_a_tempo_on_the_way_is_reached_exactly_where_no_mark_is_as_near() -> None:
    # By hand: 15 percent above 90 are 103.5, and the mark below that is 100; so only the
    # tempo itself, 103, is in time at the second visit. Then 118.45 allows 116, then the goal.
    pace = Pace(parse_tempo("quarter = 132"), TraditionalMarks())
    bands = [Band(Fraction(50), Fraction(100))]
    start, due = parse_tempo("quarter = 90"), [(1, parse_tempo("half = 51.5"))]
    rungs = ladder(pace, [0] * 6, bands, start=start, on_the_way=due)
    assert [rung.tempo.bpm for rung in rungs][:2] == [90, 103]
    assert rungs[-1].tempo == pace.goal
