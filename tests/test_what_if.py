"""`handbook plan` with a what-if: the same as if the director had written the lines it prints.

The lines are pasted with PyYAML's marks, read and planned anew; counts and dates of the shared
folder are reckoned by hand: Lantern meets Mondays and Wednesdays, Harbor Tuesdays and Thursdays.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from handbook.cli import what_if
from handbook.cli.exit_codes import Misuse
from handbook.cli.plan import command
from handbook.cli.plan_json import plan_text
from handbook.domain.metronome_marks import EveryMarks, TraditionalMarks
from handbook.domain.values.tempo import parse_tempo
from handbook.loader import load
from handbook.pipeline import load_plan, plan_anew
from handbook.plan.climbs import climb_of, laws_broken, marks_between, season_changes
from handbook.plan.content_lines import LineKind
from handbook.plan.model import Plan
from handbook.plan.what_if import LostDay, MovedConcert, OtherGoal, Wishes, asked
from handbook.plan.what_if_mends import mends_for
from handbook.schema.handbook import Handbook
from tests.content_folders import base_files, changed, write_folder
from tests.pasting import pasted
from tests.plan.planning import CONCERT, CYCLE, MUSIC

TODAY = date(2026, 11, 12)
EXTRA = "extra:\n  - {ensemble: lantern, date: Wed 2026-12-02, start: 3:30 pm, end: 4:30 pm, name: Dress rehearsal, kind: dress}\n"
SECOND_PIECE = """  - id: brass-snow
    title: Brass Snow
    ensemble: harbor
    form: [{name: Whole, measures: 1-24, meter: 4/4, tempo: quarter = 88}]
    passages: [{id: flakes, name: Flakes, measures: 1-8, goal: quarter = 88}]
