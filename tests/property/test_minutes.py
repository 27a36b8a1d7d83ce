"""Laws of agendas: every minute once, in order, nothing too long."""

from __future__ import annotations

from itertools import pairwise
from math import ceil

from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.domain.apportion import largest_remainder, within_bounds
from handbook.domain.minutes import (
    Block,
    BlockKind,
    FixedSlots,
    RehearsalNeed,
    agenda,
    before_music,
)
from handbook.domain.rotation import StrandShare

SLOTS = st.builds(
    FixedSlots, st.integers(0, 6), st.integers(0, 12), st.integers(0, 6), st.integers(0, 5)
)
EXAMPLES = settings(max_examples=60, deadline=None)


@st.composite
def cycles(draw: st.DrawFn) -> tuple[list[RehearsalNeed], list[StrandShare]]:
    slots = draw(SLOTS)
    lengths = st.sampled_from([20, 35, 45, 50, 90]) | st.integers(slots.set_up + slots.close, 180)
    longest = draw(st.integers(4, 20))
    need = st.builds(
        RehearsalNeed,
        lengths,
        st.just(slots),
        st.integers(1, 5),
        st.integers(0, 5),
        st.just(longest),
        exactly=st.none() | st.integers(0, 40),
    )
    weights = draw(st.lists(st.integers(1, 5), min_size=1, max_size=6))
    return (
        draw(st.lists(need, min_size=1, max_size=12)),
        [StrandShare(f"s{place}", weight) for place, weight in enumerate(weights)],
    )


@EXAMPLES
@given(cycles())
def test_slots_fundamentals_and_music_sum_to_the_rehearsal(
    cycle: tuple[list[RehearsalNeed], list[StrandShare]],
) -> None:
    needs, strands = cycle
    for need, before in zip(needs, before_music(needs, strands, has_music=True), strict=True):
        slots = before.slots
        fixed = slots.set_up + slots.warm_up + slots.notices + slots.close
        fundamentals = sum(block.minutes for block in before.fundamentals)
        assert fixed + fundamentals + before.music == need.length
        assert (slots.set_up, slots.close) == (need.slots.set_up, need.slots.close)
        assert before.music >= 0


@EXAMPLES
@given(cycles())
def test_no_block_of_fundamentals_is_too_long_nor_needlessly_short(
    cycle: tuple[list[RehearsalNeed], list[StrandShare]],
) -> None:
    needs, strands = cycle
    for need, before in zip(needs, before_music(needs, strands, has_music=True), strict=True):
        blocks = [block.minutes for block in before.fundamentals]
        assert max(blocks, default=0) <= need.longest_block
        must = ceil(sum(blocks) / need.longest_block)
        if sum(blocks) >= need.shortest_block * must:
            assert min(blocks, default=need.shortest_block) >= need.shortest_block


@EXAMPLES
@given(cycles(), st.sampled_from([BlockKind.MUSIC, BlockKind.SECTIONAL]), st.data())
def test_an_agenda_has_every_minute_once_and_in_order(
    cycle: tuple[list[RehearsalNeed], list[StrandShare]], rest: BlockKind, data: st.DataObject
) -> None:
    needs, strands = cycle
    order = list(BlockKind)
    for need, before in zip(needs, before_music(needs, strands, has_music=True), strict=True):
        share = data.draw(st.integers(0, before.music))
        music = [Block(BlockKind.MUSIC, 0, share)] if share else []
        blocks = agenda(before, music, rest).blocks
        for block, following in pairwise(blocks):
            assert block.start + block.minutes == following.start
        assert all(block.minutes > 0 for block in blocks)
        total = sum(block.minutes for block in blocks)
        # minutes for music that nothing can play lengthen the last block: there must be one
        if share or before.fundamentals or rest is not BlockKind.MUSIC:
            assert total == need.length
        places = [order.index(block.kind) for block in blocks]
        assert places == sorted(places)


@given(st.integers(0, 60), st.lists(st.integers(0, 9), min_size=1, max_size=6).filter(any))
def test_bounds_that_do_not_bind_change_nothing(total: int, weights: list[int]) -> None:
    assert within_bounds(total, weights, [(0, total)] * len(weights)) == largest_remainder(
        total, weights
    )
