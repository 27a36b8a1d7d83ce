"""What a program says once for all cycles, and what a cycle says of its own (common practice, no source)."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.loader import load
from handbook.pipeline import Outcome, load_plan, load_problems
from handbook.report import report_text
from handbook.schema.cycle import Cycle, Stage
from handbook.store import Store
from tests.content_folders import base_files, write_folder
from tests.making.edits import made

PROGRAM, CYCLE = "program.yaml", "cycles/winter/cycle.yaml"
WHOLE = base_files()[CYCLE]
HEAD, STAGES = WHOLE[: WHOLE.index("stages:")], WHOLE[WHOLE.index("stages:") :]
USUAL = "usual:\n" + "".join(f"  {line}\n" for line in STAGES.splitlines())
NUMBERS = "  leap: 10\n  talk: 40\n  marks: every 4\n  at_goal: 4\n  return_within: 5\n  slots: {warm_up: 9, close: 5}\n"


def folder(at: Path, usual: str, cycle: str) -> Path:
    files = base_files()
    return write_folder(at, files | {PROGRAM: files[PROGRAM] + usual, CYCLE: HEAD + cycle})


def cycle_of(at: Path, usual: str, cycle: str) -> Cycle:
    loaded = load(folder(at, usual, cycle))
    assert loaded.handbook is not None, loaded.problems
    return loaded.handbook.cycles[0].cycle.item


def places(outcome: Outcome) -> list[str]:
    found = []
    for problem in outcome.problems:
        at = outcome.sources.position(problem.address, on_key=problem.on_key)
        assert at
        found.append(f"{problem.file}:{at.line}:{at.column} {problem.code}")
    return sorted(found)


def test_a_cycle_without_stages_has_the_programs(tmp_path: Path) -> None:
    own = cycle_of(tmp_path / "own", "", STAGES)
    assert cycle_of(tmp_path / "usual", USUAL, "") == own
    plans = [load_plan(tmp_path / one).plan for one in ("own", "usual")]
    assert plans[0]
    assert plans[1]
    assert plans[0].cycles == plans[1].cycles


def test_a_stage_of_the_cycle_says_only_what_differs(tmp_path: Path) -> None:
    cycle = cycle_of(
        tmp_path, USUAL, "stages:\n  - {id: build, share: 3, starts: 2026-10-20}\n  - polish\n"
    )
    build, polish = cycle.stages
    assert all(type(stage) is Stage for stage in cycle.stages)
    assert (build.share, str(build.starts), build.purpose.read("en")) == (
        3,
        "2026-10-20",
        "Join the passages",
    )
    assert (polish.share, polish.starts, str(polish.tempo.high)) == (1, None, "100")


def test_a_cycle_may_have_fewer_stages_and_its_own(tmp_path: Path) -> None:
    own = "  - {id: show, name: Show, purpose: Play, tempo: 100-100, minutes: {fundamentals: 1, music: 3}, goals: [Play]}\n"
    cycle = cycle_of(tmp_path, USUAL, "stages:\n  - polish\n" + own)
    assert [stage.id for stage in cycle.stages] == ["polish", "show"]


def test_numbers_are_the_programs_and_overridden_one_by_one(tmp_path: Path) -> None:
    cycle = cycle_of(tmp_path, USUAL + NUMBERS, "leap: 20\nslots: {set_up: 1, close: 2}\ntalk:\n")
    assert (cycle.leap, cycle.talk, cycle.at_goal, cycle.return_within) == (20, 40, 4, 5)
    assert (cycle.marks.kind, cycle.marks.step) == ("every", 4)
    # Set-up and close are the cycle's, the warm-up the program's, notices nobody's but the usual 3.
    slots = cycle.slots
    assert (slots.set_up, slots.warm_up, slots.notices, slots.close) == (1, 9, 3, 2)


@pytest.mark.parametrize(
    ("usual", "cycle", "told"),
    [
        # What is wrong in the program's lines is told there, and once.
        (USUAL.replace("50-90", "50 to 90 and more"), "", ["program.yaml:27:14 unreadable-band"]),
        (USUAL.replace("90-100", "40-100"), "", ["program.yaml:34:14 stage-goes-back"]),
        (USUAL.replace("90-100", "90-98"), "", ["program.yaml:34:14 last-stage-below-goal"]),
        (USUAL.replace("id: polish", "id: build"), "", ["program.yaml:31:11 duplicate-id"]),
        (USUAL.replace("      tempo: 90-100\n", ""), "", ["program.yaml:31:7 missing-field"]),
        (USUAL + "  leap: 2\n", "", ["program.yaml:38:9 unreadable-number"]),
        (USUAL.replace("  stages:", "  staged:"), "", ["cycles/winter/cycle.yaml:1:1 missing-field", "program.yaml:23:3 unknown-field"]),
        (USUAL.replace("share", "starts") + "      starts: 2026-11-02\n", "", ["program.yaml:38:7 unknown-field"]),
        # What is wrong in the cycle's is told there.
        (USUAL, "stages: [build, {id: polish, tempo: 40-100}]\n", ["cycles/winter/cycle.yaml:5:37 stage-goes-back"]),
        (USUAL, "stages: [{id: build, share: none}, polish]\n", ["cycles/winter/cycle.yaml:5:29 unreadable-number"]),
        (USUAL, "stages: [build]\n", ["program.yaml:27:14 last-stage-below-goal"]),
        (USUAL, "stages: [buld, polish]\n", ["cycles/winter/cycle.yaml:5:10 entry-wanted"]),
        (USUAL, "stages: [{id: buld, share: 2}, polish]\n", ["cycles/winter/cycle.yaml:5:11 missing-field"]),
        ("", "", ["cycles/winter/cycle.yaml:1:1 missing-field"]),
        ("", "stages: [build]\n", ["cycles/winter/cycle.yaml:5:10 entry-wanted"]),
    ],
)  # fmt: skip
def test_problems_point_at_the_lines_that_say_it(
    usual: str, cycle: str, told: list[str], tmp_path: Path
) -> None:
    assert places(load_problems(folder(tmp_path, usual, cycle))) == told


def test_a_stage_that_is_not_usual_is_asked_about(tmp_path: Path) -> None:
    outcome = load_problems(folder(tmp_path, USUAL, "stages: [buld, polish]\n"))
    assert "has under usual: `build` or `polish`" in report_text(outcome.problems, outcome.sources)


def test_a_program_that_cannot_be_read_is_not_blamed_on_cycles(tmp_path: Path) -> None:
    outcome = load_problems(folder(tmp_path, USUAL + "  slots: {warm_up: 9\n", "stages: [build]\n"))
    assert {problem.file for problem in outcome.problems} == {"program.yaml"}


def test_two_cycles_have_the_same_lines_and_one_warning(tmp_path: Path) -> None:
    at = folder(tmp_path, USUAL.replace("90-100", "90-98"), "")
    spring = (
        "name: Spring\nyear: 2026-27\nstarts: 2027-01-11\nends: 2027-03-12\nensembles: [lantern]\n"
    )
    music = base_files()["cycles/winter/music.yaml"].partition("  - id: tweed-kites")[0]
    write_folder(at, {"cycles/spring/cycle.yaml": spring, "cycles/spring/music.yaml": music})
    codes = [problem.code for problem in load_problems(at).problems]
    assert codes == ["last-stage-below-goal"]
    assert made(at, Store()).warnings == 1


CONCERT = "cycles/winter/concert.yaml"
PROGRAM_ROWS = "program:\n  - {ensemble: harbor, pieces: [tweed-kites]}\n  - {ensemble: lantern, pieces: [button-comets]}\n"
OF_CONCERTS = """usual:
  concert:
    venue: hall
    downbeat: 7:00 pm
    attire: [White shirt, Black shoes]
    bring: [A pencil]
    changeover: 6
    allowances: {unpack: 10, warm_up: 20, walk: 5}
