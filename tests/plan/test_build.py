"""The plan as a whole, from YAML to reckoned rows."""

from __future__ import annotations

from datetime import date, datetime
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import MO, WE, WEEKLY, rrule

from handbook.domain.apportion import largest_remainder
from handbook.loader import load
from handbook.plan.build import _gap, build_plan
from tests.content_folders import base_files, write_folder
from tests.plan.planning import CONCERT, CYCLE, MUSIC, YEAR, lantern, planned, winter

CHICAGO = ZoneInfo("America/Chicago")


def test_rehearsals_follow_the_pattern_up_to_the_concert_day(tmp_path: Path) -> None:
    # Reference: dateutil's RRULE (RFC 5545), less the week of the break.
    pattern = rrule(
        WEEKLY, byweekday=(MO, WE), dtstart=date(2026, 10, 19), until=date(2026, 12, 10)
    )
    expected = [
        day.date() for day in pattern if not date(2026, 11, 23) <= day.date() <= date(2026, 11, 27)
    ]
    found = lantern(planned(tmp_path))
    assert [row.rehearsal.day for row in found.rehearsals] == expected
    assert [row.rehearsal.n for row in found.rehearsals] == list(range(1, len(expected) + 1))
    assert {row.rehearsal.of for row in found.rehearsals} == {len(expected)}
    assert [missed.day for missed in found.missed] == [date(2026, 11, 23), date(2026, 11, 25)]


def test_local_times_hold_across_the_end_of_daylight_saving(tmp_path: Path) -> None:
    # 15 U.S.C. 260a: daylight saving ends on 2026-11-01; offsets from tzdata.
    rows = lantern(planned(tmp_path)).rehearsals
    before = next(row for row in rows if row.rehearsal.day == date(2026, 10, 28))
    after = next(row for row in rows if row.rehearsal.day == date(2026, 11, 2))
    assert before.rehearsal.start.isoformat() == "2026-10-28T10:05:00-05:00"
    assert after.rehearsal.start.isoformat() == "2026-11-02T10:05:00-06:00"


def test_stages_share_all_rehearsals_and_end_with_the_concert(tmp_path: Path) -> None:
    found = lantern(planned(tmp_path))
    # Hare quota with largest remainder over equal shares.
    counts = [span.count for span in found.stages]
    assert counts == list(largest_remainder(len(found.rehearsals), [1, 1]))
    assert found.stages[0].begins == date(2026, 10, 19)
    assert found.stages[-1].ends == date(2026, 12, 10)
    assert found.stages[1].begins == found.rehearsals[found.stages[1].first].rehearsal.day
    assert (found.stages[1].begins - found.stages[0].ends).days == 1


def test_every_ladder_climbs_by_visits_and_keeps_the_goal(tmp_path: Path) -> None:
    found = lantern(planned(tmp_path))
    for piece in found.pieces:
        for passage in piece.passages:
            bpms = [visit.rung.tempo.bpm for visit in passage.visits]
            assert bpms == sorted(bpms)
            assert all(100 * after <= 115 * bpm for bpm, after in pairwise(bpms))
            assert bpms[-2:] == [passage.item.goal.bpm] * 2
            # at the goal for the first time by the middle of the last stage
            last = found.stages[-1]
            assert passage.at_goal[0].place <= last.first + (last.count - 1) // 2


def test_a_piece_lasts_the_sum_of_its_parts(tmp_path: Path) -> None:
    # 16 measures of 4/4 at quarter = 96 are 40 s; 24 of 6/8 at dotted quarter = 80, 36 s
    # (beats x 60 / bpm).
    piece = lantern(planned(tmp_path)).pieces[0]
    assert [part.seconds for part in piece.parts] == [pytest.approx(40), pytest.approx(36)]
    assert piece.seconds == pytest.approx(76)


def test_minutes_fill_each_rehearsal_and_blocks_follow_each_other(tmp_path: Path) -> None:
    for row in lantern(planned(tmp_path)).rehearsals:
        assert sum(block.minutes for block in row.blocks) == row.rehearsal.minutes == 45
        starts = [block.start for block in row.blocks]
        assert starts[0] == row.rehearsal.start
        for block, after in zip(row.blocks, starts[1:], strict=False):
            assert (after - block.start).total_seconds() == block.minutes * 60


def test_the_rung_in_an_agenda_is_that_rehearsals_rung(tmp_path: Path) -> None:
    found = lantern(planned(tmp_path))
    rungs = {
        (piece.item.id, row.item.id, visit.place): visit.rung
        for piece in found.pieces
        for row in piece.passages
        for visit in row.visits
    }
    shown = 0
    for row in found.rehearsals:
        for block in row.blocks:
            if block.piece and block.passage:
                assert block.rung == rungs[block.piece.id, block.passage.id, row.place]
                shown += 1
    assert shown


def test_pieces_come_in_the_order_of_the_program(tmp_path: Path) -> None:
    cycle = winter(planned(tmp_path))
    assert cycle.concert is not None
    assert [turn.item.band for turn in cycle.concert.appearances] == ["harbor", "lantern"]
    assert cycle.concert.downbeat == datetime(2026, 12, 10, 19, tzinfo=CHICAGO)
    assert cycle.concert.seconds == pytest.approx(76 + 32 * 3 * 60 / 108)


