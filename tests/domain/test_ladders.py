"""Tempo ladders, worked by hand: percents by geometric means, then rounded down to printed settings."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction

import pytest

from handbook.domain.ladders import (
    Band,
    LadderError,
    LadderFault,
    Rung,
    SubdividedClick,
    ladder,
    subdivided,
    week_targets,
)
from handbook.domain.marks import EveryMarks, ExactMarks, Marks, TraditionalMarks
from handbook.domain.values.tempo import Tempo, parse_tempo

TRADITIONAL = TraditionalMarks()


def bands(*percents: tuple[int, int]) -> list[Band]:
    return [Band(Fraction(low), Fraction(high)) for low, high in percents]


THREE = bands((50, 65), (65, 90), (90, 100))


def speeds(rungs: Sequence[Rung]) -> list[str]:
    return [rung.tempo.bpm_text for rung in rungs]


@pytest.mark.parametrize(
    ("goal", "counts", "stage_bands", "marks", "expected"),
    [
        # 50 57.01 65 | 72.45 80.75 90 | 93.22 96.55 100 percent of 120
        ("120", (3, 3, 3), THREE, TRADITIONAL, "60 66 76 84 96 108 108 112 120"),
        ("120", (3, 3, 3), THREE, EveryMarks(1), "60 68 78 86 96 108 111 115 120"),
        # a goal that is no mark is still the end
        ("130", (3, 3, 3), THREE, TRADITIONAL, "63 72 84 92 104 116 120 120 130"),
        ("dotted quarter = 80", (3, 3, 3), THREE, TRADITIONAL, "40 44 52 56 63 72 72 76 80"),
        # one rehearsal takes the high end
        ("120", (1, 1, 1), THREE, EveryMarks(1), "78 108 120"),
        # bands with a gap: the second stage begins at its own low end
        ("100", (2, 2), bands((50, 60), (80, 100)), EveryMarks(1), "50 60 80 100"),
        # bands that overlap: the second stage goes on from 70, by geometric thirds 78.8 88.8 100
        ("100", (2, 3), bands((50, 70), (60, 100)), EveryMarks(1), "50 70 78 88 100"),
        # a second band wholly below what is reached keeps it
        (
            "100",
            (2, 2, 2),
            bands((50, 70), (50, 60), (70, 100)),
            EveryMarks(1),
            "50 70 70 70 83 100",
        ),
        # the last stage climbs to the goal whatever its band says: 60 | 77.5 100
        ("100", (2, 2), bands((50, 60), (60, 95)), EveryMarks(1), "50 60 77 100"),
        ("100", (1,), bands((50, 60)), TRADITIONAL, "100"),
        ("100", (2,), bands((64, 81)), EveryMarks(1), "64 100"),
        ("quarter = 300", (3,), bands((50, 100)), TRADITIONAL, "144 208 300"),  # 150 212.13
        ("30", (3,), bands((50, 100)), TRADITIONAL, "15 21 30"),
        ("100", (), [], TRADITIONAL, ""),
    ],
)
def test_a_ladder_climbs_through_its_bands(
    goal: str, counts: tuple[int, ...], stage_bands: list[Band], marks: Marks, expected: str
) -> None:
    rungs = ladder(parse_tempo(goal), counts, stage_bands, marks)
    assert speeds(rungs) == expected.split()
    assert [rung.stage for rung in rungs] == [
        stage for stage, count in enumerate(counts) for _ in range(count)
    ]
    assert all(rung.tempo.beat == parse_tempo(goal).beat for rung in rungs)


def test_percent_grows_by_one_factor_within_a_stage() -> None:
    rungs = ladder(parse_tempo("120"), (5,), bands((64, 100)), ExactMarks())
    # 64 * (100/64)**(k/4): 64, 71.554, 80, 89.443, 100
    assert [rung.percent for rung in rungs] == [64, Fraction("71.554"), 80, Fraction("89.443"), 100]
    assert rungs[2].tempo.bpm == 96


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
    rungs = ladder(parse_tempo("120"), (3, 3, 3), THREE, EveryMarks(1), start=parse_tempo(start))
    assert speeds(rungs) == expected.split()


@pytest.mark.parametrize(
    ("lock_by", "expected"),
    [
        (8, "60 68 78 86 96 108 111 115 120"),
        (7, "60 68 78 86 96 108 113 120 120"),  # 90 * sqrt(100/90): 94.87
        (5, "60 68 78 90 103 120 120 120 120"),  # 65 * (100/65)**(k/3): 75.04 86.62
        (3, "60 68 78 120 120 120 120 120 120"),
        (1, "60 120 120 120 120 120 120 120 120"),
        (0, "120 120 120 120 120 120 120 120 120"),
    ],
)
def test_a_lock_reaches_the_goal_early_and_keeps_it(lock_by: int, expected: str) -> None:
    rungs = ladder(parse_tempo("120"), (3, 3, 3), THREE, EveryMarks(1), lock_by=lock_by)
    assert speeds(rungs) == expected.split()
    assert rungs[lock_by].percent == 100


@pytest.mark.parametrize(
    ("start", "lock_by", "kind"),
    [
        ("121", None, LadderFault.GOAL_BELOW_START),
        ("half = 61", None, LadderFault.GOAL_BELOW_START),
        (None, 9, LadderFault.LOCK_OUTSIDE),
        (None, -1, LadderFault.LOCK_OUTSIDE),
    ],
)
def test_an_impossible_ladder_is_named(
    start: str | None, lock_by: int | None, kind: LadderFault
) -> None:
    with pytest.raises(LadderError) as refused:
        ladder(
            parse_tempo("120"),
            (3, 3, 3),
            THREE,
            TRADITIONAL,
            start=parse_tempo(start) if start else None,
            lock_by=lock_by,
        )
    assert refused.value.kind is kind


def test_stages_and_bands_must_match() -> None:
    with pytest.raises(ValueError, match="2 stages cannot have 3"):
        ladder(parse_tempo("120"), (3, 3), THREE, TRADITIONAL)


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
    rungs = ladder(parse_tempo("80"), (3, 3, 3), THREE, TRADITIONAL)
    assert [rung.click is not None for rung in rungs] == [rung.tempo.bpm < 50 for rung in rungs]
    assert subdivided(parse_tempo("50")) is None


def tempos(*speeds: int) -> tuple[Tempo, ...]:
    return tuple(parse_tempo(str(speed)) for speed in speeds)


def test_a_weeks_target_is_its_last_rung() -> None:
    """ISO 8601 weeks begin on Monday: Friday Dec 18 to Monday Jan 4 spans weeks 51, 53 and 2027-W01."""
    days = [
        date(2026, 12, 18),
        date(2026, 12, 29),
        date(2027, 1, 1),
        date(2027, 1, 4),
        date(2027, 1, 5),
    ]
    rungs = ladder(parse_tempo("120"), (5,), bands((60, 100)), TRADITIONAL)  # 72 80 92 104 120
    targets = week_targets(days, rungs, TRADITIONAL)
    assert [target.monday for target in targets] == [
        date(2026, 12, 14),
        date(2026, 12, 28),
        date(2027, 1, 4),
    ]
    assert [target.target for target in targets] == list(tempos(72, 92, 120))
    assert [target.steps for target in targets] == [
        tempos(72),
        tempos(76, 80, 84, 88, 92),
        tempos(96, 100, 104, 108, 112, 116, 120),
    ]


def test_the_first_week_begins_with_its_first_rung() -> None:
    rungs = ladder(parse_tempo("120"), (5,), bands((60, 100)), TRADITIONAL)
    week = [date(2026, 10, 5) + timedelta(days=day) for day in range(5)]
    assert week_targets(week, rungs, TRADITIONAL)[0].steps == tempos(
        72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112, 116, 120
    )


def test_an_unchanged_target_is_its_own_step() -> None:
    rungs = ladder(parse_tempo("130"), (3,), bands((60, 100)), TRADITIONAL, lock_by=1)
    days = [date(2026, 10, 5), date(2026, 10, 12), date(2026, 10, 19)]
    assert [target.steps[-1] for target in week_targets(days, rungs, TRADITIONAL)] == list(
        tempos(76, 130, 130)
    )
    assert week_targets(days, rungs, TRADITIONAL)[2].steps == tempos(130)
