"""Which strands come when and for how long, worked by hand (our own rules, no source)."""

from __future__ import annotations

import pytest

from handbook.domain.fundamentals import LeveledExercise
from handbook.domain.rotation import FundamentalsDay, SharedTime, StrandShare, strand_turns


def free(*weights: int) -> list[StrandShare]:
    """Make strands a, b, c ... whose minutes are not stated."""
    return [StrandShare(name, weight) for name, weight in zip("abcdef", weights, strict=False)]


def stated(name: str, minutes: int, most: int | None = None) -> StrandShare:
    return StrandShare(name, 1, (LeveledExercise(f"{name}1", 1, 4, minutes, most),))


def turns(day: FundamentalsDay) -> str:
    """Write a rehearsal's fundamentals as `a 4 b 3 | 20`: strands, minutes, then music."""
    blocks = " ".join(f"{turn.strand} {turn.minutes}" for turn in day.turns)
    return f"{blocks} | {day.music}"


def planned(
    strands: list[StrandShare], *times: int, music: int = 20, longest: int = 12
) -> list[str]:
    days = [SharedTime(minutes, music, 3, longest) for minutes in times]
    return [turns(day) for day in strand_turns(strands, days, has_music=music > 0)]


@pytest.mark.parametrize(
    ("weights", "times", "expected"),
    [
        # 14 minutes are nearest to two blocks of 7.5, midway between 3 and 12
        ((1, 1, 1, 1), (14, 14, 14), ["ab", "cd", "ab"]),
        ((2, 1, 1), (14, 14, 14, 14), ["ab", "ac", "ab", "ac"]),
        ((2, 1, 1), (7, 7, 7, 7), ["a", "b", "c", "a"]),
        ((3, 2, 1), (7,) * 7, list("abacbaa")),  # .5, 1.5, 2.5 ... over 3, 2 and 1
        ((10, 1, 1), (14, 14, 14), ["ab", "ac", "ab"]),  # never twice a day
        ((1, 1), (14, 0, 7), ["ab", "", "a"]),
    ],
)
def test_strands_take_turns_by_weight(
    weights: tuple[int, ...], times: tuple[int, ...], expected: list[str]
) -> None:
    days = [SharedTime(minutes, 20, 3, 12) for minutes in times]
    found = strand_turns(free(*weights), days, has_music=True)
    assert ["".join(turn.strand for turn in day.turns) for day in found] == expected


def test_stated_minutes_are_kept_and_what_is_left_goes_to_music() -> None:
    """12 minutes hold 2, 3, 3 and 4; then 4, 4 and 3, and the minute left holds no exercise."""
    strands = [
        stated(name, minutes)
        for name, minutes in zip("abcdefg", (2, 3, 3, 4, 4, 4, 3), strict=True)
    ]
    assert planned(strands, 12, 12) == ["a 2 b 3 c 3 d 4 | 20", "e 4 f 4 g 3 | 21"]


def test_minutes_that_music_had_come_back() -> None:
    """3 a day and an exercise of 4: 3 owed, then 6 less 4 leave 2 owed, then 5, then 4."""
    assert planned([stated("a", 4)], 3, 3, 3, 3, 3) == [
        " | 23",
        "a 4 | 19",
        "a 4 | 19",
        "a 4 | 19",
        " | 23",
    ]


def test_no_minutes_come_back_on_a_day_without_fundamentals() -> None:
    assert planned([stated("a", 4)], 3, 0, 3) == [" | 23", " | 20", "a 4 | 19"]


def test_music_keeps_half_of_its_own() -> None:
    """Music lends at most 4 of its 8, so 8 fit on every second day; with 10 owed too."""
    assert planned([stated("a", 11)], 10, 10, music=8) == [" | 18", "a 11 | 7"]
    assert planned([stated("a", 8)], 4, 4, 4, music=8) == [" | 12", "a 8 | 4", " | 12"]


def test_an_exercise_that_never_fits_has_what_is_left() -> None:
    """4 and half of 11 are 9: 11 minutes never fit, and 9 do once 4 and 1 more are owed."""
    assert planned([stated("a", 11)], 4, 4, music=11) == ["a 4 | 11", "a 4 | 11"]
    assert planned([stated("a", 9)], 4, 4, 4, music=11) == [" | 15", " | 15", "a 9 | 6"]


def test_an_exercise_without_stated_minutes_shares_what_is_left() -> None:
    """15 less 4 and 3 leave 8, over midway (7.5); 14 would leave 7, so b waits."""
    strands = [stated("a", 4), StrandShare("u", 1), stated("b", 3)]
    assert planned(strands, 15, 14) == ["a 4 u 8 b 3 | 20", "a 4 u 10 | 20"]