def test_an_extra_on_a_closure_points_at_its_date(tmp_path: Path) -> None:
    """
    extra:
      - ensemble: lantern
        date: Tue 2026-11-24
        start: 6:00 pm
        end: 7:00 pm
    """
    extra = "extra:\n  - {ensemble: lantern, date: Tue 2026-11-24, start: 6:00 pm, end: 7:00 pm}\n"
    result = planned(tmp_path, {CYCLE: base_files()[CYCLE] + extra})
    assert [(problem.code, problem.address) for problem in result.problems] == [
        ("extra-on-closure", (CYCLE, "extra", 0, "date"))
    ]


@pytest.mark.parametrize(
    ("added", "code"),
    [
        (
            "cancelled:\n  - {ensemble: lantern, date: Tue 2026-11-03, why: trip}\n",
            "cancelled-nothing",
        ),
        (
            "extra:\n  - {ensemble: lantern, date: Mon 2026-09-14, start: 6 pm, end: 7 pm}\n",
            "extra-outside-cycle",
        ),
        (
            "extra:\n  - {ensemble: lantern, date: Mon 2026-11-02, start: 10:30 am, end: 11:30 am}\n",
            "rehearsals-overlap",
        ),
        ("slots: {set_up: 30, warm_up: 5, notices: 1, close: 20}\n", "rehearsal-too-short"),
    ],
)
def test_what_cannot_be_reckoned_is_a_problem(tmp_path: Path, added: str, code: str) -> None:
    result = planned(tmp_path, {CYCLE: base_files()[CYCLE] + added})
    assert code in {problem.code for problem in result.problems}


def test_a_short_cycle_cannot_have_more_stages_than_rehearsals(tmp_path: Path) -> None:
    files = base_files()
    late = files[CYCLE].replace("Mon 2026-10-19", "Wed 2026-12-09")
    result = planned(tmp_path, {CYCLE: late})
    assert {problem.code for problem in result.problems} == {"fewer-rehearsals-than-stages"}


def test_a_lock_before_the_first_rehearsal_is_a_problem(tmp_path: Path) -> None:
    music = base_files()[MUSIC].replace(
        "        goal: quarter = 96\n", "        goal: quarter = 96\n        lock_by: 2026-10-01\n"
    )
    result = planned(tmp_path, {MUSIC: music})
    assert [problem.code for problem in result.problems] == ["lock-before-first-rehearsal"]
    assert result.problems[0].address == (MUSIC, "pieces", 0, "passages", 0, "lock_by")


def test_drafts_are_left_out(tmp_path: Path) -> None:
    files = base_files()
    wrong = (
        files[CYCLE]
        + "draft: yes\ncancelled:\n  - {ensemble: lantern, date: Tue 2026-11-03, why: trip}\n"
    )
    result = planned(tmp_path, {CYCLE: wrong})
    assert result.plan.cycles == ()
    assert result.problems == ()


def test_rotating_labels_give_every_other_school_day(tmp_path: Path) -> None:
    year = (
        base_files()[YEAR]
        .replace("bells:", "day_labels: [A, B]\nbells:")
        .replace("    weekdays: [Mon, Wed]\n", "    labels: [A]\n")
    )
    rows = lantern(planned(tmp_path, {YEAR: year})).rehearsals
    # Counted by hand: 2026-08-24 is A, school days alternate, Labor Day has no label.
    assert [row.rehearsal.label for row in rows] == ["A"] * len(rows)
    days = [row.rehearsal.day for row in rows]
    assert days[:3] == [date(2026, 10, 20), date(2026, 10, 22), date(2026, 10, 26)]


def test_a_meeting_in_the_hour_that_is_skipped_points_at_the_first_meeting(tmp_path: Path) -> None:
    """2027-03-14 has no 2:30 am in Chicago (15 U.S.C. 260a(a): the second Sunday of March)."""
    year = base_files()[YEAR].replace(
        "weekdays: [Mon, Wed]\n    period: p3",
        "weekdays: [Sun]\n    start: 2:30 am\n    end: 4:00 am",
    )
    cycle = base_files()[CYCLE].replace(
        "starts: Mon 2026-10-19", "starts: Mon 2027-01-11\nends: Fri 2027-04-09"
    )
    cycle = cycle.replace("[lantern, harbor]", "[lantern]")
    files = {**base_files(), YEAR: year, CYCLE: cycle}
    del files[CONCERT]
    loaded = load(write_folder(tmp_path, files))
    assert loaded.handbook is not None, loaded.problems
    (problem,) = build_plan(loaded.handbook).problems
    assert problem.code == "time-skipped-by-clock-change"
    assert problem.address == (YEAR, "meetings", 0)


def test_goals_may_be_wanted_so_many_rehearsals_before_the_concert(tmp_path: Path) -> None:
    files = {CYCLE: f"{base_files()[CYCLE]}at_goal: 6\n"}
    found = lantern(planned(tmp_path, files))
    assert found.season is not None
    assert found.season.unmet == ()
    by = len(found.rehearsals) - 6
    places = [passage.at_goal[0].place for piece in found.pieces for passage in piece.passages]
    assert max(places) <= by
    usual = lantern(planned(tmp_path / "usual"))
    assert max(p.at_goal[0].place for piece in usual.pieces for p in piece.passages) > by


def test_without_a_concert_no_gap_lies_between_pieces(tmp_path: Path) -> None:
    files = {**base_files(), CYCLE: f"{base_files()[CYCLE]}ends: Thu 2026-12-10\n"}
    with_concert = load(write_folder(tmp_path / "a", files)).handbook
    del files[CONCERT]
    without = load(write_folder(tmp_path / "b", files)).handbook
    assert with_concert is not None
    assert without is not None
    assert _gap(with_concert.cycles[0], "lantern") > 0
    assert _gap(without.cycles[0], "lantern") == 0
