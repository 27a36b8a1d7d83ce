"""Rooms, players and hours of a concert evening (common practice, no source)."""

from __future__ import annotations

from datetime import datetime
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest

from handbook.domain.room_use import (
    Conflict,
    ItemType,
    OpeningHours,
    Purpose,
    Ref,
    RoomUse,
    calls_before_school_out,
    outside_opening,
    overlapping_uses,
    past_evening_limit,
    share_players,
    sharing_pairs,
    stage_uses,
)
from handbook.domain.run_of_show import ItemKind, ShowItem, numbered, run_of_show

HOME = ZoneInfo("America/Chicago")
SHARING = sharing_pairs({"jazz": ["symphonic"], "symphonic": [], "concert": []})


def at(clock: str) -> datetime:
    return datetime.fromisoformat(f"2026-12-10T{clock}").replace(tzinfo=HOME)


def use(
    key: str,
    room: str,
    span: str,
    *ensembles: str,
    purpose: Purpose = Purpose.WARM_UP,
    wanted: str = "",
) -> RoomUse:
    (start, end), (first, last) = span.split("-"), (wanted or span).split("-")
    inside = (at(first), at(last)) if wanted else None
    return RoomUse(Ref(ItemType.USE, key), room, at(start), at(end), ensembles, purpose, inside)


def told(conflicts: tuple[Conflict, ...]) -> list[str]:
    return [
        f"{each.clash} {each.first.key} {each.second.key} {each.start:%H:%M}-{each.end:%H:%M}"
        for each in conflicts
    ]


ON_STAGE = use("show", "stage", "19:00-19:30", "symphonic", purpose=Purpose.PERFORMANCE)


@pytest.mark.parametrize(
    ("uses", "expected"),
    [
        pytest.param(
            [
                use("a", "band", "18:00-18:30", "concert"),
                use("b", "band", "18:20-18:50", "beginners"),
            ],
            ["warm_ups_together a b 18:20-18:30"],
            id="one room for two ensembles",
        ),
        pytest.param(
            [
                use("a", "band", "18:00-19:30", "concert", wanted="18:00-18:30"),
                use("b", "band", "18:20-19:50", "beginners", wanted="18:30-19:00"),
            ],
            [],
            id="two bands that warm up in turn leave their cases in one room",
        ),
        pytest.param(
            [
                use("a", "band", "18:00-19:30", "concert", wanted="18:00-18:30"),
                use("b", "band", "19:00-19:15", "beginners", purpose=Purpose.OTHER),
            ],
            ["room_twice a b 19:00-19:15"],
            id="what else is in a room is in the way of cases",
        ),
        pytest.param(
            [
                use("a", "band", "18:00-18:30", "concert"),
                use("b", "band", "18:30-19:00", "beginners"),
            ],
            [],
            id="back to back is no conflict",
        ),
        pytest.param(
            [
                use("a", "band", "18:00-18:30", "concert"),
                use("b", "choir", "18:00-18:30", "beginners"),
            ],
            [],
            id="two rooms, no players in common",
        ),
        pytest.param(
            [
                use("a", "band", "18:00-18:30", "concert"),
                use("b", "choir", "18:10-18:40", "concert"),
            ],
            ["players_twice a b 18:10-18:30"],
            id="one ensemble in two places",
        ),
        pytest.param(
            [
                use("a", "band", "18:00-18:30", "symphonic"),
                use("b", "choir", "18:10-18:20", "jazz"),
            ],
            ["players_twice a b 18:10-18:20"],
            id="shared players in two places, said by the other side",
        ),
        pytest.param(
            [use("a", "band", "18:00-18:30", "jazz"), use("b", "band", "18:10-18:20", "symphonic")],
            ["room_twice a b 18:10-18:20"],
            id="one cause, one conflict: one room, shared players",
        ),
        pytest.param(
            [ON_STAGE, use("late", "band", "18:50-19:10", "symphonic")],
            ["warm_up_over_performance show late 19:00-19:10"],
            id="warm-up over own performance",
        ),
        pytest.param(
            [use("late", "band", "19:20-19:40", "jazz"), ON_STAGE],
            ["warm_up_over_performance late show 19:20-19:30"],
            id="warm-up over the performance of shared players",
        ),
        pytest.param(
            [ON_STAGE, use("next", "band", "19:00-19:30", "concert")],
            [],
            id="others warm up while they play",
        ),
        pytest.param(
            [use("set-up", "stage", "18:00-19:10", purpose=Purpose.OTHER), ON_STAGE],
            ["room_twice set-up show 19:00-19:10"],
            id="a crew without players still fills a room",
        ),
        pytest.param(
            [
                use("a", "band", "18:00-18:00", "concert"),
                use("b", "band", "17:00-19:00", "beginners"),
            ],
            [],
            id="no time, no conflict",
        ),
        pytest.param(
            [
                use("c", "band", "18:40-19:00", "concert"),
                use("b", "band", "18:20-18:50", "beginners"),
                use("a", "band", "18:00-18:30", "jazz"),
            ],
            ["warm_ups_together b a 18:20-18:30", "warm_ups_together c b 18:40-18:50"],
            id="in order of time",
        ),
    ],
)
def test_overlapping_uses(uses: list[RoomUse], expected: list[str]) -> None:
    assert told(overlapping_uses(uses, SHARING)) == expected


