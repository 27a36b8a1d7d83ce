"""Call times as a director would write them on the board (common practice, no source)."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest

from handbook.domain.calls import (
    Allowances,
    CallGroup,
    CallTimes,
    call_sheet,
    call_times,
    check_call,
    check_pick_up,
    mark_after,
    mark_before,
)
from handbook.domain.run_of_show import ItemKind, RunOfShow, ShowItem, run_of_show

HOME = ZoneInfo("America/Chicago")
USUAL = Allowances(in_place=5, walk=7, warm_up=20, unpack=10, walk_back=4, pack=10, to_door=3)


def at(clock: str) -> datetime:
    return datetime.fromisoformat(f"2026-12-10T{clock}").replace(tzinfo=HOME)


def piece(minutes: str, *ensembles: str) -> ShowItem:
    return ShowItem(ItemKind.PIECE, Fraction(minutes) * 60, ensembles=ensembles)


# 19:00 beginners 12 min, 3 min changeover, 19:15 concert 20 min, then all together 4.5 min.
SHOW = run_of_show(
    at("19:00"),
    [
        piece("12", "beginners"),
        ShowItem(ItemKind.CHANGEOVER, Fraction(180)),
        piece("20", "concert"),
        piece("4.5", "beginners", "concert"),
    ],
)


def reckon(group: CallGroup, show: RunOfShow = SHOW) -> CallTimes:
    times = call_times(show, group)
    assert times is not None
    return times


def board(times: CallTimes) -> str:
    moments = (
        times.call, times.duties, times.unpack, times.warm_up, times.walk, times.in_place,
        times.first_note, times.last_note, times.finished, times.packed, times.pick_up,
    )  # fmt: skip
    return " ".join(f"{moment:%H:%M:%S}".removesuffix(":00") for moment in moments)


@pytest.mark.parametrize(
    ("group", "expected"),
    [
        pytest.param(
            CallGroup("concert", USUAL, "concert"),
            # call, duties, unpack, warm-up, walk, in place, first, last, finished, packed, pick-up
            "18:30 18:33 18:33 18:43 19:03 19:10 19:15 19:39:30 19:43:30 19:53:30 20:00",
            id="an ensemble",
        ),
        pytest.param(
            CallGroup("beginners", USUAL, "beginners"),
            "18:15 18:18 18:18 18:28 18:48 18:55 19:00 19:39:30 19:43:30 19:53:30 20:00",
            id="first to play, and again in the combined piece",
        ),
        pytest.param(
            CallGroup(
                "percussion", replace(USUAL, duties=25, strike=15), "concert", section="percussion"
            ),
            "18:05 18:08 18:33 18:43 19:03 19:10 19:15 19:39:30 19:43:30 20:08:30 20:15",
            id="a section that loads in and strikes",
        ),
        pytest.param(
            CallGroup(
                "crew", Allowances(15, 0, 0, 0, 0, 0, 0, duties=60, strike=45), role="stage crew"
            ),
            "17:45 17:45 18:45 18:45 18:45 18:45 19:00 19:39:30 19:39:30 20:24:30 20:25",
            id="a crew serves the whole show",
        ),
    ],
)
def test_a_group_s_evening(group: CallGroup, expected: str) -> None:
    assert board(reckon(group)) == expected


def test_a_group_may_stay_to_the_end() -> None:
    show = run_of_show(at("19:00"), [piece("10", "beginners"), piece("30", "concert")])
    leaves = CallGroup("beginners", USUAL, "beginners")
    assert f"{reckon(leaves, show).finished:%H:%M}" == "19:14"
    assert f"{reckon(replace(leaves, stays=True), show).finished:%H:%M}" == "19:44"
    assert reckon(replace(leaves, stays=True), show).last_note == at("19:10")


def test_a_call_on_the_mark_is_not_moved() -> None:
    on_time = Allowances(5, 5, 20, 10, 5, 10, 5)
    times = reckon(CallGroup("concert", on_time, "concert"))
    assert times.call == times.duties == at("18:35")


def test_who_plays_nothing_has_no_call() -> None:
    jazz = CallGroup("jazz", USUAL, "jazz")
    assert call_times(SHOW, jazz) is None
    sheet = call_sheet(
        SHOW,
        [CallGroup("concert", USUAL, "concert"), jazz, CallGroup("beginners", USUAL, "beginners")],
    )
    assert [times.group.id for times in sheet] == ["beginners", "concert"]


@pytest.mark.parametrize(
    ("stated", "shortfall"),
    [
        ("18:00", 0),
        ("18:30", 0),
        ("18:33", 0),  # later than the rounded call, and still enough
        ("18:33:01", 1),
        ("18:45", 12),
        ("19:30", 57),  # after the first note
    ],
)
def test_a_stated_call_is_checked(stated: str, shortfall: int) -> None:
    check = check_call(reckon(CallGroup("concert", USUAL, "concert")), at(stated))
    assert (check.group, check.stated, check.reckoned, check.shortfall) == (
        "concert",
        at(stated),
        at("18:33"),
        shortfall,
    )


@pytest.mark.parametrize(
    ("stated", "shortfall"), [("20:00", 0), ("19:57", 0), ("19:56", 1), ("19:30", 27)]
)
def test_a_stated_pick_up_is_checked(stated: str, shortfall: int) -> None:
    """Players reach the door at 19:56:30."""
    check = check_pick_up(reckon(CallGroup("concert", USUAL, "concert")), at(stated))
    assert check.reckoned == at("19:56:30")
    assert check.shortfall == shortfall


@pytest.mark.parametrize(
    ("moment", "before", "after"),
    [
        ("18:30:00", "18:30", "18:30"),
        ("18:30:01", "18:30", "18:35"),
        ("18:34:59.999999", "18:30", "18:35"),
        ("18:59:30", "18:55", "19:00"),
    ],
)
def test_marks_of_five_minutes(moment: str, before: str, after: str) -> None:
    assert mark_before(at(moment)) == at(before)
    assert mark_after(at(moment)) == at(after)


def test_a_call_before_the_clocks_change() -> None:
    """2027-03-14 02:00 CST is 03:00 CDT (15 U.S.C. 260a; tz database): 60 minutes before it is 01:30."""
    downbeat = datetime(2027, 3, 14, 3, 30, tzinfo=HOME)
    show = run_of_show(downbeat, [piece("5", "concert")])
    times = reckon(CallGroup("concert", Allowances(0, 0, 60, 0, 0, 0, 0), "concert"), show)
    assert f"{times.call:%H:%M %Z}" == "01:30 CST"
    assert (downbeat.astimezone(UTC) - times.call.astimezone(UTC)).total_seconds() == 3600


def test_minutes_below_zero_are_refused() -> None:
    with pytest.raises(ValueError, match="below 0"):
        replace(USUAL, walk=-1)
