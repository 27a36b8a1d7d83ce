"""Laws of room use."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.room_use import ItemType, Purpose, Ref, RoomUse, overlapping_uses
from handbook.domain.run_of_show import later

NOON = datetime(2026, 12, 10, 12, tzinfo=ZoneInfo("America/New_York"))
SHARING = frozenset({frozenset(("a", "b"))})


def _use(key: int, room: str, start: int, minutes: int, ensemble: str, purpose: Purpose) -> RoomUse:
    begins = later(NOON, start * 60)
    ref = Ref(ItemType.USE, key)
    return RoomUse(ref, room, begins, later(begins, minutes * 60), (ensemble,), purpose)


USES = st.lists(
    st.tuples(
        st.sampled_from(["band", "choir"]),
        st.integers(0, 60),
        st.integers(0, 30),
        st.sampled_from("abc"),
        st.sampled_from(Purpose),
    ),
    max_size=8,
).map(lambda rows: [_use(key, *row) for key, row in enumerate(rows)])


def _minutes(use: RoomUse) -> set[int]:
    start = int((use.start - NOON).total_seconds()) // 60
    return set(range(start, start + int((use.end - use.start).total_seconds()) // 60))


def _clash_expected(first: RoomUse, second: RoomUse) -> bool:
    """Decide minute by minute: some whole minute is claimed by both, for one room or shared players."""
    players = {first.ensembles[0], second.ensembles[0]}
    wanted_twice = len(players) == 1 or frozenset(players) in SHARING
    return bool(_minutes(first) & _minutes(second)) and (first.room == second.room or wanted_twice)


@given(uses=USES)
def test_conflicts_are_those_of_a_minute_by_minute_count(uses: list[RoomUse]) -> None:
    found = {(each.first.key, each.second.key) for each in overlapping_uses(uses, SHARING)}
    expected = {
        (first.ref.key, second.ref.key)
        for place, first in enumerate(uses)
        for second in uses[place + 1 :]
        if _clash_expected(first, second)
    }
    assert found == expected


@given(uses=USES)
def test_a_conflict_lies_inside_both_uses(uses: list[RoomUse]) -> None:
    by_key = {use.ref.key: use for use in uses}
    for each in overlapping_uses(uses, SHARING):
        for use in (by_key[each.first.key], by_key[each.second.key]):
            assert use.start <= each.start < each.end <= use.end
