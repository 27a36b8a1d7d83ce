"""Laws of fundamentals: stated minutes kept, bounds never passed, the order kept, nobody forgotten."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.domain.fundamentals import LeveledExercise, habit_turns, strand_progress
from handbook.domain.rotation import SharedTime, StrandShare, strand_turns

SHORTEST = 3
OFTEN = settings(max_examples=80, deadline=None)


@st.composite
def strands(draw: st.DrawFn) -> list[StrandShare]:
    found = []
    for place in range(draw(st.integers(1, 7))):
        exercises = []
        for level in range(1, draw(st.integers(1, 3)) + 1):
            minutes = draw(st.none() | st.integers(1, 14))
            most = draw(st.none() | st.integers(minutes or 1, 14))
            rehearsals = draw(st.integers(1, 4))
            exercises.append(LeveledExercise(f"s{place}-{level}", level, rehearsals, minutes, most))
        found.append(StrandShare(f"s{place}", draw(st.integers(1, 4)), tuple(exercises)))
    return found


def days(music: st.SearchStrategy[int]) -> st.SearchStrategy[list[SharedTime]]:
    return st.integers(4, 14).flatmap(
        lambda longest: st.lists(
            st.builds(SharedTime, st.integers(0, 45), music, st.just(SHORTEST), st.just(longest)),
            min_size=1,
            max_size=15,
        )
    )


MUSIC = days(st.integers(0, 60))
NO_MUSIC = days(st.just(0))


@OFTEN
@given(strands(), MUSIC, NO_MUSIC)
def test_every_minute_is_given_once(
    shares: list[StrandShare], with_music: list[SharedTime], without: list[SharedTime]
) -> None:
    for times, has_music in ((with_music, True), (without, False)):
        for time, day in zip(times, strand_turns(shares, times, has_music=has_music), strict=True):
            used = sum(turn.minutes for turn in day.turns)
            assert used + day.music + day.unfilled == time.fundamentals + time.music
            assert all(turn.minutes > 0 for turn in day.turns)
            assert not (day.music and day.unfilled)


@OFTEN
@given(strands(), MUSIC, NO_MUSIC)
def test_upper_bounds_never_give_way(
    shares: list[StrandShare], with_music: list[SharedTime], without: list[SharedTime]
) -> None:
    most = {one.id: one.most_minutes for share in shares for one in share.exercises}
    for times, has_music in ((with_music, True), (without, False)):
        for time, day in zip(times, strand_turns(shares, times, has_music=has_music), strict=True):
            came: Counter[str] = Counter()
            for turn in day.turns:
                assert turn.minutes <= time.longest
                came[turn.exercise or ""] += turn.minutes
            for exercise, minutes in came.items():
                assert minutes <= (most[exercise] or minutes)


@OFTEN
@given(strands(), MUSIC)
def test_where_music_can_take_the_rest_stated_minutes_are_kept(
    shares: list[StrandShare], times: list[SharedTime]
) -> None:
    exercises = {one.id: one for share in shares for one in share.exercises}
    for time, day in zip(times, strand_turns(shares, times, has_music=True), strict=True):
        if time.music < 2 * SHORTEST:
            continue
        for turn in day.turns:
            exercise = exercises[turn.exercise or ""]
            high = min(time.longest, exercise.most_minutes or time.longest)
            if exercise.minutes and min(exercise.minutes, high) <= time.attainable:
                assert turn.minutes == min(exercise.minutes, high)
            else:
                high = min(high, exercise.minutes or high)
                assert min(SHORTEST, high) <= turn.minutes <= high


@OFTEN
@given(strands(), MUSIC, NO_MUSIC)
def test_the_order_is_kept_and_with_music_no_strand_comes_twice(
    shares: list[StrandShare], with_music: list[SharedTime], without: list[SharedTime]
) -> None:
    order = [share.id for share in shares]
    for day in strand_turns(shares, with_music, has_music=True):
        places = [order.index(turn.strand) for turn in day.turns]
        if day.music:
            assert all(one < following for one, following in pairwise(places))
    for day in strand_turns(shares, without, has_music=False):
        places = [order.index(turn.strand) for turn in day.turns]
        first_round = places[: len(set(places))]
        assert first_round == sorted(set(places))


@OFTEN
@given(strands(), MUSIC)
def test_music_keeps_half_of_its_own(shares: list[StrandShare], times: list[SharedTime]) -> None:
    for time, day in zip(times, strand_turns(shares, times, has_music=True), strict=True):
        assert 2 * day.music >= time.music


@OFTEN
@given(strands(), MUSIC)
def test_exercises_follow_the_levels(shares: list[StrandShare], times: list[SharedTime]) -> None:
    found = strand_turns(shares, times, has_music=True)
    for share in shares:
        came = [turn.exercise for day in found for turn in day.turns if turn.strand == share.id]
        assert came == list(strand_progress(share.exercises, share.start, len(came)).exercises)


@OFTEN
@given(strands(), MUSIC, MUSIC)
def test_a_later_rehearsal_never_changes_an_earlier_one(
    shares: list[StrandShare], times: list[SharedTime], more: list[SharedTime]
) -> None:
    before = strand_turns(shares, times, has_music=True)
    assert strand_turns(shares, [*times, *more], has_music=True)[: len(times)] == before


@OFTEN
@given(
    st.lists(st.integers(1, 4), min_size=1, max_size=7),
    st.integers(1, 7),
    st.integers(1, 40),
)
def test_strands_of_one_length_come_as_often_as_their_weights_ask(
    weights: list[int], a_day: int, rehearsals: int
) -> None:
    """Of equal weight, turns differ by one at most; a heavier strand never has fewer."""
    shares = [
        StrandShare(f"s{place}", weight, (LeveledExercise(f"e{place}", 1, 1, 4),))
        for place, weight in enumerate(weights)
    ]
    size = min(a_day, len(weights))
    found = strand_turns(
        shares, [SharedTime(4 * size, 20, SHORTEST, 12)] * rehearsals, has_music=True
    )
    came = Counter(turn.strand for day in found for turn in day.turns)
    assert sum(came.values()) == size * rehearsals
    for one, weight in zip(shares, weights, strict=True):
        for other, its in zip(shares, weights, strict=True):
            if weight >= its:
                assert came[one.id] >= came[other.id] - (weight == its)


@OFTEN
@given(st.integers(1, 12), st.integers(0, 60))
def test_habits_of_equal_weight_take_fair_turns(habits: int, rehearsals: int) -> None:
    came = Counter(habit_turns([1] * habits, rehearsals))
    counts = [came[habit] for habit in range(habits)]
    assert sum(counts) == rehearsals
    assert max(counts) - min(counts) <= 1


@OFTEN
@given(st.integers(1, 8), st.integers(1, 40), st.data())
def test_stated_habits_count(habits: int, rehearsals: int, data: st.DataObject) -> None:
    """The stated ones stand where they were stated, and the others are as fair as these allow."""
    stated = data.draw(
        st.dictionaries(st.integers(0, rehearsals - 1), st.integers(0, habits - 1), max_size=20)
    )
    turns = habit_turns([1] * habits, rehearsals, stated)
    assert len(turns) == rehearsals
    assert all(turns[place] == habit for place, habit in stated.items())
    came, set_ = Counter(turns), Counter(stated.values())
    for habit in range(habits):
        if came[habit] > set_[habit]:  # it had a turn of its own, so nobody was further behind
            assert came[habit] <= min(came[other] for other in range(habits)) + 1


@OFTEN
@given(st.lists(st.integers(1, 5), min_size=1, max_size=6), st.integers(1, 4))
def test_each_habit_has_its_weight_in_turns(weights: list[int], rounds: int) -> None:
    came = Counter(habit_turns(weights, rounds * sum(weights)))
    assert [came[habit] for habit in range(len(weights))] == [rounds * weight for weight in weights]
