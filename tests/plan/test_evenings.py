"""What evenings at home are made of, counted from the agendas and the calendar of a small folder."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from handbook.outputs.evenings import evening_files
from handbook.outputs.page import Context
from handbook.outputs.site import render_site
from handbook.plan.build import PlanResult
from handbook.plan.evenings import home_days, home_passages, home_sets
from tests.content_folders import base_files, changed
from tests.demo import demo_plan
from tests.plan.planning import CYCLE, MUSIC, lantern, planned, winter

DEMO_BYTES = 15_000
EVENINGS = "winter/lantern/evenings.js"


def with_minutes(at: Path, **more: str) -> PlanResult:
    stages = base_files()[CYCLE].replace(
        "    name: Build\n", "    name: Build\n    home_minutes: 12\n"
    )
    return planned(at, {CYCLE: stages, **more})


def data_of(script: bytes) -> Any:
    text = script.decode()
    assert text.startswith("handbookEvenings(")
    assert text.endswith(");\n")
    return json.loads(f"[{text[len('handbookEvenings(') : -3]}]")


def test_a_band_meets_at_rehearsals_and_concerts(tmp_path: Path) -> None:
    result = with_minutes(tmp_path)
    band = lantern(result)
    days = home_days(winter(result), band)
    rehearsed = [row.rehearsal.day for row in band.rehearsals]
    concert = date(2026, 12, 10)  # which plays Button Comets, with both of its passages
    assert [meet.day for meet in days.meets] == [*rehearsed, concert]
    assert days.meets[-1].plays == {"button-comets/opening", "button-comets/chase"}
    for meet, row in zip(days.meets, band.rehearsals, strict=False):
        visits = {
            one.item.id for one in band.pieces[0].passages
            if any(visit.place == row.place for visit in one.visits)
        }  # fmt: skip
        assert meet.plays == {f"button-comets/{name}" for name in visits}
        assert meet.minutes == (12 if row.stage.item.id == "build" else 0)
    assert days.off == {concert}
    first = band.pieces[0].passages[0]
    assert days.passages[0].opens == rehearsed[first.visits[0].place]
    # Its goal is quarter = 96.
    for (monday, lack), week in zip(days.passages[0].lacks, first.weeks, strict=True):
        assert monday == week.monday
        assert lack == 100 - int(100 * week.target.bpm / 96)


def test_a_dropped_piece_is_practiced_no_more(tmp_path: Path) -> None:
    files = changed(base_files(), MUSIC, "    ensemble: lantern\n", "    ensemble: lantern\n    dropped: Mon 2026-11-16\n")  # fmt: skip
    concert = base_files()["cycles/winter/concert.yaml"]
    program = concert[: concert.index("  - ensemble: lantern")]
    result = with_minutes(tmp_path, **{MUSIC: files[MUSIC], "cycles/winter/concert.yaml": program})
    days = home_days(winter(result), lantern(result))
    assert {one.closes for one in days.passages} == {date(2026, 11, 16)}


def test_the_script_has_what_each_part_and_week_is_planned(tmp_path: Path) -> None:
    result = with_minutes(tmp_path)
    files = {file.path: file.content for file in render_site(result.plan).files}
    band, data = data_of(files[EVENINGS])
    assert band == "winter/lantern"
    own, sets = lantern(result), home_sets(lantern(result))
    assert data["parts"].keys() == {part.id for part in own.parts}
    for part, place in data["parts"].items():
        passages = [data["passages"][one]["id"] for one in data["sets"][place][0]]
        assert passages == [*sets[part].passages]
    for shown, (_, passage) in zip(data["passages"], home_passages(own), strict=True):
        assert shown["goal"][1:] == [
            f"{passage.item.goal.beat.name} note",
            passage.item.goal.bpm_text,
        ]
        for week in passage.weeks:
            told = [one for one in shown["weeks"] if one[0] <= week.monday.isoformat()][-1]
            assert told[2:] == [week.target.bpm_text, [step.bpm_text for step in week.steps]]


def test_a_goal_changes_the_script_of_its_band_alone(tmp_path: Path) -> None:
    edit = changed(base_files(), MUSIC, "goal: dotted quarter = 80", "goal: dotted quarter = 76")
    plans = [with_minutes(tmp_path / "a"), with_minutes(tmp_path / "b", **{MUSIC: edit[MUSIC]})]
    before, after = (
        {file.path: file.content for file in render_site(one.plan).files if "evenings" in file.path}
        for one in plans
    )
    assert before.keys() == after.keys() == {EVENINGS, "winter/harbor/evenings.js"}
    assert [name for name in before if before[name] != after[name]] == [EVENINGS]


def test_without_minutes_there_is_no_script(tmp_path: Path) -> None:
    files = [file.path for file in render_site(planned(tmp_path).plan).files]
    assert not [name for name in files if name.endswith("evenings.js")]


def test_the_demos_scripts_are_light() -> None:
    cycle, context = demo_plan().cycles[-1], Context(demo_plan(), "en")
    for ensemble in cycle.ensembles:
        (script,) = evening_files(context, cycle, ensemble)
        assert len(script.content) < DEMO_BYTES


def test_breaks_of_the_demo_are_those_of_its_calendar() -> None:
    cycle = demo_plan().cycles[-1]
    days = home_days(cycle, cycle.ensembles[0])
    # Thanksgiving: no school from Wed, Nov 25 to Sun, Nov 29, and practice as ever on its eve.
    assert sorted(days.resting) == [date(2026, 11, 25) + timedelta(days=n) for n in range(4)]
