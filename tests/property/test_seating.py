"""Laws of set-ups and resets."""

from __future__ import annotations

from functools import reduce

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.seating import Setup, largest, reset, resets, setup
from tests.oracles.seating import applied

PLAYERS = st.dictionaries(
    st.sampled_from(["flute", "tuba", "percussion", "timpani", "electric-bass", "piano"]),
    st.integers(0, 30),
)
SETUPS = PLAYERS.map(setup)


@given(opening=SETUPS, setups=st.lists(SETUPS, min_size=1, max_size=6))
def test_through_all_resets_ends_at_the_last_set_up(opening: Setup, setups: list[Setup]) -> None:
    assert reduce(applied, resets(setups, opening), opening) == setups[-1]


@given(first=SETUPS, second=SETUPS)
def test_a_reset_undoes_its_opposite_and_moves_nothing_twice(first: Setup, second: Setup) -> None:
    there, back = reset(first, second), reset(second, first)
    assert (there.add, there.strike) == (back.strike, back.add)
    assert not {thing for thing, _ in there.add.counts} & {
        thing for thing, _ in there.strike.counts
    }


@given(setups=st.lists(SETUPS, max_size=6))
def test_nothing_has_to_be_added_to_the_largest(setups: list[Setup]) -> None:
    most = largest(setups)
    assert all(not reset(most, each).add.counts for each in setups)
    assert all(any(each.of(thing) == count for each in setups) for thing, count in most.counts)


@given(players=PLAYERS)
def test_every_player_sits_or_stands_somewhere(players: dict[str, int]) -> None:
    """Chair, stool, bench or station: at least one place a player."""
    stage = setup(players)
    places = sum(stage.of(place) for place in ("chair", "stool", "bench", "percussion-station"))
    assert places >= sum(players.values())
