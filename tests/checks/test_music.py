"""Passages must lie in their piece, and ladders must climb.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.plan.model import EnsemblePlan, Plan
from tests.checks.checking import MUSIC, Change, checked
from tests.content_folders import base_files
from tests.plan.planning import planned


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        start: quarter = 109")], ["cycles/winter/music.yaml:36:16 goal-below-start: the start, quarter = 109, is faster than the goal, quarter = 108 | start at or below the goal, or leave `start` out to begin by the stage"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        start: half = 54")], []),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        start: half = 60")], ["cycles/winter/music.yaml:36:16 goal-below-start: the start, half = 60, is faster than the goal, quarter = 108 | start at or below the goal, or leave `start` out to begin by the stage"]),
        ([(MUSIC, "measures: 9-16", "measures: 9-33")], ["cycles/winter/music.yaml:34:19 measures-outside-form: measures 9–33 are not all in the form of `tweed-kites`, which has 1–32 | check the numbers, or add the missing part to `form`"]),
        ([(MUSIC, "measures: 17-24", "measures: 15-24"), (MUSIC, "measures: 1-8", "measures: 1-8")], []),
        ([(MUSIC, "measures: 17-40", "measures: 18-40"), (MUSIC, "measures: 17-24", "measures: 18-24")], ["cycles/winter/music.yaml:11:19 warning form-gap: measure 17 of `button-comets` is in no part of its form | let each part begin on the measure after the one before it"]),
        ([(MUSIC, "measures: 17-40", "measures: 20-40"), (MUSIC, "measures: 17-24", "measures: 17-24")], ["cycles/winter/music.yaml:21:19 measures-outside-form: measures 17–24 are not all in the form of `button-comets`, which has 1–16 and 20–40 | check the numbers, or add the missing part to `form`", "cycles/winter/music.yaml:11:19 warning form-gap: measures 17–19 of `button-comets` are in no part of its form | let each part begin on the measure after the one before it"]),
        ([(MUSIC, "measures: 17-40", "measures: 16-40")], ["cycles/winter/music.yaml:11:19 warning form-overlap: measure 16 of `button-comets` is in this part and in the one before | begin it at measure 17"]),
        ([(MUSIC, "measures: 17-40", "measures: 9-16"), (MUSIC, "measures: 17-24", "measures: 9-16")], []),
        ([(MUSIC, "goal: dotted quarter = 80", "goal: quarter = 80")], ["cycles/winter/music.yaml:22:15 warning goal-counts-other-note: the goal counts the quarter, but the piece counts the dotted quarter here | write `dotted quarter = …`, if the beat is meant"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        lock_by: 2026-12-11")], ["cycles/winter/music.yaml:36:18 lock-outside-cycle: Fri 2026-12-11 is outside the cycle (2026-10-19 to 2026-12-10) | name a date within the cycle, or a stage"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        lock_by: 2026-12-10")], []),
        ([(MUSIC, "    title: Tweed Kites", "    title: Tweed Kites\n    watch: [{text: B, measures: 40}]")], ["cycles/winter/music.yaml:25:33 measures-outside-form: measure 40 is not in the form of `tweed-kites`, which has 1–32 | check the numbers, or add the missing part to `form`"]),
    ],
)  # fmt: skip
def test_music_is_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told


@pytest.mark.parametrize(("count", "codes"), [(199, []), (200, ["too-many-passages"])])
def test_a_band_has_no_more_passages_than_a_season_could_hold(
    count: int, codes: list[str], tmp_path: Path
) -> None:
    more = "".join(
        f"      - {{id: a{n}, name: A, measures: 1, goal: quarter = 108}}\n" for n in range(count)
    )
    last = "        goal: quarter = 108\n"
    told = checked(tmp_path, (MUSIC, last, last + more))
    assert [line.split(":")[2].split()[1] for line in told] == codes


def test_too_many_passages_are_told_once_at_the_piece_that_passes_the_limit(tmp_path: Path) -> None:
    def piece(name: str, count: int) -> str:
        passages = ", ".join(
            f"{{id: a{n}, name: A, measures: 1, goal: quarter = 60}}" for n in range(count)
        )
        form = "[{name: A, measures: 1-4, meter: 4/4, tempo: quarter = 60}]"
        return f"  - {{id: {name}, title: P, ensemble: harbor, form: {form}, passages: [{passages}]}}\n"

    # Tweed Kites has one passage, so Harbor Band has 200 after the first of these.
    more = piece("one", 199), piece("two", 1), piece("three", 1)
    told = checked(tmp_path, ("cycles/winter/music/more.yaml", "", "pieces:\n" + "".join(more)))
    assert [line.split(":")[:2] for line in told if "too-many-passages" in line] == [
        ["cycles/winter/music/more.yaml", "3"]
    ]


FORM = "        measures: 1-32\n        meter: 3/4\n        tempo: quarter = 108\n"
UNLIKE = "cycles/winter/music.yaml:35:15 warning goal-unlike-form: the goal is quarter = 112, but the form plays these measures at quarter = 108 | write the same tempo in both places"


@pytest.mark.parametrize(
    ("form", "goal", "told"),
    [
        (FORM, "quarter = 108", []),
        (FORM, "quarter = 112", [UNLIKE]),
        (FORM, "half = 54", []),  # another note: told by another check, and the same speed
        (FORM.replace("= 108", "= 104, tempo_to: quarter = 116").replace("tempo: quarter = 104, ", "tempo: quarter = 104\n        "), "quarter = 112", []),
    ],
)  # fmt: skip
def test_a_goal_is_the_tempo_of_its_measures_in_the_form(
    form: str, goal: str, told: list[str], tmp_path: Path
) -> None:
    changes = [(MUSIC, FORM, form), (MUSIC, "goal: quarter = 108", f"goal: {goal}")]
    found = [line for line in checked(tmp_path, *changes) if "goal-unlike-form" in line]
    assert found == told


def test_a_passage_without_a_goal_has_the_forms(tmp_path: Path) -> None:
    parts = FORM.replace("1-32", "1-12") + (
        "      - name: Slower\n        measures: 13-32\n        meter: 3/4\n        tempo: quarter = 92\n"
    )
    no_goal = (MUSIC, "        goal: quarter = 108\n", "        start: quarter = 60\n")
    assert checked(tmp_path / "one", no_goal) == []
    assert checked(tmp_path / "two", (MUSIC, FORM, parts), no_goal) == [
        "cycles/winter/music.yaml:38:19 goal-missing: `round` has no goal, and the form plays measures 9–16 at `quarter = 108` and `quarter = 92` | write `goal: quarter = 108` or `goal: quarter = 92`"
    ]
    moved = FORM.replace("= 108", "= 108\n        tempo_to: quarter = 92")
    (told,) = checked(tmp_path / "moving", (MUSIC, FORM, moved), no_goal)
    assert "goal-missing" in told
    fast = (no_goal[0], no_goal[1], "        start: quarter = 112\n")
    (told,) = checked(tmp_path / "fast", fast)
    assert (
        "goal-below-start: the start, quarter = 112, is faster than the goal, quarter = 108" in told
    )


def test_what_is_planned_without_a_goal_is_as_with_the_same(tmp_path: Path) -> None:
    files = base_files()
    bare = files[MUSIC].replace("        goal: quarter = 108\n", "")
    plans = [
        planned(tmp_path / name, {MUSIC: text}).plan
        for name, text in (("a", files[MUSIC]), ("b", bare))
    ]
    passages = [
        [row for band in winter_of(plan) for piece in band.pieces for row in piece.passages]
        for plan in plans
    ]
    assert [(row.visits, row.weeks) for row in passages[0]] == [
        (row.visits, row.weeks) for row in passages[1]
    ]


def winter_of(plan: Plan) -> tuple[EnsemblePlan, ...]:
    return plan.cycles[0].ensembles


def test_a_passage_over_several_parts_may_have_the_tempo_of_any(tmp_path: Path) -> None:
    parts = FORM.replace("1-32", "1-12") + (
        "      - name: Slower\n        measures: 13-32\n        meter: 3/4\n        tempo: quarter = 112\n"
    )
    for goal, count in (("108", 0), ("112", 0), ("110", 1)):
        changes = [(MUSIC, FORM, parts), (MUSIC, "goal: quarter = 108", f"goal: quarter = {goal}")]
        found = checked(tmp_path / goal, *changes)
        assert sum("goal-unlike-form" in line for line in found) == count