"""


def whole_files() -> dict[str, str]:
    """The shared folder with an extra rehearsal, and two pieces for Harbor."""
    files = base_files()
    files[CYCLE] += EXTRA
    files[MUSIC] += SECOND_PIECE
    files[CONCERT] = files[CONCERT].replace("[tweed-kites]", "[tweed-kites, brass-snow]")
    return files


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_folder(tmp_path_factory.mktemp("content"), whole_files())


@pytest.fixture(scope="module")
def present(folder: Path) -> tuple[Handbook, Plan]:
    outcome = load_plan(folder)
    assert outcome.plan is not None
    assert outcome.handbook is not None
    return outcome.handbook, outcome.plan


@pytest.fixture(autouse=True)
def _on_a_day_of_the_cycle(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(what_if, "today_in", lambda _: TODAY)


def told(*arguments: str | Path) -> str:
    result = CliRunner().invoke(command, [str(one) for one in arguments], standalone_mode=False)
    assert result.exception is None, result.exception
    assert result.return_value == 0, result.stderr
    return result.output


def refused(*arguments: str | Path) -> str:
    result = CliRunner().invoke(command, [str(one) for one in arguments], standalone_mode=False)
    assert isinstance(result.exception, Misuse)
    return result.exception.message


def planned(folder: Path, files: Mapping[str, str]) -> str:
    """Read files, check them, and give their whole plan as text."""
    outcome = load_plan(write_folder(folder, files))
    assert outcome.plan is not None, [problem.message for problem in outcome.problems]
    return plan_text(outcome.plan, outcome.plan.cycles, outcome.plan.events)


WISHES = {
    "a day of everyone": Wishes(lost=(LostDay(date(2026, 12, 7)),)),
    "a day with an extra rehearsal": Wishes(lost=(LostDay(date(2026, 12, 2)),)),
    "a day of a band": Wishes(lost=(LostDay(date(2026, 12, 2), "lantern"),)),
    "two days of a band": Wishes(
        lost=(LostDay(date(2026, 11, 16), "lantern"), LostDay(date(2026, 11, 18), "lantern"))
    ),
    "a piece": Wishes(pieces=("brass-snow",)),
    "a concert": Wishes(concerts=(MovedConcert(date(2026, 12, 15)),)),
    "a concert before an extra rehearsal": Wishes(concerts=(MovedConcert(date(2026, 12, 1)),)),
    "a goal": Wishes(goals=(OtherGoal("button-comets", "chase", "96"),)),
    "all together": Wishes(
        lost=(LostDay(date(2026, 12, 7)),),
        pieces=("brass-snow",),
        concerts=(MovedConcert(date(2026, 12, 15), "winter"),),
        goals=(OtherGoal("tweed-kites", "round", "quarter = 104"),),
        since=date(2026, 11, 16),
    ),
}


@pytest.mark.parametrize("wishes", WISHES.values(), ids=WISHES)
def test_the_lines_make_the_plan_that_is_shown(
    wishes: Wishes, present: tuple[Handbook, Plan], tmp_path: Path
) -> None:
    found = asked(*present, replace(wishes, today=TODAY))
    plan, _ = plan_anew(found.altered.handbook)
    assert plan is not None
    shown = plan_text(plan, plan.cycles, plan.events)
    assert shown != plan_text(present[1], present[1].cycles, present[1].events)
    assert planned(tmp_path, pasted(whole_files(), found.altered.lines)) == shown


@pytest.mark.parametrize(
    ("lost", "since", "first", "count"),
    [
        (LostDay(date(2026, 12, 7)), None, date(2026, 12, 7), 13),
        (LostDay(date(2026, 12, 7)), date(2026, 11, 18), date(2026, 11, 18), 9),
        (LostDay(date(2026, 12, 2)), None, date(2026, 12, 2), 11),
        (LostDay(date(2026, 12, 2), "lantern"), None, date(2026, 12, 2), 11),
    ],
)
def test_what_has_been_stays(
    lost: LostDay,
    since: date | None,
    first: date,
    count: int,
    present: tuple[Handbook, Plan],
) -> None:
    """Up to the lost day nothing that is asked of players changes; told sooner, up to then.

    Lantern has 11 classes before December 2, with that day's and an extra rehearsal 13 before
    December 7, and 9 classes before November 18.
    """
    wishes = Wishes(lost=(lost,), since=since, today=TODAY)
    plan, _ = plan_anew(asked(*present, wishes).altered.handbook)
    assert plan is not None
    before, after = (
        [
            (row.rehearsal.start, row.blocks)
            for row in one.cycles[0].ensembles[0].rehearsals
            if row.rehearsal.day < first
        ]
        for one in (present[1], plan)
    )
    assert before == after
    assert len(before) == count
    assert lost.day not in {row.rehearsal.day for row in plan.cycles[0].ensembles[0].rehearsals}


def test_lines_say_since_when_it_is_known(present: tuple[Handbook, Plan]) -> None:
    lost = (LostDay(date(2026, 12, 7)),)
    for since, told in (
        (None, "Mon 2026-12-07"),
        (date(2026, 11, 18), "Wed 2026-11-18"),
        (date(2026, 12, 9), "Mon 2026-12-07"),
    ):
        (lines,) = asked(*present, Wishes(lost=lost, since=since, today=TODAY)).altered.lines
        assert lines.lines == (f"- {{name: Lost day, date: Mon 2026-12-07, told: {told}}}",)


def test_a_concert_that_was_moved_before_keeps_all_its_days(tmp_path: Path) -> None:
    moved = changed(
        whole_files(),
        CONCERT,
        "date: Thu 2026-12-10\n",
        "date: Thu 2026-12-10\nmoved_from: Wed 2026-12-09\ntold: Mon 2026-11-09\n",
    )
    outcome = load_plan(write_folder(tmp_path / "now", moved))
    assert outcome.plan is not None
    assert outcome.handbook is not None
    wishes = Wishes(concerts=(MovedConcert(date(2026, 12, 15)),), today=TODAY)
    found = asked(outcome.handbook, outcome.plan, wishes)
    assert found.altered.lines[0].lines == (
        "date: Tue 2026-12-15",
        "moved_from: [Wed 2026-12-09, Thu 2026-12-10]",
        "told: Thu 2026-11-12",
    )
    plan, _ = plan_anew(found.altered.handbook)
    assert plan is not None
    shown = plan_text(plan, plan.cycles, plan.events)
    assert planned(tmp_path / "then", pasted(moved, found.altered.lines)) == shown


def test_of_a_concert_that_is_earlier_only_the_days_after_it_are_taken_out(tmp_path: Path) -> None:
    more = changed(
        whole_files(),
        CYCLE,
        "extra:\n",
        "extra:\n  - {ensemble: lantern, date: Mon 2026-11-30, start: 5 pm, end: 6 pm}\n"
        "  - {ensemble: lantern, date: Tue 2026-12-01, start: 5 pm, end: 6 pm}\n",
    )
    outcome = load_plan(write_folder(tmp_path / "now", more))
    assert outcome.plan is not None, [problem.message for problem in outcome.problems]
    assert outcome.handbook is not None
    wishes = Wishes(concerts=(MovedConcert(date(2026, 11, 30)),), today=TODAY)
    found = asked(outcome.handbook, outcome.plan, wishes)
    out = [one.lines for one in found.altered.lines if one.kind is LineKind.TAKE_OUT]
    assert ("- {ensemble: lantern, date: Tue 2026-12-01, start: 5:00 pm}",) in out
    assert not any("2026-11-30" in line for lines in out for line in lines)
    plan, _ = plan_anew(found.altered.handbook)
    assert plan is not None
    shown = plan_text(plan, plan.cycles, plan.events)
    assert planned(tmp_path / "then", pasted(more, found.altered.lines)) == shown


def test_a_piece_that_is_dropped_on_the_day_of_the_concert_leaves_its_program(
    present: tuple[Handbook, Plan],
) -> None:
    wishes = Wishes(pieces=("brass-snow",), since=date(2026, 12, 10), today=TODAY)
    lines = asked(*present, wishes).altered.lines
    assert [one.lines for one in lines] == [
        ("pieces: [tweed-kites]",),
        ("dropped: Thu 2026-12-10",),
    ]


@pytest.mark.parametrize(
    ("low", "high", "count"),
    [("quarter = 60", "quarter = 66", 2), ("quarter = 60", "quarter = 61", 1), ("quarter = 96", "quarter = 96", 0), ("quarter = 208", "quarter = 216", 1), ("quarter = 50", "quarter = 72", 8)],
)  # fmt: skip
def test_marks_are_counted_on_the_traditional_scale(low: str, high: str, count: int) -> None:
    """By the 39 settings of the traditional metronome: 50 52 54 56 58 60 63 66 69 72."""
    between = marks_between(parse_tempo(low), parse_tempo(high), TraditionalMarks())
    assert between == (9 if (low, high) == ("quarter = 50", "quarter = 72") else count)


def test_marks_are_counted_by_any_step() -> None:
    assert marks_between(parse_tempo("80"), parse_tempo("92"), EveryMarks(4)) == 3


def test_a_climb_is_as_steep_as_its_visits_and_weeks(present: tuple[Handbook, Plan]) -> None:
    """Reckoned again from the printed plan: its visits, weeks and blocks."""
    plan = present[1]
    data = json.loads(plan_text(plan, plan.cycles))["cycles"][0]["ensembles"][0]
    (lantern, passage) = plan.cycles[0].ensembles[0], plan.cycles[0].ensembles[0].pieces[0]
    shown = data["pieces"][0]["passages"][0]
    speeds = [visit["tempo"]["bpm"] for visit in shown["visits"]]
    weeks = [speeds[0], *(week["target"]["bpm"] for week in shown["weeks"])]
    blocks = [block for row in data["rehearsals"] for block in row["blocks"]]
    climb = climb_of(lantern, passage.item.id, passage.passages[0], TraditionalMarks())
    assert climb.visits == len(speeds)
    assert climb.minutes == sum(one["minutes"] for one in blocks if one["passage"] == "opening")
    assert climb.percent == max(Fraction(high * 100, low) - 100 for low, high in pairwise(speeds))
    assert climb.week_percent == max(
        Fraction(high * 100, low) - 100 for low, high in pairwise(weeks)
    )
    assert climb.at_goal == speeds.count(96)
    assert climb.last == parse_tempo("96")


LATE_LOCK = {
    MUSIC: whole_files()[MUSIC].replace(
        "        goal: quarter = 96\n", "        goal: quarter = 96\n        lock_by: 2026-11-18\n"
    )
}
SHORT = {CYCLE: whole_files()[CYCLE].replace("Mon 2026-10-19", "Mon 2026-11-09")}


@pytest.mark.parametrize(
    ("changes", "days", "since", "lost", "kinds"),
    [
        (LATE_LOCK, (16, 18), date(2026, 11, 16), {"opening"}, {"later lock", "extra rehearsal", "passage left out"}),
        (SHORT, (30,), date(2026, 11, 9), {"opening", "chase"}, {"extra rehearsal", "lower goal"}),
    ],
    ids=["a late lock", "a short season"],
)  # fmt: skip
def test_each_mend_restores_what_would_be_lost(
    changes: dict[str, str],
    days: tuple[int, ...],
    since: date,
    lost: set[str],
    kinds: set[str],
    tmp_path: Path,
) -> None:
    """Each change, pasted after the lines of the loss, keeps every law that was kept."""
    files = whole_files() | changes
    outcome = load_plan(write_folder(tmp_path / "now", files))
    assert outcome.plan is not None
    assert outcome.handbook is not None
    gone = tuple(LostDay(date(2026, 11, day), "lantern") for day in days)
    found = asked(outcome.handbook, outcome.plan, Wishes(lost=gone, since=since))
    plan, _ = plan_anew(found.altered.handbook)
    assert plan is not None
    change = next(one for one in season_changes(outcome.plan, plan) if not one.is_none)
    assert {one.passage.id for one in change.gave_way if one.passage} == lost

    tried: list[Handbook] = []

    def trial(handbook: Handbook) -> tuple[Plan | None, tuple[str, ...]]:
        tried.append(handbook)
        return plan_anew(handbook, whole=False)[0], ()

    mends = mends_for(change, found.altered, plan, trial, since)
    assert len(tried) == len(mends)  # the season of the band alone sorts out all others
    assert change.before is not None
    kept, after = laws_broken(change.before), pasted(files, found.altered.lines)
    for place, mend in enumerate(mends):
        loaded = load(write_folder(tmp_path / str(place), pasted(after, mend.altered.lines)))
        assert loaded.handbook is not None, mend.sentence
        again, reckoned = (plan_anew(one)[0] for one in (loaded.handbook, mend.altered.handbook))
        assert again is not None, mend.sentence
        assert reckoned is not None
        assert laws_broken(again.cycles[0].ensembles[0]) <= kept, mend.sentence
        assert plan_text(again, again.cycles) == plan_text(reckoned, reckoned.cycles)
        if mend.kind == "extra rehearsal":
            assert f"make_up_for: Mon 2026-11-{days[0]}" in mend.altered.lines[0].lines[-1]
    assert {mend.kind for mend in mends} == kinds

    def with_a_clash(handbook: Handbook) -> tuple[Plan | None, tuple[str, ...]]:
        return plan_anew(handbook, whole=False)[0], ("error: the room is taken",)

    mends = mends_for(change, found.altered, plan, with_a_clash, since)
    assert {mend.kind for mend in mends} == kinds - {"extra rehearsal"}
    assert {mend.problems for mend in mends} == {("error: the room is taken",)}


def test_a_season_that_keeps_all_has_nothing_to_mend(present: tuple[Handbook, Plan]) -> None:
    found = asked(*present, Wishes(lost=(LostDay(date(2026, 12, 8)),), today=TODAY))
    plan, _ = plan_anew(found.altered.handbook)
    assert plan is not None
    for change in season_changes(present[1], plan):
        assert change.is_none is (change.plan.item.id == "lantern")
        assert change.gave_way == ()
        assert mends_for(change, found.altered, plan, _never, TODAY) == ()


def _never(handbook: Handbook) -> tuple[Plan | None, tuple[str, ...]]:
    raise AssertionError(handbook)


def test_the_command_tells_it_at_80_columns(folder: Path) -> None:
    lines = told("--without", "2026-12-07", folder).splitlines()
    assert lines[:5] == [
        "What if: Mon, Dec 7 is lost",
        "",
        "- Lantern Band: 14 rehearsals, not 15; every goal is kept",
        "- Harbor Band: rehearses as before",
        "",
    ]
    assert "  No longer: rehearsal on Mon, Dec 7: 10:05–10:50 am" in lines
    counts = "14 rehearsals in all, not 15: Build 8, Polish 7→6. Left from Dec 7 on: Polish 2→1."
    assert counts in " ".join(" ".join(lines).split())
    assert lines[-4:] == [
        "  years/2026-27.yaml, closures, add:",
        "    - {name: Lost day, date: Mon 2026-12-07, told: Mon 2026-12-07}",
        "",
        "Nothing was written.",
    ]
    assert max(map(len, lines)) <= 80


def test_a_goal_in_the_middle_of_a_cycle_tells_of_what_has_been(folder: Path) -> None:
    told_of = told("--goal", "button-comets/chase=76", folder)
    assert "\nA goal has no date: the climb toward it is planned anew" in told_of
    assert "no date" not in told("--without", "2026-12-07", folder)


def test_what_climbs_as_before_is_counted(folder: Path) -> None:
    """The goal of one passage of two leaves the other one as it was."""
    lines = told("--goal", "button-comets/chase=76", folder).splitlines()
    assert "1 passage climbs as before." in lines
    assert not any(line.startswith("  opening ") for line in lines)
    lines = told("--goal", "button-comets/chase=76", "--all", folder).splitlines()
    assert "1 passage climbs as before." not in lines
    assert any(line.startswith("  opening ") for line in lines)


def test_lines_have_a_place_for_each_language(tmp_path: Path) -> None:
    """Pasted they lack no language that the files did not lack before."""
    files = whole_files()
    files["program.yaml"] = f"languages: [en, es]\n{files['program.yaml']}"
    outcome = load_plan(write_folder(tmp_path / "now", files))
    assert outcome.plan is not None
    assert outcome.handbook is not None
    lost = (LostDay(date(2026, 12, 7)), LostDay(date(2026, 11, 30), "lantern"))
    lines = asked(outcome.handbook, outcome.plan, Wishes(lost=lost, today=TODAY)).altered.lines
    rows = "\n".join(row for one in lines for row in one.lines)
    for field in ("name", "why"):
        assert rows.count(f"{field}: {{en: Lost day, es: Lost day}}") == 1

    def lacking(folder: str, files: Mapping[str, str]) -> list[str]:
        found = load_plan(write_folder(tmp_path / folder, files)).problems
        return [one.message.split()[0] for one in found if one.code == "missing-translation"]

    assert lacking("pasted", pasted(files, lines)) == lacking("as it was", files)


@pytest.mark.parametrize(
    "entry",
    [
        "cancelled: [{ensemble: lantern, date: Mon 2026-12-07, why: Trip}]\n",
        "cancelled: [{ensemble: lantern, date: Mon 2026-12-07, start: 10:05, why: Trip}]\n",
        EXTRA.replace("name: Dress rehearsal", "instead_of: Mon 2026-12-07, name: Dress rehearsal"),
    ],
)
def test_a_snow_day_is_one_line_also_where_class_was_off_already(
    tmp_path: Path, entry: str
) -> None:
    """Lantern's class of that Monday is cancelled or moved; Harbor has class on Mondays here."""
    year = "years/2026-27.yaml"
    files = {**base_files(), MUSIC: whole_files()[MUSIC], CONCERT: whole_files()[CONCERT]}
    files = changed(files, year, "[Tue, Thu]", "[Mon, Tue, Thu]")
    files[CYCLE] += entry
    output = told("--without", "2026-12-07", write_folder(tmp_path / "asked", files))
    assert "New: No school on Mon, Dec 7: Lost day" in output
    assert "handbook check" not in output
    snow = "  - {name: Snow day, date: Mon 2026-12-07, told: Mon 2026-12-07}\n"
    files = changed(files, year, "meetings:\n", snow + "meetings:\n")
    before = load_plan(tmp_path / "asked").problems
    assert load_plan(write_folder(tmp_path / "written", files)).problems == before


