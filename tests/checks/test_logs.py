"""Logs beside the rehearsals and the music that they are about; what is told follows by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.pipeline import load_plan, load_problems
from tests.content_folders import base_files, write_folder
from tests.plan.test_half_groups import with_groups

A, B = "cycles/winter/log/a.yaml", "cycles/winter/log/b.yaml"
CHASE = "reached: [{passage: chase, tempo: dotted quarter = 58}]\n"
MONDAY = "date: Mon 2026-11-02\nensemble: lantern\n"
TWICE = "\nextra: [{ensemble: lantern, date: Mon 2026-11-02, start: 3:30 pm, end: 4:30 pm}]\n"


def told(folder: Path, files: dict[str, str]) -> list[str]:
    return [one.code for one in load_problems(write_folder(folder, files)).problems]


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        (MONDAY + CHASE, MONDAY + "not_done: [opening]\n", []),
        (MONDAY + CHASE, MONDAY + "not_done: [chase]\n", ["reached-said-twice"]),
        (MONDAY + CHASE, MONDAY.replace("11-02", "11-09") + CHASE, []),
        (MONDAY + "start: 10:05\n" + CHASE, MONDAY + "start: 3:30 pm\n" + CHASE, []),
        (MONDAY + CHASE, MONDAY + "start: 10:05\n" + CHASE, ["reached-said-twice"]),
        (MONDAY + CHASE, MONDAY.replace("lantern", "harbor"), ["log-without-rehearsal"]),
        (MONDAY + CHASE, MONDAY + "over: 5\n", []),
        (MONDAY + CHASE, MONDAY.replace("2026", "2025").replace("Mon", "Sun"), ["day-outside-cycle"]),
        (MONDAY + CHASE, MONDAY + "group: brass\n", ["unknown-group"]),
        (MONDAY + CHASE, MONDAY + "start: 9:00 am\n", ["log-without-rehearsal"]),
    ],
)  # fmt: skip
def test_what_two_logs_say(tmp_path: Path, first: str, second: str, expected: list[str]) -> None:
    files = {**base_files(), A: first, B: second}
    if "3:30 pm" in second:
        files["cycles/winter/cycle.yaml"] += TWICE
    found = told(tmp_path, files)
    assert found == expected


def test_a_log_of_a_day_with_two_rehearsals_says_which(tmp_path: Path) -> None:
    files = {**base_files(), A: MONDAY + CHASE}
    files["cycles/winter/cycle.yaml"] += TWICE
    assert told(tmp_path / "a", files) == ["log-for-two-rehearsals"]
    files[A] += "start: 3:30 pm\n"
    assert told(tmp_path / "b", files) == []
    plan = load_plan(tmp_path / "b").plan
    assert plan is not None
    rows = plan.cycles[0].ensembles[0].rehearsals
    assert [row.rehearsal.start.hour for row in rows if row.logs] == [15]


@pytest.mark.parametrize(
    ("sections", "said", "expected"),
    [
        ("{all: {who: [winds], passages: [chase]}}", "not_done: [opening]", ["not-done-unplanned"]),
        ("{all: {who: [winds], passages: [chase]}}", "not_done: [chase]", []),
        ("{all: {who: [winds]}}", "not_done: [opening]", []),
        ("{all: {who: [winds], passages: [chase]}}", "over: 60", []),
        ("{all: {who: [winds], passages: [chase]}}", "over: 61", ["over-longer-than-rehearsal"]),
    ],
)  # fmt: skip
def test_what_was_left_out_was_planned_and_what_ran_over_is_no_longer_than_it(
    tmp_path: Path, sections: str, said: str, expected: list[str]
) -> None:
    """The sectional lasts an hour."""
    files = {**base_files(), A: f"date: Fri 2026-11-06\nensemble: lantern\n{said}\n"}
    files["cycles/winter/cycle.yaml"] += (
        "\nextra: [{ensemble: lantern, date: Fri 2026-11-06, start: 3:30 pm, end: 4:30 pm, "
        f"sections: {sections}}}]\n"
    )
    assert told(tmp_path, files) == expected


def test_a_log_may_be_of_one_group(tmp_path: Path) -> None:
    """All meet on Fridays at 10:55, the brass on A days; October 20 is one, October 19 a B day."""
    friday = f"date: Fri 2026-11-06\nensemble: lantern\nstart: 10:55\n{CHASE}"
    files = {**with_groups(), A: friday}
    files[B] = f"date: Tue 2026-10-20\nensemble: lantern\ngroup: brass\n{CHASE}"
    plan = load_plan(write_folder(tmp_path, files)).plan
    assert plan is not None
    brass, winds, harbor = plan.cycles[0].ensembles
    assert [[len(row.logs) for row in one.rehearsals if row.logs] for one in (brass, winds, harbor)] == [
        [1, 1], [1], []
    ]  # fmt: skip
    files[B] = files[B].replace("brass", "winds")
    assert "log-without-rehearsal" in told(tmp_path, files)


def test_of_a_free_passage_nothing_is_reached(tmp_path: Path) -> None:
    files = {**base_files(), A: MONDAY + "reached: [{passage: opening, tempo: quarter = 58}]\n"}
    music = files["cycles/winter/music.yaml"]
    music = music.replace("tempo: quarter = 96", "tempo: free").replace(
        "        goal: quarter = 96\n", ""
    )
    files["cycles/winter/music.yaml"] = music
    outcome = load_plan(write_folder(tmp_path, files))
    assert outcome.plan is not None
    opening = outcome.plan.cycles[0].ensembles[0].pieces[0].passages[0]
    assert all(visit.rung.tempo.free for visit in opening.visits)
    assert opening.reached == ()
    (problem,) = outcome.problems
    assert problem.code == "field-without-effect"
    assert problem.address == (A, "reached", 0, "tempo")
    assert problem.message == "`tempo` changes nothing here: `opening` is free, so it has no climb"


def test_a_draft_may_have_logs_and_what_is_wrong_in_them_stops_nothing(tmp_path: Path) -> None:
    files = dict(base_files())
    for name, text in base_files().items():
        if name.startswith("cycles/winter/"):
            files[name.replace("winter", "spring")] = text
    cycle = "cycles/spring/cycle.yaml"
    files[cycle] = files[cycle].replace("starts: Mon 2026-10-19", "draft: yes\nstarts: 2026-08-24")
    files["cycles/spring/concert.yaml"] = files["cycles/spring/concert.yaml"].replace(
        "Thu 2026-12-10", "2026-10-15"
    )
    log = "cycles/spring/log/a.yaml"
    files[log] = (
        "date: Wed 2026-09-02\nensemble: lantern\nreached: [{passage: opning, tempo: quarter = 60}]\n"
    )
    outcome = load_plan(write_folder(tmp_path, files))
    assert outcome.plan is not None
    assert [(one.code, one.file, one.severity.value) for one in outcome.problems] == [
        ("unknown-passage", log, "warning")
    ]


def test_what_is_wrong_in_a_broken_log_is_told_in_one_run(tmp_path: Path) -> None:
    files = {
        **base_files(),
        A: "date: Tue 2026-11-02\nensemble: lantern\nreached: [{passage: opning, tempo: 60}]\n",
    }
    assert sorted(told(tmp_path / "a", files)) == ["tempo-without-note", "wrong-weekday"]
    files[A] = files[A].replace("tempo: 60", "tempo: quarter = 60")
    assert sorted(told(tmp_path / "b", files)) == ["unknown-passage", "wrong-weekday"]
