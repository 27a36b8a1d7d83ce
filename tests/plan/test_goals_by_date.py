"""Tempos on the way to a goal, each by its date: planned, told, and shown (common practice, no source)."""

from __future__ import annotations

import json
from datetime import date
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from handbook.cli.plan_json import plan_text
from handbook.domain.season import Law
from handbook.pipeline import load_problems
from handbook.plan.model import EnsemblePlan, PassageRow
from tests.content_folders import base_files, changed, write_folder
from tests.outputs.concerts import main_of
from tests.outputs.rendering import page_of
from tests.plan.planning import CONCERT, CYCLE, MUSIC, lantern, planned


def with_goals(goals: str, files: dict[str, str] | None = None) -> dict[str, str]:
    return changed(
        files or base_files(),
        MUSIC,
        "goal: quarter = 96",
        f"goal: quarter = 96\n        goals: {goals}",
    )


def opening(files: dict[str, str], at: Path) -> tuple[EnsemblePlan, PassageRow]:
    band = lantern(planned(at, files))
    return band, band.pieces[0].passages[0]


def speeds(band: EnsemblePlan, passage: PassageRow) -> list[tuple[date, Fraction]]:
    return [
        (band.rehearsals[visit.place].rehearsal.day, visit.rung.tempo.bpm)
        for visit in passage.visits
    ]


def by(day: date, band: EnsemblePlan, passage: PassageRow) -> Fraction:
    return [bpm for when, bpm in speeds(band, passage) if when <= day][-1]


def test_class_is_at_each_tempo_by_its_date(tmp_path: Path) -> None:
    bare = opening(base_files(), tmp_path / "bare")
    files = with_goals(
        "[{by: 2026-10-28, tempo: quarter = 66}, {by: 2026-11-04, tempo: quarter = 84}]"
    )
    told = opening(files, tmp_path / "told")
    # Without them the climb is slower: what is asked for is more than the stages give.
    assert by(date(2026, 10, 28), *bare) < 66
    assert by(date(2026, 10, 28), *told) >= 66
    assert by(date(2026, 11, 4), *told) >= 84
    climb = [bpm for _, bpm in speeds(*told)]
    assert climb == sorted(climb)
    assert all(fast <= slow * Fraction(115, 100) for slow, fast in pairwise(climb))
    assert climb[-1] == 96
    assert load_problems(write_folder(tmp_path / "checked", files)).problems == ()


@pytest.mark.parametrize(
    ("goal", "day"),
    [
        ("{by: build, tempo: quarter = 92}", date(2026, 11, 9)),  # its last rehearsal
        ("{by: build, tempo: half = 46}", date(2026, 11, 9)),
    ],
)
def test_it_may_be_by_the_end_of_a_stage_and_in_any_note(
    goal: str, day: date, tmp_path: Path
) -> None:
    band, passage = opening(with_goals(f"[{goal}]"), tmp_path)
    assert band.stages[0].item.id == "build"
    assert band.rehearsals[band.stages[0].last].rehearsal.day == day
    assert by(day, band, passage) >= 92


def test_it_may_be_by_a_concert(tmp_path: Path) -> None:
    matinee = base_files()[CONCERT].replace("Thu 2026-12-10", "Wed 2026-11-04")
    files = with_goals("[{by: matinee, tempo: quarter = 80}]") | {
        "cycles/winter/concerts/matinee.yaml": matinee.replace("7:00 pm", "7:30 pm")
    }
    band, passage = opening(files, tmp_path)
    assert by(date(2026, 11, 4), band, passage) >= 80


def test_what_the_hours_do_not_allow_is_told(tmp_path: Path) -> None:
    files = with_goals("[{by: 2026-10-26, tempo: quarter = 92}]")
    (problem,) = load_problems(write_folder(tmp_path / "checked", files)).problems
    assert problem.code == "goal-by-date-too-late"
    band, passage = opening(files, tmp_path / "planned")
    # From 48, half of the goal, by steps of 15 percent rounded down: 48, 54, 60.
    assert [bpm for _, bpm in speeds(band, passage)][:3] == [48, 54, 60]
    assert "`opening` (60 on Mon 2026-10-26, not 92)" in problem.message
    assert band.season
    (row,) = [one for one in band.season.unmet if one.on_the_way]
    # 48, 54, 60, 69, 76, 84, 92: seven visits, of which three are held by then.
    assert row.lack == 4


