"""Turns of passages by urgency, with none left out for long (our own rules, no source)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from handbook.domain.passage_turns import MusicTime, longest_absence, passage_turns


def evenly(*weights: int, rehearsals: int) -> list[list[Fraction]]:
    return [[Fraction(weight)] * rehearsals for weight in weights]


def thirty(rehearsals: int, blocks: int = 3) -> list[MusicTime]:
    return [MusicTime(30, blocks, 3, 12)] * rehearsals


@pytest.mark.parametrize(
    ("blocks", "passages", "expected"),
    [
        ((3, 3, 3), 3, 2),
        ((3, 3, 3), 6, 3),
        ((3, 3, 3), 7, 4),
        ((3, 3, 3, 1, 3, 3, 3), 6, 4),  # one short day: any three rehearsals hold at least 7
        ((1, 1), 6, 3),  # cannot be
        ((), 2, 1),
    ],
)
def test_the_longest_absence_follows_from_the_blocks(
    blocks: tuple[int, ...], passages: int, expected: int
) -> None:
    assert longest_absence(blocks, passages) == expected


def test_equal_passages_take_equal_turns() -> None:
    turns = passage_turns(thirty(4), evenly(1, 1, 1, 1, 1, 1, rehearsals=4))
    assert turns == (((0, 10), (1, 10), (2, 10)), ((3, 10), (4, 10), (5, 10))) * 2


def test_minutes_follow_urgency() -> None:
    """30 minutes by 3:2:1 are 15 10 5; one block holds 12, and the 3 over go in turn."""
    turns = passage_turns(thirty(1), evenly(3, 2, 1, rehearsals=1))
    assert turns[0] == ((0, 12), (1, 12), (2, 6))
    assert passage_turns([MusicTime(24, 3, 3, 12)], evenly(3, 2, 1, rehearsals=1))[0] == (
        (0, 12),
        (1, 8),
        (2, 4),
    )


def test_an_urgent_passage_may_take_half_of_the_blocks() -> None:
    turns = passage_turns(thirty(1, blocks=4), evenly(10, 1, 1, 1, rehearsals=1))
    assert [passage for passage, _ in turns[0]] == [0, 0, 1, 2]
    assert sum(minutes for passage, minutes in turns[0] if passage == 0) > 15


def test_over_the_cycle_minutes_follow_urgency() -> None:
    """Of 12 rehearsals of 30 minutes a 2:1:1:1:1 share is 120 minutes, then 60 each."""
    turns = passage_turns(thirty(12), evenly(2, 1, 1, 1, 1, rehearsals=12))
    totals = [
        sum(minutes for turn in turns for passage, minutes in turn if passage == each)
        for each in range(5)
    ]
    assert sum(totals) == 360
    assert totals == pytest.approx([120, 60, 60, 60, 60], abs=12)


def test_the_least_urgent_passage_still_comes() -> None:
    times, urgency = thirty(9), evenly(100, 100, 100, 100, 1, rehearsals=9)
    turns = passage_turns(times, urgency)
    window = longest_absence([time.blocks for time in times], 5)
    assert window == 3
    for first in range(9 - window + 1):
        assert any(passage == 4 for turn in turns[first : first + window] for passage, _ in turn)


def test_urgency_that_moves_moves_the_minutes() -> None:
    rising = [[Fraction(1), Fraction(9)], [Fraction(9), Fraction(1)]]
    early, late = passage_turns([MusicTime(20, 2, 3, 12)] * 2, rising)
    assert early == ((0, 8), (1, 12))
    assert late == ((0, 12), (1, 8))


def test_a_rehearsal_without_music_has_no_turns() -> None:
    turns = passage_turns(
        [MusicTime(0, 0, 3, 12), MusicTime(10, 1, 3, 12)], evenly(1, rehearsals=2)
    )
    assert turns == ((), ((0, 10),))


def test_a_lone_passage_is_broken_up() -> None:
    assert passage_turns(thirty(1), evenly(1, rehearsals=1)) == (((0, 10), (0, 10), (0, 10)),)
