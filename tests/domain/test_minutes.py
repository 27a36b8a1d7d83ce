"""Agendas, minute by minute, worked by hand (our own rules; the order of a rehearsal is common practice)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest

from handbook.domain.fundamentals import Exercise
from handbook.domain.minutes import (
    Agenda,
    AgendaError,
    AgendaFault,
    Block,
    BlockKind,
    FixedSlots,
    PassageShare,
    RehearsalNeed,
    agendas,
    before_music,
)
from handbook.domain.strand_turns import StrandShare

SLOTS = FixedSlots(set_up=4, warm_up=6, notices=3, close=3)
USUAL = RehearsalNeed(50, SLOTS, fundamentals=2, music=3)


def short(length: int) -> RehearsalNeed:
    return RehearsalNeed(length, SLOTS, 2, 3)


def strands(*ids: str) -> list[StrandShare]:
    return [StrandShare(id_, 1) for id_ in ids]


def passages(*ids: str, rehearsals: int) -> list[PassageShare]:
    return [PassageShare(id_, 2, (Fraction(1, 2),) * rehearsals) for id_ in ids]


def lines(agenda: Agenda) -> list[str]:
    """Write an agenda as a director would: start, what, minutes."""
    return [
        f"{block.start} {block.subject or block.kind} {block.minutes}" for block in agenda.blocks
    ]


def totals(agenda: Agenda) -> dict[str, int]:
    sums = dict.fromkeys(BlockKind, 0)
    for block in agenda.blocks:
        sums[block.kind] += block.minutes
    return {kind.value: minutes for kind, minutes in sums.items()}


def plan(
    needs: Sequence[RehearsalNeed], strand_ids: str = "abcd", passage_ids: str = "vwxyz"
) -> tuple[Agenda, ...]:
    return agendas(needs, strands(*strand_ids), passages(*passage_ids, rehearsals=len(needs)))


def test_a_usual_rehearsal_is_laid_out_in_order() -> None:
    """16 of 50 minutes are fixed; 34 by 2:3 are 13.6 and 20.4: 14 and 20."""
    assert lines(plan([USUAL])[0]) == [
        "0 set_up 4",
        "4 warm_up 6",
        "10 notices 3",
        "13 a 7",
        "20 b 7",
        "27 v 7",
        "34 w 7",
        "41 x 6",
        "47 close 3",
    ]


def test_an_agenda_counts_its_changes_and_its_longest_block() -> None:
    agenda = plan([USUAL])[0]
    assert (agenda.changes, agenda.longest) == (8, 7)
    assert (Agenda(()).changes, Agenda(()).longest) == (0, 0)


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
    agenda = plan([USUAL, USUAL, short(length)])[2]
    assert list(totals(agenda).values()) == [set_up, warm_up, notices, fundamentals, music, close]


def test_of_two_usual_lengths_the_longer_is_usual() -> None:
    agenda = plan([short(45), short(50)])[0]
    assert (totals(agenda)["fundamentals"], totals(agenda)["music"]) == (14, 15)


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
    agenda = plan([RehearsalNeed(50, SLOTS, fundamentals, music)])[0]
    assert (totals(agenda)["fundamentals"], totals(agenda)["music"]) == expected


def test_without_strands_all_is_music_and_without_passages_all_is_fundamentals() -> None:
    assert totals(plan([USUAL], strand_ids="")[0])["music"] == 34
    assert totals(plan([USUAL], passage_ids="")[0])["fundamentals"] == 34


def test_what_a_lone_strand_cannot_hold_goes_to_music() -> None:
    """20 and 14 minutes: the strand has one block of 12, music the other 22."""
    agenda = plan([RehearsalNeed(50, SLOTS, 20, 14)], "a", "v")[0]
    assert lines(agenda)[3:-1] == ["13 a 12", "25 v 11", "36 v 11"]


def test_the_minutes_of_an_exercise_reach_the_agenda() -> None:
    """14 minutes of fundamentals: 2, 4, 4 and 3, one left for music (20 of its own)."""
    shares = [
        StrandShare(name, 1, (Exercise(f"{name}1", 1, 4, minutes),))
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
    agenda = plan([USUAL, need, USUAL])[1]
    assert (totals(agenda)["fundamentals"], totals(agenda)["music"]) == expected


def test_a_rehearsal_that_nothing_may_fill_is_named() -> None:
    """A rehearsal of fundamentals alone, whose only exercise has at most 3 minutes: 31 of 34 stay."""
    bounded = StrandShare("a", 1, (Exercise("a1", 1, 4, 2, 3),))
    with pytest.raises(AgendaError) as refused:
        agendas([USUAL], [bounded], [])
    assert refused.value.kind is AgendaFault.EXERCISES_AT_MOST
    assert refused.value.unfilled == 31


def test_a_lone_passage_without_strands_is_broken_up_all_the_same() -> None:
    assert lines(plan([USUAL], "", "v")[0])[3:-1] == ["13 v 12", "25 v 11", "36 v 11"]


def test_a_longest_block_of_the_stage_is_kept() -> None:
    agenda = plan([RehearsalNeed(50, SLOTS, 2, 3, longest_block=5)])[0]
    assert [block.minutes for block in agenda.blocks if block.subject] == [
        4,
        4,
        3,
        3,
        4,
        4,
        4,
        4,
        4,
    ]


def test_a_slot_of_no_minutes_is_no_block() -> None:
    agenda = plan([RehearsalNeed(40, FixedSlots(0, 0, 0, 0), 1, 1)])[0]
    assert {block.kind for block in agenda.blocks} == {BlockKind.FUNDAMENTALS, BlockKind.MUSIC}
    assert agenda.blocks[0] == Block(BlockKind.FUNDAMENTALS, 0, 7, "a")


def test_urgent_and_distant_passages_get_more() -> None:
    """Priority times distance: v far off and urgent, w near its goal."""
    far, near = (Fraction(1, 2),) * 6, (Fraction(1, 10),) * 6
    agenda_rows = agendas(
        [USUAL] * 6, strands("a", "b"), [PassageShare("v", 3, far), PassageShare("w", 1, near)]
    )
    minutes = {
        id_: sum(b.minutes for row in agenda_rows for b in row.blocks if b.subject == id_)
        for id_ in "vw"
    }
    assert minutes["v"] > minutes["w"] > 0


@pytest.mark.parametrize(
    ("needs", "strand_ids", "passage_ids", "kind", "place"),
    [
        ([USUAL, short(6)], "a", "v", AgendaFault.TOO_SHORT, 1),
        ([short(10), USUAL], "", "", AgendaFault.NOTHING_TO_REHEARSE, 1),
    ],
)
def test_a_rehearsal_without_an_agenda_is_named(
    needs: list[RehearsalNeed], strand_ids: str, passage_ids: str, kind: AgendaFault, place: int
) -> None:
    with pytest.raises(AgendaError) as refused:
        plan(needs, strand_ids, passage_ids)
    assert (refused.value.kind, refused.value.rehearsal) == (kind, place)


def test_distances_must_match_the_rehearsals() -> None:
    with pytest.raises(ValueError, match="one distance a rehearsal"):
        agendas([USUAL], [], passages("v", rehearsals=2))


def test_impossible_shares_cannot_be_made() -> None:
    with pytest.raises(ValueError, match="no block"):
        RehearsalNeed(50, SLOTS, 1, 1, longest_block=2)
    with pytest.raises(ValueError, match="weight above zero"):
        RehearsalNeed(50, SLOTS, 0, 0)
    with pytest.raises(ValueError, match="below 1"):
        StrandShare("a", 0)
    with pytest.raises(ValueError, match="out of bounds"):
        PassageShare("v", 4, ())
    with pytest.raises(ValueError, match="out of bounds"):
        PassageShare("v", 1, (Fraction(11, 10),))
