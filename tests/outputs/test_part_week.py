"""The list of a week: tempos joined where weeks are alike, notes of the passage, fundamentals.

Weeks and tempos of the shared folder: two rehearsals a week, tempo bands by stage.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from handbook.outputs.components.part_week import (
    practice_rows,
    targets_by_passage,
    watched_in,
    week_exercises,
)
from handbook.outputs.components.weeks import week_views
from handbook.outputs.page import Context
from handbook.plan.build import PlanResult
from tests.content_folders import base_files
from tests.plan.planning import MUSIC, lantern, planned, winter
from tests.plan.test_parts import STRANDS, WATCH


def whole(folder: Path) -> PlanResult:
    text = base_files()[MUSIC].replace(
        "    ensemble: lantern\n", "    ensemble: lantern\n    key: Eb major\n"
    )
    text = text.replace("        goal: quarter = 96\n", WATCH.split("          - {text: Low")[0], 1)
    return planned(folder, {MUSIC: text, "fundamentals.yaml": STRANDS})  # fmt: skip


def test_weeks_with_the_same_to_reach_are_one_stretch_and_none_is_lost(tmp_path: Path) -> None:
    result = whole(tmp_path)
    context, band = Context(result.plan, "en"), lantern(result)
    weeks = week_views(context, winter(result), band)
    for targets in targets_by_passage(weeks).values():
        told = [(week.target, week.steps) for week in targets.weeks]
        assert all(one != other for one, other in pairwise(told))
        for week in weeks:
            target = next(one for one in week.targets if one.passage == targets.name)
            (stretch,) = (one for one in targets.weeks if one.monday <= week.monday <= one.sunday)
            assert stretch.target == target.target
        assert targets.weeks[-1].target == targets.goal
        assert targets.weeks[-1].at_goal


def test_steps_on_the_way_are_listed_but_not_all_of_many(tmp_path: Path) -> None:
    result = whole(tmp_path)
    weeks = week_views(Context(result.plan, "en"), winter(result), lantern(result))
    steps = {
        len(target.steps): listed.steps
        for week in weeks
        for target in week.targets
        for listed in targets_by_passage(weeks)[target.piece_id, target.passage_id].weeks
        if listed.monday <= week.monday <= listed.sunday
    }
    assert steps.get(1, "") == ""
    assert all("…" in text for count, text in steps.items() if count > 3)
    assert all(len(text.split()) == count for count, text in steps.items() if 1 < count <= 3)


def test_a_row_names_the_notes_of_its_passage_as_the_part_has_them(tmp_path: Path) -> None:
    result = whole(tmp_path)
    context, band = Context(result.plan, "en"), lantern(result)
    targets = targets_by_passage(week_views(context, winter(result), band))
    clarinet = next(part for part in band.parts if part.id == "clarinet").pieces[0]
    rows = practice_rows(clarinet, targets)
    assert [(row.id, [str(note) for note in row.notes]) for row in rows] == [
        ("opening", ["B♭"]),
        ("chase", []),
    ]
    assert watched_in(clarinet, None) == ()


def test_a_week_lists_the_exercises_that_have_something_to_read(tmp_path: Path) -> None:
    result = whole(tmp_path)
    context, band = Context(result.plan, "en"), lantern(result)
    weeks = week_views(context, winter(result), band)
    listed = week_exercises(context, band, band.parts[0].exercises, weeks)
    names = [name for week in listed for _, name in week.exercises]
    assert names[0] == "First"
    assert names[-1] == "Second"
    assert "Never" not in names
    assert week_exercises(context, band, (), weeks) == ()
