"""The run of show of an invented evening at Quillhaven Middle School."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest

from handbook.domain.run_of_show import (
    ItemKind,
    ShowItem,
    later,
    numbered,
    run_of_show,
    shown,
    with_pauses,
)

HOME = ZoneInfo("America/Denver")
DOWNBEAT = datetime(2026, 12, 10, 19, 0, tzinfo=HOME)


def piece(seconds: str | int, *ensembles: str, name: str | None = None) -> ShowItem:
    return ShowItem(ItemKind.PIECE, Fraction(seconds), ensembles=ensembles, piece=name)


def pause(kind: ItemKind, seconds: int) -> ShowItem:
    return ShowItem(kind, Fraction(seconds))


# Lengths as M:SS on paper; the two thirds are 35 beats at 96 and the like.
EVENING = numbered(
    [
        pause(ItemKind.REMARKS, 90),
        piece("510/3", "beginners"),
        pause(ItemKind.GAP, 30),
        piece("400/3", "beginners"),
        pause(ItemKind.CHANGEOVER, 240),
        piece("275.5", "concert"),
        pause(ItemKind.REMARKS, 60),
        piece(200, "concert"),
        pause(ItemKind.INTERMISSION, 900),
        piece(310, "symphonic"),
        pause(ItemKind.GAP, 20),
        piece(180, "symphonic", "concert"),
    ]
)


def clock(moment: datetime) -> str:
    return f"{moment:%H:%M:%S}"


def test_every_item_starts_where_the_last_one_ends() -> None:
    show = run_of_show(DOWNBEAT, EVENING)
    assert show.reset_seconds == 0
    assert [clock(timed.start) for timed in show.items] == [
        "19:00:00",
        "19:01:30",
        "19:04:20",
        "19:04:50",
        "19:07:03",  # and a third
        "19:11:03",
        "19:15:38",
        "19:16:38",
        "19:19:58",
        "19:34:58",
        "19:40:08",
        "19:40:28",
    ]
    assert show.seconds == Fraction("510/3") + Fraction("400/3") + Fraction("275.5") + 2030
    assert clock(show.end) == "19:43:28"


def test_thirds_of_a_second_do_not_add_up_to_an_error() -> None:
    """Three hundred items of 1/3 s are 100 s exactly, which rounded microseconds are not."""
    show = run_of_show(DOWNBEAT, [piece("1/3", "concert")] * 300)
    assert show.end == DOWNBEAT + timedelta(seconds=100)


def test_first_and_last_note() -> None:
    show = run_of_show(DOWNBEAT, EVENING)
    notes = show.notes_of("concert")
    assert notes is not None
    assert [clock(note) for note in notes] == ["19:11:03", "19:43:28"]
    assert show.notes_of("jazz") is None


def test_turns_on_stage() -> None:
    """Gaps and remarks keep the players on stage; a combined piece is a turn of all its players."""
    turns = run_of_show(DOWNBEAT, EVENING).turns()
    assert [(turn.ensembles, clock(turn.start), clock(turn.end), turn.index) for turn in turns] == [
        (("beginners",), "19:01:30", "19:07:03", 1),
        (("concert",), "19:11:03", "19:19:58", 5),
        (("symphonic",), "19:34:58", "19:40:08", 9),
        (("concert", "symphonic"), "19:40:28", "19:43:28", 11),
    ]


def test_an_intermission_ends_a_turn_of_the_same_players() -> None:
    show = run_of_show(
        DOWNBEAT, [piece(60, "concert"), pause(ItemKind.INTERMISSION, 600), piece(60, "concert")]
    )
    assert [clock(turn.start) for turn in show.turns()] == ["19:00:00", "19:11:00"]


def test_the_order_of_combined_players_does_not_matter() -> None:
    show = run_of_show(DOWNBEAT, [piece(60, "a", "b"), piece(60, "b", "a")])
    assert len(show.turns()) == 1


def test_pauses_are_put_only_where_nothing_was_written() -> None:
    written = numbered(
        [
            piece(60, "concert"),
            piece(60, "concert"),
            pause(ItemKind.REMARKS, 30),
            piece(60, "concert"),
            piece(60, "concert", "symphonic"),
        ]
    )
    filled = with_pauses(written, gap=Fraction(20), changeover=Fraction(180))
    assert [(item.kind.value, item.index) for item in filled] == [
        ("piece", 0),
        ("gap", None),
        ("piece", 1),
        ("remarks", 2),
        ("piece", 3),
        ("changeover", None),
        ("piece", 4),
    ]
    assert with_pauses(written, gap=Fraction(0), changeover=Fraction(0)) == written
    assert with_pauses([], Fraction(20), Fraction(180)) == ()


@pytest.mark.parametrize(
    ("exact", "step", "face"),
    [
        ("19:04:29", 60, "19:04:00"),
        ("19:04:30", 60, "19:05:00"),
        ("19:59:30", 60, "20:00:00"),
        ("19:04:02", 5, "19:04:00"),
        ("19:04:03", 5, "19:04:05"),
        ("23:59:59", 60, "00:00:00"),
    ],
)
def test_shown_times_are_rounded_half_up(exact: str, step: int, face: str) -> None:
    moment = datetime.fromisoformat(f"2026-12-10T{exact}").replace(tzinfo=HOME)
    assert clock(shown(moment, step)) == face


def test_rounding_waits_for_the_end() -> None:
    """Ten pieces of 2:02.4 end at 20:24; rounding each to 5 s first would say 20:00 or 20:50."""
    show = run_of_show(DOWNBEAT, [piece("122.4", "concert")] * 10)
    assert clock(shown(show.end, 5)) == "19:20:25"
    assert show.seconds == 1224


def test_elapsed_time_across_the_end_of_daylight_saving() -> None:
    """2026-11-01: 01:59:59 MDT is followed by 01:00:00 MST (15 U.S.C. 260a; tz database)."""
    start = datetime(2026, 11, 1, 0, 30, tzinfo=HOME)
    end = run_of_show(start, [piece(2 * 3600, "concert")]).end
    assert f"{end:%H:%M %Z}" == "01:30 MST"
    assert end.astimezone(UTC) - start.astimezone(UTC) == timedelta(hours=2)
    assert later(end, -2 * 3600) == start


def test_an_empty_show_ends_at_its_downbeat() -> None:
    show = run_of_show(DOWNBEAT, [])
    assert show.end == DOWNBEAT
    assert show.seconds == 0
    assert not show.turns()


def test_slips_of_a_caller_are_refused() -> None:
    with pytest.raises(ValueError, match="no time zone"):
        run_of_show(DOWNBEAT.replace(tzinfo=None), [])
    with pytest.raises(ValueError, match="seconds of piece"):
        piece(-1, "concert")


def with_hours(*items: ShowItem, zone: ZoneInfo = HOME, day: str = "2026-12-10") -> list[str]:
    downbeat = datetime.fromisoformat(f"{day}T10:00").replace(tzinfo=zone)
    show = run_of_show(downbeat, items, Fraction(180))
    return [f"{clock(timed.start)} {timed.item.kind}" for timed in show.items]


def hour(text: str, day: str = "2026-12-10") -> datetime:
    return datetime.fromisoformat(f"{day}T{text}").replace(tzinfo=HOME)


@pytest.mark.parametrize(
    ("items", "expected"),
    [
        pytest.param(
            [
                piece(600, "a"),
                pause(ItemKind.CHANGEOVER, 240),
                replace(piece(300, "b"), at=hour("11:00")),
            ],
            ["10:00:00 piece", "10:10:00 changeover", "10:14:00 wait", "11:00:00 piece"],
            id="the wait follows the changeover",
        ),
        pytest.param(
            [
                piece(600, "a"),
                pause(ItemKind.REMARKS, 120),
                replace(piece(300, "a"), at=hour("11:00")),
            ],
            ["10:00:00 piece", "10:10:00 wait", "10:58:00 remarks", "11:00:00 piece"],
            id="remarks lead into the first note",
        ),
        pytest.param(
            [replace(piece(600, "a"), at=hour("10:20")), piece(60, "a")],
            ["10:00:00 wait", "10:20:00 piece", "10:30:00 piece"],
            id="the first hour is after the downbeat",
        ),
        pytest.param(
            [piece(600, "a"), replace(piece(300, "b"), at=hour("10:10"))],
            ["10:00:00 piece", "10:10:00 piece"],
            id="no wait where none is left",
        ),
        pytest.param(
            [piece(600, "a"), replace(piece(300, "b"), at=hour("10:05")), piece(60, "b")],
            ["10:00:00 piece", "10:10:00 piece", "10:15:00 piece"],
            id="one that comes too late begins as soon as it can",
        ),
    ],
)
def test_a_piece_with_an_hour_of_its_own_waits_for_it(
    items: list[ShowItem], expected: list[str]
) -> None:
    """Reckoned by hand; common practice, no source."""
    assert with_hours(*items) == expected


def test_a_wait_counts_the_hour_that_the_clock_skips() -> None:
    # On 2027-03-14 clocks go from 2 am to 3 am: from 1 am to 4 am are two hours.
    downbeat = datetime(2027, 3, 14, 1, 0, tzinfo=HOME)
    late = datetime(2027, 3, 14, 4, 0, tzinfo=HOME)
    show = run_of_show(downbeat, [replace(piece(60, "a"), at=late)])
    assert show.items[0].item.seconds == 2 * 60 * 60


def test_a_turn_with_an_hour_of_its_own_is_a_stretch_of_its_own() -> None:
    again = replace(piece(300, "a"), at=hour("10:30"))
    show = run_of_show(hour("10:00"), [piece(600, "a"), again], Fraction(180))
    first, second = show.stretches_of("a")
    assert [turn.fixed for turn in (*first, *second)] == [False, True]
    # The stage is reset in the three minutes after the last note, and then is free.
    assert (clock(second[0].reset or DOWNBEAT), clock(second[0].free or DOWNBEAT)) == (
        "10:10:00",
        "10:13:00",
    )
