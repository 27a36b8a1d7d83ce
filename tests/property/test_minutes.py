"""Laws of agendas: every minute once, nothing too long, nobody forgotten."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import ceil

from handbook.domain.passage_turns import longest_absence
from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.domain.apportion import largest_remainder, within_bounds
from handbook.domain.minutes import (
    Agenda,
    BlockKind,
    FixedSlots,
    PassageShare,
    RehearsalNeed,
    agendas,
)
from handbook.domain.strand_turns import StrandShare

SLOTS = st.builds(
    FixedSlots, st.integers(0, 6), st.integers(0, 12), st.integers(0, 6), st.integers(0, 5)
)


@st.composite
def cycles(draw: st.DrawFn) -> tuple[list[RehearsalNeed], list[StrandShare], list[PassageShare]]:
    slots = draw(SLOTS)
    lengths = st.sampled_from([20, 35, 45, 50, 90]) | st.integers(slots.set_up + slots.close, 180)
    longest = draw(st.integers(4, 20))
    needs = draw(
        st.lists(
            st.builds(
                RehearsalNeed,
                lengths,
                st.just(slots),
                st.integers(1, 5),
                st.integers(0, 5),
                st.just(longest),
            ),
            min_size=1,
            max_size=12,
        )
    )
    strands = draw(st.lists(st.integers(1, 5), min_size=1, max_size=6))
    priorities = draw(st.lists(st.integers(1, 3), max_size=9))
    distance = st.tuples(*[st.fractions(0, 1, max_denominator=20)] * len(needs))
    return (
        needs,
        [StrandShare(f"s{place}", weight) for place, weight in enumerate(strands)],
        [
            PassageShare(f"p{place}", priority, draw(distance))
            for place, priority in enumerate(priorities)
        ],
    )


def minutes_of(agenda: Agenda, kind: BlockKind) -> list[int]:
    return [block.minutes for block in agenda.blocks if block.kind is kind]


@settings(max_examples=60, deadline=None)
@given(cycles())
def test_every_minute_is_planned_once(
    cycle: tuple[list[RehearsalNeed], list[StrandShare], list[PassageShare]],
) -> None:
    needs = cycle[0]
    for need, agenda in zip(needs, agendas(*cycle), strict=True):
        assert sum(block.minutes for block in agenda.blocks) == need.length
        assert all(block.minutes > 0 for block in agenda.blocks)
        for block, following in pairwise(agenda.blocks):
            assert block.start + block.minutes == following.start
        assert sum(minutes_of(agenda, BlockKind.SET_UP)) == need.slots.set_up
        assert sum(minutes_of(agenda, BlockKind.CLOSE)) == need.slots.close


@settings(max_examples=60, deadline=None)
@given(cycles())
def test_no_block_is_too_long_nor_needlessly_short(
    cycle: tuple[list[RehearsalNeed], list[StrandShare], list[PassageShare]],
) -> None:
    for need, agenda in zip(cycle[0], agendas(*cycle), strict=True):
        for kind in (BlockKind.FUNDAMENTALS, BlockKind.MUSIC):
            blocks = minutes_of(agenda, kind)
            assert max(blocks, default=0) <= need.longest_block
            must = ceil(Fraction(sum(blocks), need.longest_block))
            if sum(blocks) >= need.shortest_block * must:
                assert min(blocks, default=need.shortest_block) >= need.shortest_block


@settings(max_examples=60, deadline=None)
@given(cycles())
def test_fundamentals_come_before_music(
    cycle: tuple[list[RehearsalNeed], list[StrandShare], list[PassageShare]],
) -> None:
    order = list(BlockKind)
    for agenda in agendas(*cycle):
        places = [order.index(block.kind) for block in agenda.blocks]
        assert places == sorted(places)


@settings(max_examples=60, deadline=None)
@given(cycles())
def test_no_passage_follows_itself_unless_it_has_most_of_the_blocks(
    cycle: tuple[list[RehearsalNeed], list[StrandShare], list[PassageShare]],
) -> None:
    for agenda in agendas(*cycle):
        subjects = [block.subject for block in agenda.blocks if block.kind is BlockKind.MUSIC]
        most = max((subjects.count(one) for one in subjects), default=0)
        if 2 * most <= len(subjects) + 1:
            assert all(one != following for one, following in pairwise(subjects))


@settings(max_examples=60, deadline=None)
@given(cycles())
def test_no_passage_starves(
    cycle: tuple[list[RehearsalNeed], list[StrandShare], list[PassageShare]],
) -> None:
    played = [
        [block.subject for block in agenda.blocks if block.kind is BlockKind.MUSIC]
        for agenda in agendas(*cycle)
    ]
    with_music = [subjects for subjects in played if subjects]
    passages = {passage.id for passage in cycle[2]}
    window = longest_absence([len(subjects) for subjects in with_music], len(passages))
    for first in range(len(with_music) - window + 1):
        assert {
            one for subjects in with_music[first : first + window] for one in subjects
        } == passages


@given(st.integers(0, 60), st.lists(st.integers(0, 9), min_size=1, max_size=6).filter(any))
def test_bounds_that_do_not_bind_change_nothing(total: int, weights: list[int]) -> None:
    assert within_bounds(total, weights, [(0, total)] * len(weights)) == largest_remainder(
        total, weights
    )