def test_new_problems_are_told_with_their_lines_and_old_ones_are_not(tmp_path: Path) -> None:
    """A notice of a day that is lost stands nowhere; one of a Sunday stands nowhere as it is."""
    files = whole_files()
    files[CYCLE] += (
        "days:\n"
        "  - {date: Sun 2026-12-06, notices: [Rest]}\n"
        "  - {date: Mon 2026-12-07, notices: [Bring a pencil]}\n"
    )
    row = (
        files[CYCLE].splitlines().index("  - {date: Mon 2026-12-07, notices: [Bring a pencil]}") + 1
    )
    output = told("--without", "2026-12-07", write_folder(tmp_path, files))
    asked_for = output.partition("`handbook check` would say:\n")[2].partition("\n\n")[0]
    assert " ".join(asked_for.split()) == (
        "- warning: there is no rehearsal of any ensemble on Mon 2026-12-07, so this stands on no "
        f"page ({CYCLE}:{row})"
    )


def test_the_same_as_json(folder: Path) -> None:
    data: dict[str, Any] = json.loads(told("--without", "2026-12-07", "--json", folder))
    assert data["asked"] == ["Mon, Dec 7 is lost"]
    assert data["lines"][0]["under"] == ["closures"]
    assert data["changes"][0]["after"] == "Lost day"
    (season,) = data["seasons"]
    assert season["rehearsals"] == {"before": 15, "after": 14}
    assert season["stages"][1] == {
        "id": "polish",
        "before": 7,
        "after": 6,
        "left": {"before": 2, "after": 1},
    }
    (opening, _) = season["passages"]
    assert opening["before"]["rehearsals"] - opening["after"]["rehearsals"] == 1
    assert season["gives_way"] == season["mends"] == []


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["--without", "2026-12-05"], "there is no rehearsal on Sat 2026-12-05: near it are Wed 2026-12-02, Thu 2026-12-03, Mon 2026-12-07, Tue 2026-12-08"),
        (["--without", "2026-11-25"], "there is no rehearsal on Wed 2026-11-25 (Fall break): near it are Wed 2026-11-18, Thu 2026-11-19, Mon 2026-11-30, Tue 2026-12-01"),
        (["--without", "2026-12-07:lantrn"], "there is no ensemble `lantrn`: the ensembles are lantern, harbor"),
        (["--without", "2026-12-08:lantern"], "there is no rehearsal of `lantern` on Tue 2026-12-08: near it are Wed 2026-12-02, Mon 2026-12-07, Wed 2026-12-09"),
        (["--without", "12/7/2026"], "--without: `12/7/2026` is no date as year-month-day: write 2026-12-07 or 2026-07-12"),
        (["--without", "2026-12-07", "--from", "soon"], "--from: `soon` is no date as year-month-day: write 2026-12-10 or Thu 2026-12-10"),
        (["--without-piece", "comets"], "there is no piece `comets`: the pieces are button-comets, tweed-kites, brass-snow"),
        (["--without-piece", "button-comets"], "`button-comets` is all that Lantern Band plays at Winter concert: put another piece on its program first"),
        (["--concert-on", "spring=2026-12-15"], "there is no concert `spring`: write one of winter/concert=2026-12-15"),
        (["--concert-on", "2026-12-10"], "`winter/concert` is on Thu 2026-12-10 already"),
        (["--goal", "button-comets=96"], "--goal `button-comets=96` does not name a passage and its tempo: write PIECE/PASSAGE=TEMPO, such as button-comets/opening=96"),
        (["--goal", "tweed-kites=90"], "--goal `tweed-kites=90` does not name a passage and its tempo: write PIECE/PASSAGE=TEMPO, such as tweed-kites/round=108"),
        (["--goal", "tune=90"], "--goal `tune=90` does not name a passage and its tempo: write PIECE/PASSAGE=TEMPO, such as button-comets/opening=96"),
        (["--goal", "button-comets/finale=96"], "`button-comets` has no passage `finale`: its passages are opening, chase"),
        (["--goal", "button-comets/opening=fast"], "`fast` is no tempo: write such as button-comets/opening=96"),
        (["--goal", "button-comets/chase=80"], "the goal of `chase` is dotted quarter = 80 already"),
        (["--from", "2026-12-01"], "--from goes with a what-if: add --without, --without-piece, --concert-on or --goal"),
        (["--all"], "--all goes with a what-if: add --without, --without-piece, --concert-on or --goal"),
        (["--care", "--without", "2026-12-07"], "--care stands alone: leave out the what-if"),
    ],
)  # fmt: skip
def test_what_is_not_there_is_told_with_what_is(
    arguments: list[str], sentence: str, folder: Path
) -> None:
    assert refused(*arguments, folder) == sentence


def test_a_piece_of_a_cycle_that_is_over_needs_its_day(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(what_if, "today_in", lambda _: date(2027, 1, 4))
    assert refused("--without-piece", "brass-snow", folder) == (
        "`winter` is over since Thu 2026-12-10: say with --from on which day it would have been known"
    )
    lines = told("--without-piece", "brass-snow", "--from", "2026-11-02", folder)
    assert "dropped: Mon 2026-11-02" in lines


def test_what_cannot_be_planned_is_told(folder: Path) -> None:
    arguments = ["--concert-on", "2026-10-20", str(folder)]
    result = CliRunner().invoke(command, arguments, standalone_mode=False)
    assert result.return_value == 1
    assert result.output.startswith("What if: Winter concert is on Tue, Oct 20")
    assert "own day" in result.stderr
    assert "nothing was planned" in result.stderr