def test_sharing_said_once_holds_for_both() -> None:
    assert share_players(["jazz"], ["symphonic"], SHARING)
    assert share_players(["symphonic"], ["concert", "jazz"], SHARING)
    assert not share_players(["concert"], ["jazz"], SHARING)
    assert not share_players([], ["jazz"], SHARING)
    assert sharing_pairs({"jazz": ["jazz"]}) == frozenset()


HALL = OpeningHours("hall", frozenset({"stage", "green-room"}), at("17:00"), at("21:00"))


@pytest.mark.parametrize(
    ("one", "expected"),
    [
        (use("in", "stage", "17:00-21:00"), []),
        (use("early", "stage", "16:30-18:00"), ["outside_opening early hall 16:30-17:00"]),
        (use("late", "green-room", "20:30-21:10"), ["outside_opening late hall 21:00-21:10"]),
        (use("both", "stage", "16:00-22:00"), ["outside_opening both hall 16:00-17:00", "outside_opening both hall 21:00-22:00"]),
        (use("before", "stage", "15:00-16:00"), ["outside_opening before hall 15:00-16:00"]),
        (use("after", "stage", "21:00-22:00"), ["outside_opening after hall 21:00-22:00"]),
        (use("elsewhere", "band", "06:00-23:00"), []),
    ],
)  # fmt: skip
def test_outside_opening_hours(one: RoomUse, expected: list[str]) -> None:
    assert told(outside_opening([one], [HALL])) == expected


def test_calls_before_school_is_out() -> None:
    calls = {
        Ref(ItemType.CALL, "crew"): at("14:45"),
        Ref(ItemType.BUS, "one"): at("14:00"),
        Ref(ItemType.CALL, "concert"): at("15:10"),
    }
    found = calls_before_school_out(calls, at("15:10"))
    assert told(found) == [
        "call_before_school_out one 2026-12-10 14:00-15:10",
        "call_before_school_out crew 2026-12-10 14:45-15:10",
    ]
    assert found[0].first == Ref(ItemType.BUS, "one")
    assert found[0].second == Ref(ItemType.SCHOOL_DAY, "2026-12-10")
    assert calls_before_school_out(calls, None) == ()


def test_past_the_evening_limit() -> None:
    ends = {
        Ref(ItemType.PICK_UP, "crew"): at("21:35"),
        Ref(ItemType.PICK_UP, "concert"): at("21:00"),
    }
    assert told(past_evening_limit(ends, at("21:00"))) == [
        "past_evening_limit crew 2026-12-10 21:00-21:35"
    ]
    assert past_evening_limit(ends, None) == ()


def piece(name: str, *ensembles: str) -> ShowItem:
    return ShowItem(ItemKind.PIECE, Fraction(300), ensembles=ensembles, piece=name)


SHOW = run_of_show(
    at("19:00"),
    numbered(
        [
            piece("lantern-march", "beginners"),
            piece("tidewater", "concert"),
            piece("quarry-dance", "concert", "symphonic"),
        ]
    ),
)


def test_turns_on_stage_as_uses() -> None:
    """A combined piece is one use of the stage, not one for each ensemble."""
    uses = stage_uses(SHOW, "stage")
    assert [(each.ref.key, each.ensembles) for each in uses] == [
        (0, ("beginners",)),
        (1, ("concert",)),
        (2, ("concert", "symphonic")),
    ]
    assert all(each.purpose is Purpose.PERFORMANCE for each in uses)
    assert overlapping_uses(uses, SHARING) == ()
    late = use("late", "band", "18:45-19:12", "symphonic")
    assert told(overlapping_uses([*uses, late], SHARING)) == [
        "warm_up_over_performance 2 late 19:10-19:12"
    ]


def test_overlap_in_the_hour_that_repeats() -> None:
    """2026-11-01, 01:00 to 02:00 comes twice (15 U.S.C. 260a; tz database)."""
    night = datetime(2026, 11, 1, 1, 0, tzinfo=HOME)
    first = RoomUse(Ref(ItemType.USE, "a"), "band", night, night.replace(minute=30))
    second = RoomUse(
        Ref(ItemType.USE, "b"), "band", night.replace(fold=1), night.replace(minute=30, fold=1)
    )
    assert overlapping_uses([first, second]) == ()


def test_a_stage_is_taken_by_who_sits_there_first_in_the_hour_that_repeats() -> None:
    """Seated at 1:50 before the clocks go back, the first note at 1:10 after it: 20 minutes later."""
    first_note = datetime(2026, 11, 1, 1, 10, tzinfo=HOME, fold=1)
    sits = datetime(2026, 11, 1, 1, 50, tzinfo=HOME)
    show = run_of_show(first_note, numbered([piece("tidewater", "concert")]))
    (found,) = stage_uses(show, "stage", seated={"concert": sits})
    assert found.start == sits
    assert found.start.fold == 0


def test_slips_of_a_caller_are_refused() -> None:
    with pytest.raises(ValueError, match="ends before it starts"):
        use("a", "band", "19:00-18:00")
    unplaced = run_of_show(at("19:00"), [piece("tidewater", "concert")])
    with pytest.raises(ValueError, match="place in the director's list"):
        stage_uses(unplaced, "stage")