def test_the_order_given_is_kept_within_a_rehearsal() -> None:
    """d and e are furthest behind on the second day, and stand after a."""
    strands = [stated(name, 3) for name in "abcde"]
    assert planned(strands, 9, 9) == ["a 3 b 3 c 3 | 20", "a 3 d 3 e 3 | 20"]


def test_no_exercise_is_over_its_bound_nor_over_the_longest_block() -> None:
    bounded = StrandShare("a", 1, (LeveledExercise("a1", 1, 4, None, 3),))
    assert planned([bounded], 12) == ["a 3 | 29"]
    assert planned([stated("a", 5, 4)], 12) == ["a 4 | 28"]
    assert planned([stated("a", 15)], 20) == ["a 12 | 28"]


def test_without_music_stated_minutes_stretch() -> None:
    """10 minutes hold 4 and 3; the 3 left are shared as 4 to 3."""
    assert planned([stated("a", 4), stated("b", 3)], 10, music=0) == ["a 6 b 4 | 0"]


def test_without_music_strands_come_again_in_a_second_round() -> None:
    """30 are more than two blocks of 12."""
    assert planned([stated("a", 4), stated("b", 4)], 30, music=0) == ["a 10 b 10 a 10 | 0"]


def test_without_music_a_short_day_cuts_an_exercise() -> None:
    assert planned([stated("a", 4), stated("b", 4)], 2, music=0) == ["a 2 | 0"]


def test_minutes_that_no_exercise_may_have_stay_unfilled() -> None:
    found = strand_turns([stated("a", 2, 2)], [SharedTime(10, 0, 3, 12)], has_music=False)
    assert (turns(found[0]), found[0].unfilled) == ("a 2 | 0", 8)


def test_too_little_for_a_block_of_music_stays_with_fundamentals() -> None:
    """A short day whose music was lost: the minute left is no block of music."""
    found = strand_turns([stated("a", 4)], [SharedTime(5, 0, 3, 12)], has_music=True)
    assert turns(found[0]) == "a 5 | 0"


def test_exact_minutes_are_filled_and_nothing_is_lent() -> None:
    """3 owed from the first day; the second has its 5, the 4 stated stretched, and the third its 3 and 1."""
    usual, exact = SharedTime(3, 20, 3, 12), SharedTime(5, 20, 3, 12, exact=True)
    found = strand_turns([stated("a", 4)], [usual, exact, usual], has_music=True)
    assert [turns(day) for day in found] == [" | 23", "a 5 | 20", "a 4 | 19"]


def test_exact_minutes_give_way_to_an_upper_bound() -> None:
    exact = SharedTime(9, 20, 3, 12, exact=True)
    found = strand_turns([stated("a", 4, 5)], [exact], has_music=True)
    assert [turns(day) for day in found] == ["a 5 | 24"]


def test_a_level_moves_on_with_its_turns() -> None:
    strand = StrandShare("a", 1, (LeveledExercise("a1", 1, 2, 4), LeveledExercise("a2", 2, 2, 5)))
    days = [SharedTime(5, 20, 3, 12)] * 4
    found = strand_turns([strand], days, has_music=True)
    assert [(turn.exercise, turn.minutes) for day in found for turn in day.turns] == [
        ("a1", 4),
        ("a1", 4),
        ("a2", 5),
        ("a2", 5),
    ]


def test_a_weight_begins_at_one() -> None:
    with pytest.raises(ValueError, match="below 1"):
        StrandShare("a", 0)


def test_music_lends_half_of_its_minutes_unless_those_of_fundamentals_are_exact() -> None:
    assert SharedTime(12, 21, 2, 8).attainable == 22
    assert SharedTime(12, 21, 2, 8, exact=True).attainable == 12


def test_a_second_round_of_a_day_goes_on_where_the_first_one_ended() -> None:
    """36 minutes without music: three blocks of at most 12, each with the next exercise."""
    exercises = tuple(LeveledExercise(f"a{level}", level, 1) for level in (1, 2, 3, 4))
    days = [SharedTime(36, 0, 3, 12)] * 2
    found = strand_turns([StrandShare("a", 1, exercises)], days, has_music=False)
    assert [[turn.exercise for turn in day.turns] for day in found] == [
        ["a1", "a2", "a3"],
        ["a4", "a4", "a4"],
    ]
    both = [StrandShare("a", 1, exercises), *free(1, 1, 1)[1:]]
    (day,) = strand_turns(both, [SharedTime(60, 0, 3, 12)], has_music=False)
    assert [(turn.strand, turn.exercise) for turn in day.turns] == [
        ("a", "a1"),
        ("b", None),
        ("c", None),
        ("a", "a2"),
        ("b", None),
    ]
