"""Players counted once, against sets of players that are counted one by one."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.shared_players import together

BANDS = ("a", "b", "c", "d")
HIGH = {"flute": 5, "clarinet": 6, "trumpet": 6, "snare-drum": 6}
JAZZ = {"alto-saxophone": 2, "trumpet": 4, "trombone": 3}
DRUMLINE = {"snare-drum": 4, "bass-drum": 3}


def pair(one: str, other: str) -> frozenset[str]:
    return frozenset((one, other))


def test_a_player_of_two_bands_is_counted_once() -> None:
    """23 and 9 players, 5 of them the same: 27; four trumpets of both, one on another instrument."""
    found = together({"high": HIGH, "jazz": JAZZ}, {pair("high", "jazz"): 5})
    assert sum(found.values()) == 27
    assert found["trumpet"] == 6
    assert found["alto-saxophone"] + found["trombone"] == 4
    assert together({"high": HIGH, "jazz": JAZZ}, {}) == Counter(HIGH) + Counter(JAZZ)


def test_a_band_alone_keeps_its_players() -> None:
    shared = {pair("high", "jazz"): 5, pair("high", "drumline"): 6}
    assert together({"jazz": JAZZ}, shared) == JAZZ
    assert together({}, shared) == {}


def test_bands_in_a_row_are_linked_through_the_one_between() -> None:
    shared = {pair("high", "jazz"): 5, pair("high", "drumline"): 6}
    for order in ("jazz high drumline", "drumline jazz high", "high drumline jazz"):
        bands = {"high": HIGH, "jazz": JAZZ, "drumline": DRUMLINE}
        found = together({one: bands[one] for one in order.split()}, shared)
        assert sum(found.values()) == 23 + 9 + 7 - 5 - 6


@given(st.lists(st.sets(st.sampled_from(BANDS), min_size=1), max_size=20))
def test_there_are_never_fewer_than_the_players_themselves(players: list[set[str]]) -> None:
    """Each set names the bands of one player, all on one instrument."""
    counts = {band: {"horn": sum(band in one for one in players)} for band in BANDS}
    shared = {
        pair(*two): number
        for two in combinations(BANDS, 2)
        if (number := sum({*two} <= one for one in players))
    }
    found = sum(together(counts, shared).values())
    assert found >= len(players)
    if all(len(one) < 3 for one in players) and len(shared) <= 1:
        assert found == len(players)
