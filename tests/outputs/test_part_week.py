"""The list of a week: tempos joined where weeks are alike, notes of the passage, fundamentals.

Weeks and tempos of the shared folder: two rehearsals a week, tempo bands by stage.
"""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

from handbook.outputs.components.part_week import (
    exercise_weeks,
    targets_by_passage,
    watched_in,
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
        told = [(week.target, week.told) for week in targets.weeks]
        assert all(one != other for one, other in pairwise(told))
        for week in weeks:
            target = next(one for one in week.targets if one.passage == targets.name)
            (stretch,) = (one for one in targets.weeks if one.monday <= week.monday <= one.sunday)
            assert stretch.target == target.target
        assert targets.weeks[-1].target == targets.goal
        assert targets.weeks[-1].at_goal


def test_steps_on_the_way_are_told_but_not_all_of_many(tmp_path: Path) -> None:
    result = whole(tmp_path)
    weeks = week_views(Context(result.plan, "en"), winter(result), lantern(result))
    told = {
        (len(target.steps), listed.told, listed.at_goal)
        for week in weeks
        for target in week.targets
        for listed in targets_by_passage(weeks)[target.piece_id, target.passage_id].weeks
        if listed.monday <= week.monday <= listed.sunday
    }
    assert max(count for count, _, _ in told) > 1
    for count, text, at_goal in told:
        way = text.removesuffix(", the goal")
        assert way.isdigit() if count == 1 else way.startswith(("steps ", f"{count} steps from "))
        assert len(re.findall(r"\d+", way)) in {count, 3}
        assert (way != text) is at_goal


def test_a_passage_names_its_notes_as_the_part_has_them(tmp_path: Path) -> None:
    result = whole(tmp_path)
    clarinet = next(part for part in lantern(result).parts if part.id == "clarinet").pieces[0]
    watched = [[str(note) for note in watched_in(clarinet, one)] for one in clarinet.passages]
    assert clarinet.passages == ("opening", "chase")
    assert watched == [["B♭"], []]
    assert watched_in(clarinet, None) == ()


def test_an_exercise_is_for_the_weeks_in_which_there_is_something_to_read(tmp_path: Path) -> None:
    result = whole(tmp_path)
    band = lantern(result)
    weeks = week_views(Context(result.plan, "en"), winter(result), band)
    listed = exercise_weeks(band, band.parts[0].exercises, weeks)
    first, *_, last = (week.monday for week in weeks)
    assert first in listed["first"]
    assert last in listed["second"]
    assert "never" not in listed
    assert exercise_weeks(band, (), weeks) == {}
