"""Agendas, minute by minute, worked by hand (our own rules; the order of a rehearsal is common practice)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest

from handbook.domain.fundamentals import LeveledExercise
from handbook.domain.minutes import (
    Agenda,
    AgendaError,
    AgendaFault,
    BeforeMusic,
    Block,
    BlockKind,
    FixedSlots,
    RehearsalNeed,
    agenda,
    before_music,
)
from handbook.domain.rotation import StrandShare
from handbook.domain.season import MusicBlock, MusicKind

SLOTS = FixedSlots(set_up=4, warm_up=6, notices=3, close=3)
USUAL = RehearsalNeed(50, SLOTS, fundamentals=2, music=3)


PARTS = (
    BlockKind.SET_UP,
    BlockKind.WARM_UP,
    BlockKind.NOTICES,
    BlockKind.FUNDAMENTALS,
    BlockKind.MUSIC,
    BlockKind.CLOSE,
)


def short(length: int) -> RehearsalNeed:
    return RehearsalNeed(length, SLOTS, 2, 3)


def strands(*ids: str) -> list[StrandShare]:
    return [StrandShare(id_, 1) for id_ in ids]


def music(*minutes: int) -> list[Block]:
    """Give blocks of music, one passage after another."""
    return [
        Block(BlockKind.MUSIC, 0, whole, music=MusicBlock(MusicKind.PASSAGE, place, whole))
        for place, whole in enumerate(minutes)
    ]


def lines(laid_out: Agenda) -> list[str]:
    """Write an agenda as a director would: start, what, minutes."""
    return [
        f"{block.start} {block.subject or block.kind} {block.minutes}" for block in laid_out.blocks
    ]


def totals(laid_out: Agenda) -> dict[str, int]:
    sums = dict.fromkeys(PARTS, 0)
    for block in laid_out.blocks:
        sums[block.kind] += block.minutes
    return {kind.value: minutes for kind, minutes in sums.items()}


def plan(
    needs: Sequence[RehearsalNeed], strand_ids: str = "abcd", *, has_music: bool = True
) -> list[Agenda]:
    """Lay rehearsals out with all their music in one block."""
    return [
        agenda(before, music(before.music) if before.music else [], BlockKind.MUSIC)
        for before in before_music(needs, strands(*strand_ids), has_music=has_music)
    ]


def test_a_usual_rehearsal_is_laid_out_in_order() -> None:
    """16 of 50 minutes are fixed; 34 by 2:3 are 13.6 and 20.4: 14 and 20."""
    before = before_music([USUAL], strands(*"abcd"), has_music=True)[0]
    assert before.music == 20
    laid_out = agenda(before, music(7, 7, 6), BlockKind.MUSIC)
    assert lines(laid_out) == [
        "0 set_up 4",
        "4 warm_up 6",
        "10 notices 3",
        "13 a 7",
        "20 b 7",
        "27 music 7",
        "34 music 7",
        "41 music 6",
        "47 close 3",
    ]
    assert [block.music.index for block in laid_out.blocks if block.music] == [0, 1, 2]
    assert (laid_out.changes, laid_out.longest) == (8, 7)
    assert (Agenda(()).changes, Agenda(()).longest) == (0, 0)


BEFORE = BeforeMusic(FixedSlots(2, 0, 1, 3), (Block(BlockKind.FUNDAMENTALS, 0, 6, "a"),), 20)


def test_what_music_leaves_lengthens_its_last_block() -> None:
    """2 + 1 + 6 + 5 + 15 + 3 = 32; of the 20 minutes of music 8 and 5 are given, 7 are left."""
    laid_out = agenda(BEFORE, music(8, 5), BlockKind.MUSIC)
    assert lines(laid_out)[2:] == ["3 a 6", "9 music 8", "17 music 12", "29 close 3"]


def test_minutes_that_are_not_for_music_are_what_the_rehearsal_is() -> None:
    laid_out = agenda(BEFORE, music(8), BlockKind.SECTIONAL)
    assert lines(laid_out)[3:] == ["9 music 8", "17 sectional 12", "29 close 3"]
    assert lines(agenda(BEFORE, [], BlockKind.ASSEMBLY))[3:] == ["9 assembly 20", "29 close 3"]
    assert len(agenda(BEFORE, music(20), BlockKind.SECTIONAL).blocks) == 5


def test_without_any_music_the_last_of_the_fundamentals_goes_on() -> None:
    assert lines(agenda(BEFORE, [], BlockKind.MUSIC))[2:] == ["3 a 26", "29 close 3"]


@pytest.mark.parametrize(
    ("length", "set_up", "warm_up", "notices", "fundamentals", "music", "close"),
    [
        (50, 4, 6, 3, 14, 20, 3),
        (45, 4, 6, 3, 14, 15, 3),  # music shrinks first
        (35, 4, 6, 3, 10, 9, 3),  # down to half of what is left, then both
        (30, 4, 6, 3, 7, 7, 3),
        (25, 4, 6, 3, 5, 4, 3),
        (21, 4, 6, 3, 5, 0, 3),  # 2 minutes of music are no block: they go to fundamentals
        (17, 4, 6, 3, 1, 0, 3),  # the day forces a short block
        (16, 4, 6, 3, 0, 0, 3),
        (14, 4, 6, 1, 0, 0, 3),  # then notices
        (13, 4, 6, 0, 0, 0, 3),
        (10, 4, 3, 0, 0, 0, 3),  # then the warm-up
        (7, 4, 0, 0, 0, 0, 3),  # never set-up or close
        (70, 4, 6, 3, 22, 32, 3),  # a long day is shared as ever: 54 by 2:3 are 21.6 and 32.4
    ],
)
def test_a_short_day_shrinks_music_first(
    length: int, set_up: int, warm_up: int, notices: int, fundamentals: int, music: int, close: int
) -> None:
    laid_out = plan([USUAL, USUAL, short(length)])[2]
    assert list(totals(laid_out).values()) == [set_up, warm_up, notices, fundamentals, music, close]


def test_of_two_usual_lengths_the_longer_is_usual() -> None:
    laid_out = plan([short(45), short(50)])[0]
    assert (totals(laid_out)["fundamentals"], totals(laid_out)["music"]) == (14, 15)


@pytest.mark.parametrize(
    ("fundamentals", "music", "expected"),
    [
        (1, 33, (3, 31)),  # 1 minute is no block: made up to 3
        (33, 1, (31, 3)),
        (0, 1, (0, 34)),
        (1, 0, (34, 0)),
    ],
)
def test_a_small_share_is_made_up_to_one_block(
    fundamentals: int, music: int, expected: tuple[int, int]
) -> None:
    laid_out = plan([RehearsalNeed(50, SLOTS, fundamentals, music)])[0]
    assert (totals(laid_out)["fundamentals"], totals(laid_out)["music"]) == expected


@pytest.mark.parametrize(
    ("rest", "expected"),
    [
        (5, (0, 5)),  # 1 and 4: two blocks of 3 do not fit
        (6, (3, 3)),  # 1 and 5: just two blocks
    ],
)
def test_a_share_is_made_up_only_where_two_blocks_fit(rest: int, expected: tuple[int, int]) -> None:
    laid_out = plan([RehearsalNeed(16 + rest, SLOTS, 1, rest - 1)])[0]
    assert (totals(laid_out)["fundamentals"], totals(laid_out)["music"]) == expected


def test_without_strands_all_is_music_and_without_passages_all_is_fundamentals() -> None:
    assert totals(plan([USUAL], strand_ids="")[0])["music"] == 34
    assert totals(plan([USUAL], has_music=False)[0])["fundamentals"] == 34


def test_what_a_lone_strand_cannot_hold_goes_to_music() -> None:
    """20 and 14 minutes: the strand has one block of 12, music the other 22."""
    laid_out = plan([RehearsalNeed(50, SLOTS, 20, 14)], "a")[0]
    assert lines(laid_out)[3:-1] == ["13 a 12", "25 music 22"]


def test_the_minutes_of_an_exercise_reach_the_agenda() -> None:
    """14 minutes of fundamentals: 2, 4, 4 and 3, one left for music (20 of its own)."""
    shares = [
        StrandShare(name, 1, (LeveledExercise(f"{name}1", 1, 4, minutes),))
        for name, minutes in zip("abcde", (2, 4, 4, 3, 4), strict=True)
    ]
    before = before_music([USUAL], shares, has_music=True)[0]
    assert [(block.subject, block.exercise, block.minutes) for block in before.fundamentals] == [
        ("a", "a1", 2),
        ("b", "b1", 4),
        ("c", "c1", 4),
        ("d", "d1", 3),
    ]
    assert before.music == 21


@pytest.mark.parametrize(("exactly", "expected"), [(0, (0, 34)), (5, (5, 29)), (50, (34, 0))])
def test_the_director_may_set_the_minutes_of_fundamentals(
    exactly: int, expected: tuple[int, int]
) -> None:
    need = RehearsalNeed(50, SLOTS, 2, 3, exactly=exactly)
    laid_out = plan([USUAL, need, USUAL])[1]
    assert (totals(laid_out)["fundamentals"], totals(laid_out)["music"]) == expected


def test_a_rehearsal_that_nothing_may_fill_is_named() -> None:
    """A rehearsal of fundamentals alone, whose only exercise has at most 3 minutes: 31 of 34 stay."""
    bounded = StrandShare("a", 1, (LeveledExercise("a1", 1, 4, 2, 3),))
    with pytest.raises(AgendaError) as refused:
        before_music([USUAL], [bounded], has_music=False)
    assert refused.value.kind is AgendaFault.EXERCISES_AT_MOST
    assert refused.value.unfilled == 31


def test_a_longest_block_of_the_stage_is_kept() -> None:
    """14 minutes in blocks of at most 5: 4 4 3 3."""
    laid_out = plan([RehearsalNeed(50, SLOTS, 2, 3, longest_block=5)])[0]
    assert [block.minutes for block in laid_out.blocks if block.subject] == [4, 4, 3, 3]


def test_a_slot_of_no_minutes_is_no_block() -> None:
    laid_out = plan([RehearsalNeed(40, FixedSlots(0, 0, 0, 0), 1, 1)])[0]
    assert {block.kind for block in laid_out.blocks} == {BlockKind.FUNDAMENTALS, BlockKind.MUSIC}
    assert laid_out.blocks[0] == Block(BlockKind.FUNDAMENTALS, 0, 7, "a")


@pytest.mark.parametrize(
    ("needs", "strand_ids", "has_music", "kind", "place"),
    [
        ([USUAL, short(6)], "a", True, AgendaFault.TOO_SHORT, 1),
        ([short(10), USUAL], "", False, AgendaFault.NOTHING_TO_REHEARSE, 1),
    ],
)
def test_a_rehearsal_without_an_agenda_is_named(
    needs: list[RehearsalNeed], strand_ids: str, has_music: bool, kind: AgendaFault, place: int
) -> None:
    with pytest.raises(AgendaError) as refused:
        plan(needs, strand_ids, has_music=has_music)
    assert (refused.value.kind, refused.value.rehearsal) == (kind, place)


def test_impossible_shares_cannot_be_made() -> None:
    with pytest.raises(ValueError, match="no block"):
        RehearsalNeed(50, SLOTS, 1, 1, longest_block=2)
    with pytest.raises(ValueError, match="weight above zero"):
        RehearsalNeed(50, SLOTS, 0, 0)
    with pytest.raises(ValueError, match="below 1"):
        StrandShare("a", 0)


def test_changes_an_hour_at_this_pace() -> None:
    """Eleven blocks in 47 minutes: ten changes, 60 times 10 over 47 of them an hour."""
    blocks = [Block(BlockKind.MUSIC, 4 * n, 4) for n in range(10)]
    made = Agenda((*blocks, Block(BlockKind.CLOSE, 40, 7)))
    assert made.changes_an_hour == Fraction(600, 47)
    assert Agenda(()).changes_an_hour == 0
