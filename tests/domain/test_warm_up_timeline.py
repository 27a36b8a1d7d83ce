"""Steps and rests of a warm-up fill its minutes exactly.

Lengths are worked out by hand beside each case; 60 / bpm is the length of a beat.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.warm_up_timeline import LEAST, StepNeed, stated_seconds, warm_up_timeline

FOUR_AT_60 = Fraction(4)  # seconds of a measure of four quarters at 60
FOUR_AT_66 = Fraction(4 * 60, 66)


def lengths(steps: list[StepNeed], minutes: int) -> list[tuple[int, int]]:
    return [
        (time.end - time.start, time.rest_ends - time.end)
        for time in warm_up_timeline(steps, minutes)
    ]


@pytest.mark.parametrize(
    ("steps", "minutes", "expected"),
    [
        # Texts alone share the time evenly: 360 / 4.
        ([StepNeed()] * 4, 6, [(90, 0)] * 4),
        # 60 / 7 = 8.57: four get 9, and the earlier ones of a tie; 4 x 9 + 3 x 8 = 60. But
        # each is less than LEAST, which makes no difference where all are alike.
        ([StepNeed()] * 7, 1, [(9, 0)] * 4 + [(8, 0)] * 3),
        # What is stated is kept; 360 - 90 - 5 - 5 = 260 is left for two.
        (
            [StepNeed(90, rest=5), StepNeed(rest=5), StepNeed()],
            6,
            [(90, 5), (130, 5), (130, 0)],
        ),
        # All state their time, and it is twice too long: all are halved, rests too.
        ([StepNeed(80, rest=10), StepNeed(20, rest=10)], 1, [(40, 5), (10, 5)]),
        # All state their time, and a third is left over.
        ([StepNeed(20), StepNeed(25)], 1, [(27, 0), (33, 0)]),
        # 100 - 90 is less than LEAST for the second: shared as 100 to 20.
        ([StepNeed(100), StepNeed()], 2, [(100, 0), (20, 0)]),
        ([StepNeed(110), StepNeed()], 2, [(102, 0), (18, 0)]),
    ],
)
def test_the_minutes_are_shared(
    steps: list[StepNeed], minutes: int, expected: list[tuple[int, int]]
) -> None:
    assert lengths(steps, minutes) == expected


def test_a_step_is_counted_in_and_ends_with_a_whole_measure() -> None:
    """At 60 a measure lasts 4 s: of 47 s 4 are counted, then 10 measures last 40, and 3 are silent."""
    first, second = warm_up_timeline(
        [StepNeed(47, rest=5, measure=FOUR_AT_60), StepNeed(8, measure=FOUR_AT_66)], 1
    )
    assert [first.count_in, first.measures] == [4, 10]
    moments = [first.start, first.sounds_from, first.sounds_until, first.end, first.rest_ends]
    assert moments == [0, 4, 44, 47, 52]
    # 8 s have room for two measures of 240 / 66 = 3.636 s: one is counted, one sounds.
    assert [second.start, second.sounds_from] == [52, 52 + FOUR_AT_66]
    assert second.sounds_until == 52 + 2 * FOUR_AT_66
    assert second.end == 60


def test_a_step_too_short_for_two_measures_is_not_counted_in() -> None:
    (only,) = warm_up_timeline([StepNeed(measure=Fraction(40))], 1)
    assert [only.count_in, only.measures, only.sounds_until] == [0, 1, 40]
    (none,) = warm_up_timeline([StepNeed(measure=Fraction(61))], 1)
    assert [none.count_in, none.measures, none.sounds_until] == [0, 0, 60]


def test_a_step_without_a_beat_sounds_to_its_end() -> None:
    first, _ = warm_up_timeline([StepNeed(30, rest=10), StepNeed(20)], 1)
    assert [first.sounds_from, first.sounds_until, first.end] == [0, 30, 30]


STEPS = st.lists(
    st.builds(
        StepNeed,
        st.none() | st.integers(1, 400),
        st.integers(0, 30),
        st.sampled_from([Fraction(0), FOUR_AT_60, FOUR_AT_66, Fraction(3 * 60, 132)]),
    ),
    min_size=1,
    max_size=8,
)


@given(STEPS, st.integers(1, 20))
def test_laws(steps: list[StepNeed], minutes: int) -> None:
    """Nothing overlaps, nothing is left over, and what fits as it is stated stays so."""
    times = warm_up_timeline(steps, minutes)
    assert times[0].start == 0
    assert times[-1].rest_ends == 60 * minutes
    for before, after in pairwise(times):
        assert before.rest_ends == after.start
    for step, time in zip(steps, times, strict=True):
        assert time.start <= time.sounds_from <= time.sounds_until <= time.end <= time.rest_ends
        assert time.count_in in {0, step.measure}
        if time.measures:
            assert time.sounds_until - time.sounds_from == time.measures * step.measure
            assert time.end - time.sounds_until < step.measure
    unstated = any(step.seconds is None for step in steps)
    if (asked := stated_seconds(steps)) == 60 * minutes or (asked < 60 * minutes and unstated):
        for step, time in zip(steps, times, strict=True):
            assert time.rest_ends - time.end == step.rest
            assert step.seconds in {None, time.end - time.start}
        shared = [
            time.end - time.start
            for step, time in zip(steps, times, strict=True)
            if step.seconds is None
        ]
        assert max(shared, default=0) - min(shared, default=0) <= 1
        assert min(shared, default=LEAST) >= LEAST


@pytest.mark.parametrize(
    "make",
    [
        lambda: StepNeed(0),
        lambda: StepNeed(rest=-1),
        lambda: StepNeed(measure=Fraction(-1)),
        lambda: warm_up_timeline([], 6),
        lambda: warm_up_timeline([StepNeed()], 0),
    ],
)
def test_what_is_no_warm_up_is_refused(make: object) -> None:
    with pytest.raises(ValueError, match="step"):
        make()  # type: ignore[operator]
