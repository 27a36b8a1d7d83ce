"""Call times as a director would write them on the board (common practice, no source)."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest

from handbook.domain.call_times import (
    Allowances,
    CallGroup,
    CallTimes,
    ExtraStep,
    StatedTime,
    call_times,
    check_call,
    check_departure,
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


def load_plan(group: CallGroup, show: RunOfShow = SHOW) -> CallTimes:
    times = call_times(show, group)
    assert times is not None
    return times


def board(times: CallTimes) -> str:
    moments = (
        times.call, times.duties, times.unpack, times.warm_up, times.walk, times.in_place,
        times.first_note, times.last_note, times.off_stage, times.packed, times.pick_up,
    )  # fmt: skip
    return " ".join(f"{moment:%H:%M:%S}".removesuffix(":00") for moment in moments)


@pytest.mark.parametrize(
    ("group", "expected"),
    [
        pytest.param(
            CallGroup(USUAL, "concert"),
            # call, duties, unpack, warm-up, walk, in place, first, last, off stage, packed, pick-up;
            # the changeover ends at 19:15, so nobody sits in place before it.
            "18:35 18:38 18:38 18:48 19:08 19:15 19:15 19:39:30 19:43:30 19:53:30 20:00",
            id="an ensemble",
        ),
        pytest.param(
            CallGroup(USUAL, "beginners"),
            "18:15 18:18 18:18 18:28 18:48 18:55 19:00 19:39:30 19:43:30 19:53:30 20:00",
            id="first to play, and again in the combined piece",
        ),
        pytest.param(
            CallGroup(replace(USUAL, duties=25, strike=15), "concert"),
            "18:10 18:13 18:38 18:48 19:08 19:15 19:15 19:39:30 19:43:30 20:08:30 20:15",
            id="a section that loads in and strikes",
        ),
        pytest.param(
            CallGroup(Allowances(15, 0, 0, 0, 0, 0, 0, duties=60, strike=45)),
            "17:45 17:45 18:45 18:45 18:45 18:45 19:00 19:39:30 19:39:30 20:24:30 20:25",
            id="a crew serves the whole show",
        ),
    ],
)
def test_a_group_s_evening(group: CallGroup, expected: str) -> None:
    assert board(load_plan(group)) == expected


def test_a_group_may_stay_to_the_end() -> None:
    show = run_of_show(at("19:00"), [piece("10", "beginners"), piece("30", "concert")])
    leaves = CallGroup(USUAL, "beginners")
    stays = replace(leaves, stays=True)
    # Four minutes to leave the stage; who stays packs four minutes after the end at 19:40.
    assert (load_plan(leaves, show).off_stage, load_plan(leaves, show).packing) == (
        at("19:14"),
        at("19:14"),
    )
    assert (load_plan(stays, show).off_stage, load_plan(stays, show).packing) == (
        at("19:14"),
        at("19:44"),
    )
    assert load_plan(stays, show).last_note == at("19:10")


REMARKS = ShowItem(ItemKind.REMARKS, Fraction(360))
CHANGE = ShowItem(ItemKind.CHANGEOVER, Fraction(240))


@pytest.mark.parametrize(
    ("between", "off_stage"),
    [
        ((REMARKS, CHANGE), "19:20"),  # it shows its first notes until 19:16, then walks
        ((REMARKS, REMARKS, CHANGE), "19:26"),
        ((CHANGE, REMARKS), "19:14"),  # the next band sits through the welcome
        ((REMARKS,), "19:14"),  # the stage is reset meanwhile
        ((CHANGE,), "19:14"),
    ],
    ids=["remarks", "two remarks", "changeover first", "no changeover", "no remarks"],
)
def test_a_band_sits_through_remarks_before_the_changeover(
    between: tuple[ShowItem, ...], off_stage: str
) -> None:
    show = run_of_show(at("19:00"), [piece("10", "beginners"), *between, piece("30", "concert")])
    assert load_plan(CallGroup(USUAL, "beginners"), show).off_stage == at(off_stage)
    assert load_plan(CallGroup(USUAL, "beginners"), show).last_note == at("19:10")


def test_the_last_band_that_stays_sits_through_the_closing_words() -> None:
    show = run_of_show(
        at("19:00"), [piece("10", "concert"), ShowItem(ItemKind.REMARKS, Fraction(300))]
    )
    leaves = CallGroup(USUAL, "concert")
    assert load_plan(leaves, show).off_stage == at("19:14")
    assert load_plan(replace(leaves, stays=True), show).off_stage == at("19:19")


@pytest.mark.parametrize(
    ("pauses", "free", "in_place"),
    [
        # The band before ends at 19:07 and the reset takes 3 minutes.
        pytest.param(
            "remarks 3, changeover 3", "19:13", "19:13", id="remarks before the changeover"
        ),
        pytest.param("changeover 3, remarks 3", "19:10", "19:10", id="remarks after it"),
        pytest.param(
            "changeover 3, remarks 9", "19:10", "19:14", id="time to sit as long as wanted"
        ),
        pytest.param(
            "intermission 10", "19:10", "19:12", id="reset at the start of an intermission"
        ),
        pytest.param("remarks 2", "19:09", "19:09", id="a pause shorter than a reset"),
        pytest.param("", "19:07", "19:07", id="no pause at all"),
    ],
)
def test_nobody_is_in_place_before_the_stage_is_free(pauses: str, free: str, in_place: str) -> None:
    """Common practice, no source: two bands cannot sit in the same chairs."""
    between = [part.split() for part in pauses.split(", ") if part]
    items = [
        piece("7", "beginners"),
        *(ShowItem(ItemKind(kind), Fraction(int(minutes) * 60)) for kind, minutes in between),
        piece("5", "concert"),
    ]
    times = load_plan(CallGroup(USUAL, "concert"), run_of_show(at("19:00"), items, Fraction(180)))
    assert (times.stage_free, times.in_place) == (at(free), at(in_place))
    assert times.minutes_in_place == (times.first_note - times.in_place).total_seconds() // 60
    assert (times.in_place - times.walk).total_seconds() == 7 * 60


def test_the_first_band_has_the_stage_to_itself() -> None:
    times = load_plan(CallGroup(USUAL, "beginners"))
    assert (times.stage_free, times.in_place, times.minutes_in_place) == (None, at("18:55"), 5)


@pytest.mark.parametrize(
    ("steps", "expected", "packed"),
    [
        # Off the stage at 19:43:30; ten minutes to pack.
        pytest.param([ExtraStep(0, 30)], "19:43:30-20:13:30", "20:23:30", id="at once"),
        pytest.param(
            [ExtraStep(0, 30), ExtraStep(1, 5)],
            "19:43:30-20:13:30 20:13:30-20:18:30",
            "20:28:30",
            id="one after the other",
        ),
        pytest.param(
            [ExtraStep(0, 30, at("20:00"))], "20:00:00-20:30:00", "20:40:00", id="at a stated time"
        ),
        pytest.param(
            [ExtraStep(0, 5, at("19:30"))], "19:30:00-19:35:00", "19:53:30", id="too early a time"
        ),
    ],
)
def test_steps_after_the_performance(steps: list[ExtraStep], expected: str, packed: str) -> None:
    times = load_plan(CallGroup(USUAL, "concert", afterward=tuple(steps)))
    spans = " ".join(f"{step.start:%H:%M:%S}-{step.end:%H:%M:%S}" for step in times.afterward)
    assert (spans, times.packed) == (expected, at(packed))
    assert times.afterward[0].free == times.off_stage == at("19:43:30")


def test_who_stays_packs_after_the_end_and_after_every_step() -> None:
    show = run_of_show(at("19:00"), [piece("10", "beginners"), piece("30", "concert")])
    photo = CallGroup(USUAL, "beginners", stays=True, afterward=(ExtraStep(0, 5),))
    assert load_plan(photo, show).packing == at("19:44")  # the photo is over at 19:19
    long = replace(photo, afterward=(ExtraStep(0, 60),))
    assert load_plan(long, show).packing == at("20:14")


@pytest.mark.parametrize(("leave", "shortfall"), [("20:00", 0), ("19:56:30", 0), ("19:50", 7)])
def test_a_stated_departure_is_checked(leave: str, shortfall: int) -> None:
    assert check_departure(at("19:56:30"), at(leave)).shortfall == shortfall


def test_a_call_on_the_mark_is_not_moved() -> None:
    on_time = Allowances(5, 5, 20, 10, 5, 10, 5)
    times = load_plan(CallGroup(on_time, "concert"))
    assert times.call == times.duties == at("18:40")


@pytest.mark.parametrize(
    ("stated", "shortfall"),
    [
        ("18:00", 0),
        ("18:30", 0),
        ("18:38", 0),  # later than the rounded call, and still enough
        ("18:38:01", 1),
        ("18:45", 7),
        ("19:30", 52),  # after the first note
    ],
)
def test_a_stated_call_is_checked(stated: str, shortfall: int) -> None:
    check = check_call(load_plan(CallGroup(USUAL, "concert")), at(stated))
    assert check == StatedTime(at(stated), at("18:38"), shortfall)


@pytest.mark.parametrize(
    ("stated", "shortfall"), [("20:00", 0), ("19:57", 0), ("19:56", 1), ("19:30", 27)]
)
def test_a_stated_pick_up_is_checked(stated: str, shortfall: int) -> None:
    """Players reach the door at 19:56:30."""
    check = check_pick_up(load_plan(CallGroup(USUAL, "concert")), at(stated))
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
    times = load_plan(CallGroup(Allowances(0, 0, 60, 0, 0, 0, 0), "concert"), show)
    assert f"{times.call:%H:%M %Z}" == "01:30 CST"
    assert (downbeat.astimezone(UTC) - times.call.astimezone(UTC)).total_seconds() == 3600


def test_minutes_below_zero_are_refused() -> None:
    with pytest.raises(ValueError, match="below 0"):
        replace(USUAL, walk=-1)
    with pytest.raises(ValueError, match="-1 minutes"):
        ExtraStep(0, -1)


@pytest.mark.parametrize(
    ("steps", "expected", "unpack"),
    [
        # Warm-up from 18:28 on, ten minutes to unpack.
        ([ExtraStep(0, 15)], "18:13-18:28", "18:03"),
        ([ExtraStep(0, 15), ExtraStep(1, 5)], "18:08-18:23 18:23-18:28", "17:58"),
        ([ExtraStep(0, 15, at("18:00")), ExtraStep(1, 5)], "18:00-18:15 18:23-18:28", "17:50"),
        # Stated too late: what must be done before it is reckoned as if it were in time.
        ([ExtraStep(0, 15), ExtraStep(1, 5, at("18:30"))], "18:08-18:23 18:30-18:35", "17:58"),
        ([ExtraStep(0, 15, at("18:20"))], "18:20-18:35", "18:03"),
    ],
)
def test_steps_before_the_warm_up(steps: list[ExtraStep], expected: str, unpack: str) -> None:
    times = load_plan(CallGroup(USUAL, "beginners", beforehand=tuple(steps)))
    spans = [f"{one.start:%H:%M}-{one.end:%H:%M}" for one in times.beforehand]
    assert (" ".join(spans), f"{times.unpack:%H:%M}") == (expected, unpack)
    assert f"{times.warm_up:%H:%M}" == "18:28"


def test_a_later_hour_is_gathered_for_again_if_there_is_time_to() -> None:
    """Back from 20:30: in place 20:25, walk 20:18, warm-up 19:58, unpack 19:48, ready 19:45."""
    again = replace(piece("10", "beginners"), at=at("20:30"))
    show = run_of_show(at("19:00"), [piece("12", "beginners"), again], Fraction(180))
    (found,) = load_plan(CallGroup(replace(USUAL, duties=30), "beginners"), show).returns
    moments = (found.off_stage, found.call, found.unpack, found.warm_up, found.walk, found.in_place)
    assert " ".join(f"{one:%H:%M}" for one in moments) == "19:16 19:45 19:48 19:58 20:18 20:25"
    # At 20:00 they would have to be ready at 19:15, when they are not yet off the stage.
    soon = replace(again, at=at("20:00"))
    show = run_of_show(at("19:00"), [piece("12", "beginners"), soon], Fraction(180))
    assert load_plan(CallGroup(USUAL, "beginners"), show).returns == ()