def test_lost_days_leave_what_has_been_and_keep_the_dates_ahead(tmp_path: Path) -> None:
    files = with_goals("[{by: 2026-11-09, tempo: quarter = 80}]")
    more = "\ncancelled:\n  - {ensemble: lantern, date: 2026-10-28, why: Snow, told: 2026-10-27}\n"
    lost = files | {CYCLE: files[CYCLE].rstrip() + more}
    before, after = opening(files, tmp_path / "whole"), opening(lost, tmp_path / "lost")
    been = [one for one in speeds(*before) if one[0] <= date(2026, 10, 26)]
    assert speeds(*after)[: len(been)] == been
    assert by(date(2026, 11, 9), *after) >= 80


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    goals=st.lists(
        st.tuples(st.integers(0, 10), st.integers(50, 96)), max_size=3, unique_by=lambda one: one[0]
    ),
    leap=st.sampled_from([10, 15, 25]),
)
def test_each_is_reached_by_its_date_or_told(
    goals: list[tuple[int, int]], leap: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    days = [date(2026, 10, 19).toordinal() + 5 * (one + 1) for one, _ in sorted(goals)]
    tempos = sorted(bpm for _, bpm in goals)
    listed = [(date.fromordinal(day), bpm) for day, bpm in zip(days, tempos, strict=True)]
    text = ", ".join(f"{{by: {day}, tempo: quarter = {bpm}}}" for day, bpm in listed)
    files = with_goals(f"[{text}]")
    files = files | {CYCLE: f"leap: {leap}\n{files[CYCLE]}"}
    band, passage = opening(files, tmp_path_factory.mktemp("goals"))
    climb = [bpm for _, bpm in speeds(band, passage)]
    assert climb == sorted(climb)
    assert all(fast <= slow * (100 + leap) / 100 for slow, fast in pairwise(climb))
    assert band.season
    dates = [row.rehearsal.day for row in band.rehearsals]
    # What needs as many visits as the goal by the same day is told of the goal.
    late = {
        dates[row.last]
        for row in band.season.unmet
        if row.law is Law.SETTLED and row.passage is passage.item
    }
    for day, bpm in listed:
        if max(one for one in dates if one <= day) not in late:
            assert by(day, band, passage) >= bpm


def test_pages_and_the_plan_show_them(tmp_path: Path) -> None:
    files = with_goals("[{by: 2026-11-04, tempo: quarter = 80}, {by: build, tempo: quarter = 92}]")
    plan = planned(tmp_path, files).plan
    text = main_of(page_of(plan, "winter/lantern/button-comets/"))
    assert "by Wed, Nov 4" in text
    assert "by the end of Build" in text
    data = json.loads(plan_text(plan, plan.cycles))
    passages = data["cycles"][0]["ensembles"][0]["pieces"][0]["passages"]
    assert passages[0]["goals"] == [
        {"by": "2026-11-04", "tempo": {"beat": "quarter", "bpm": 80}},
        {"by": "build", "tempo": {"beat": "quarter", "bpm": 92}},
    ]
    assert "goals" not in passages[1]


@pytest.mark.parametrize(
    ("goals", "told"),
    [
        ("[{by: 2026-11-04, tempo: quarter = 80}]", []),
        ("[{by: bild, tempo: quarter = 80}]", ["unknown-stage"]),
        ("[{by: 2027-11-04, tempo: quarter = 80}]", ["lock-outside-cycle"]),
        ("[{by: 2026-10-18, tempo: quarter = 80}]", ["lock-outside-cycle"]),
        ("[{by: 2026-11-04, tempo: quarter = 97}]", ["goals-not-rising"]),
        ("[{by: 2026-11-04, tempo: half = 40}]", []),
        ("[{by: 2026-11-04, tempo: quarter = 80}, {by: 2026-11-09, tempo: quarter = 80}]", ["goals-not-rising"]),
        ("[{by: build, tempo: quarter = 80}, {by: build, tempo: quarter = 84}]", ["goals-not-rising"]),
        ("[{by: concert, tempo: quarter = 80}, {by: 2026-11-09, tempo: quarter = 84}]", ["goals-not-rising"]),
        ("[{by: 2026-11-04}]", ["missing-field"]),
        ("[{by: 2026-11-04, tempo: fast}]", ["unreadable-tempo"]),
    ],
)  # fmt: skip
def test_what_is_written_is_checked(goals: str, told: list[str], tmp_path: Path) -> None:
    problems = load_problems(write_folder(tmp_path, with_goals(goals))).problems
    assert [one.code for one in problems] == told
