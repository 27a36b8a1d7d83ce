"""Laws of the season that gave way, told with numbers; sections and locks that the season shows."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.checks.passages import lock_changes_nothing, measures_without_passage
from handbook.checks.season import (
    goal_out_of_reach,
    goal_too_late,
    measures_unplayed,
    passage_away_too_long,
    run_cut_short,
)
from handbook.plan.model import Plan
from handbook.problems import Severity
from tests.content_folders import base_files, changed
from tests.plan.planning import CYCLE, MUSIC, planned

GOAL = "        goal: dotted quarter = 80\n"


def plan_with(folder: Path, name: str, old: str, new: str) -> Plan:
    return planned(folder, changed(base_files(), name, old, new)).plan


def cycle_with(folder: Path, more: str) -> Plan:
    return planned(folder, {CYCLE: f"{base_files()[CYCLE]}{more}\n"}).plan


def test_the_shared_folder_has_nothing_of_this_kind(tmp_path: Path) -> None:
    plan = planned(tmp_path).plan
    for check in (
        measures_unplayed,
        goal_out_of_reach,
        goal_too_late,
        passage_away_too_long,
        run_cut_short,
        measures_without_passage,
        lock_changes_nothing,
    ):
        assert check(plan) == (), check


def test_a_law_is_told_once_for_an_ensemble_with_the_visits_that_lack(tmp_path: Path) -> None:
    found = goal_out_of_reach(cycle_with(tmp_path, "leap: 6"))
    assert [problem.address for problem in found] == [
        (CYCLE, "ensembles", 0),
        (CYCLE, "ensembles", 1),
    ]
    assert {problem.severity for problem in found} == {Severity.WARNING}
    # Worked out by hand, from 54 by at most 6 percent, on marks or else on whole numbers:
    # 56 58 60 63 66 69 72 76 80 84 88 92 96 100 104 108 are 17 visits with the first one, and
    # the goal comes twice, so 18; the fourteenth of them is at 96.
    assert (
        "`round` (14 visits of the 18 it needs: 96 in place of quarter = 108)" in found[1].message
    )
    assert found[1].hint.startswith("this mends it: `goal: quarter = ")


def test_a_late_goal_is_told_with_both_dates(tmp_path: Path) -> None:
    lock = f"{GOAL}        lock_by: Mon 2026-10-26\n"
    [found] = goal_too_late(plan_with(tmp_path, MUSIC, GOAL, lock))
    assert found.message.endswith("late at the goal: `chase` (Mon 2026-11-09, not Mon 2026-10-26)")
    assert not goal_out_of_reach(plan_with(tmp_path / "again", MUSIC, GOAL, lock))


@pytest.mark.parametrize(("minutes", "short"), [(20, True), (22, False)])
def test_runs_are_held_against_the_minutes_of_their_day(
    minutes: int, *, short: bool, tmp_path: Path
) -> None:
    """Worked out by hand: 16 measures of four quarters at 96 and 24 of two dotted ones at 80 last 76 s.

    With a quarter more for words that is 95 s, so 2 minutes; the slots take 19.
    """
    slots = "slots: {set_up: 8, warm_up: 7, notices: 3, close: 1}"
    day = f"{{ensemble: lantern, date: 2026-12-09, start: 3:30 pm, end: 3:{30 + minutes} pm"
    found = run_cut_short(cycle_with(tmp_path, f"extra:\n  - {day}, kind: dress, {slots}}}"))
    told = [problem.message.split(" have ")[1] for problem in found]
    wanted = "1 minute, and take 2 at the goal tempos with 25 percent for words"
    assert told == ([wanted] if short else [])


@pytest.mark.parametrize(
    ("days", "others"), [(1, "for words"), (2, "; 1 other day too"), (3, "; 2 other days too")]
)
def test_runs_that_are_cut_short_are_told_once_with_how_many_days_more(
    days: int, others: str, tmp_path: Path
) -> None:
    slots = "slots: {set_up: 8, warm_up: 7, notices: 3, close: 1}"
    extra = "".join(
        f"\n  - {{ensemble: lantern, date: 2026-12-0{n}, start: 3:30 pm, end: 3:50 pm, kind: dress, {slots}}}"
        for n in range(4, 4 + days)
    )
    (found,) = run_cut_short(cycle_with(tmp_path, f"extra:{extra}"))
    assert found.message.endswith(others)
    assert "on Fri 2026-12-04 have 1 minute" in found.message
    assert found.address == (CYCLE, "extra", 0)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        # A part of the form without any passage: 24 measures, with the 8 before them.
        ("        measures: 17-24\n", "        measures: 9-16\n", "17–40"),
        # A part that a passage touches is left to joins and runs, unless much of it is bare.
        ("        measures: 1-8\n", "        measures: 16\n", None),
        ("        measures: 1-32\n", "        measures: 1-48\n", "17–48"),
        ("        measures: 1-32\n", "        measures: 1-47\n", None),
    ],
)
def test_sections_without_a_passage_are_told(
    old: str, new: str, told: str | None, tmp_path: Path
) -> None:
    found = measures_without_passage(plan_with(tmp_path, MUSIC, old, new))
    ends = [problem.message.rsplit(" ", 1)[1] for problem in found]
    assert ends == ([told] if told else [])


@pytest.mark.parametrize(
    ("lock", "told"),
    [
        ("polish", True),  # the last stage
        ("Wed 2026-12-09", True),
        ("build", False),
        ("Wed 2026-11-04", False),
    ],
)
def test_a_lock_after_the_usual_date_is_told(lock: str, *, told: bool, tmp_path: Path) -> None:
    plan = plan_with(tmp_path, MUSIC, GOAL, f"{GOAL}        lock_by: {lock}\n")
    assert len(lock_changes_nothing(plan)) == told