"""


def with_concert(at: Path, usual: str, concert: str) -> Path:
    files = base_files()
    own = f"name: Winter concert\ndate: Thu 2026-12-10\n{concert}{PROGRAM_ROWS}"
    return write_folder(at, files | {PROGRAM: files[PROGRAM] + usual, CONCERT: own})


def test_a_concert_has_the_programs_place_time_clothes_and_minutes(tmp_path: Path) -> None:
    spelled = OF_CONCERTS.partition("concert:\n")[2].replace("\n    ", "\n").lstrip()
    usual = load_plan(with_concert(tmp_path / "usual", OF_CONCERTS, "")).plan
    own = load_plan(with_concert(tmp_path / "own", "", spelled)).plan
    assert usual
    assert own
    assert usual.cycles == own.cycles


def test_usual_doors_go_with_the_usual_downbeat(tmp_path: Path) -> None:
    usual = OF_CONCERTS + "    doors: 6:30 pm\n"
    for name, concert, doors in (("usual", "", "18:30"), ("own", "downbeat: 10:20 am\n", "")):
        loaded = load(with_concert(tmp_path / name, usual, concert))
        assert loaded.handbook, loaded.problems
        (item,) = [one.item for one in loaded.handbook.cycles[0].concerts]
        assert (f"{item.doors:%H:%M}" if item.doors else "") == doors


def test_a_concert_says_only_what_differs(tmp_path: Path) -> None:
    concert = "downbeat: 6:30 pm\nattire: [Blue shirt]\nallowances: {walk: 8}\n"
    loaded = load(with_concert(tmp_path, OF_CONCERTS, concert))
    assert loaded.handbook, loaded.problems
    (item,) = [one.item for one in loaded.handbook.cycles[0].concerts]
    assert (item.venue, item.changeover, f"{item.downbeat:%H:%M}") == ("hall", 6, "18:30")
    assert [str(one) for one in item.attire] == ["Blue shirt"]
    assert item.allowances
    steps = item.allowances  # minutes are taken one by one
    assert (steps.unpack, steps.warm_up, steps.walk, steps.in_place) == (10, 20, 8, None)


@pytest.mark.parametrize(
    ("usual", "concert", "told"),
    [
        (OF_CONCERTS.replace("hall", "hal"), "", ["program.yaml:24:12 unknown-venue"]),
        (OF_CONCERTS.replace("changeover: 6", "changeover: six"), "", ["program.yaml:28:17 unreadable-number"]),
        (OF_CONCERTS.replace("attire", "atire"), "", ["program.yaml:26:5 unknown-field"]),
        (OF_CONCERTS.replace("    downbeat: 7:00 pm\n", ""), "", ["cycles/winter/concert.yaml:1:1 missing-field"]),
        (OF_CONCERTS, "venue: hal\n", ["cycles/winter/concert.yaml:3:8 unknown-venue"]),
        (OF_CONCERTS + "    date: 2026-12-10\n", "", ["program.yaml:30:5 unknown-field"]),
    ],
)  # fmt: skip
def test_problems_of_concerts_point_at_the_lines_that_say_it(
    usual: str, concert: str, told: list[str], tmp_path: Path
) -> None:
    assert places(load_problems(with_concert(tmp_path, usual, concert))) == told


def test_minutes_at_home_are_one_number_or_one_for_each_ensemble(tmp_path: Path) -> None:
    usual = USUAL.replace("    - id: polish\n", "    - id: polish\n      home_minutes: 15\n")
    cycle = cycle_of(
        tmp_path, usual, "stages:\n  - {id: build, home_minutes: {lantern: 10}}\n  - polish\n"
    )
    build, polish = cycle.stages
    assert (build.minutes_at_home("lantern"), build.minutes_at_home("harbor")) == (10, None)
    assert build.minutes_at_home("lantern-brass", "lantern") == 10  # a group has those of its band
    assert (polish.minutes_at_home("harbor"), polish.home_minutes) == (15, 15)


def test_minutes_at_home_of_nobody_are_told_once_where_they_stand(tmp_path: Path) -> None:
    usual = USUAL.replace(
        "    - id: polish\n", "    - id: polish\n      home_minutes: {lantren: 15}\n"
    )
    outcome = load_problems(folder(tmp_path, usual, ""))
    (problem,) = outcome.problems
    assert (problem.file, problem.code, problem.notes) == (PROGRAM, "unknown-ensemble", ())
