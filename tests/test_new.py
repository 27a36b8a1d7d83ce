"""`handbook new`: content that is current, clean and ready on whatever day it is begun."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.cli.messages import as_typed
from handbook.cli.new import write_starter
from handbook.cli.starter_dates import starter_dates
from handbook.pipeline import load_plan

DAYS = st.dates(date(2020, 1, 1), date(2060, 12, 31))
# One day in each stretch of the school year, and the days at its edges.
BEGINNINGS = [
    *(date(2026, 1, 1) + timedelta(days=11 * step) for step in range(34)),
    *(date(2027, 4, day) for day in (5, 6, 7, 8, 9, 10, 11)),
    *(date(2028, 2, 29), date(2026, 12, 24), date(2027, 12, 31), date(2026, 7, 4)),
    *(date(2026, 11, day) for day in (18, 19, 20, 23, 24)),  # two breaks lie ahead
]


@pytest.mark.parametrize(
    ("year", "name", "day"),
    [
        # U.S. Office of Personnel Management, federal holidays 2026 and 2027 (from memory);
        # the days follow from 5 U.S.C. 6103(a).
        (2026, "Labor Day", date(2026, 9, 7)),
        (2026, "Martin Luther King Jr. Day", date(2027, 1, 18)),
        (2026, "Memorial Day", date(2027, 5, 31)),
        (2025, "Labor Day", date(2025, 9, 1)),
        (2025, "Martin Luther King Jr. Day", date(2026, 1, 19)),
        (2025, "Memorial Day", date(2026, 5, 25)),
    ],
)
def test_holidays_fall_where_the_law_puts_them(year: int, name: str, day: date) -> None:
    school_year, _ = starter_dates(date(year, 9, 1))
    (closure,) = [closure for closure in school_year.closures if closure.name == name]
    assert (closure.first, closure.last) == (day, day)


def test_thanksgiving_break_holds_the_fourth_thursday_of_november() -> None:
    school_year, _ = starter_dates(date(2026, 9, 1))
    (closure,) = [one for one in school_year.closures if one.name == "Thanksgiving break"]
    assert (closure.first, closure.last) == (date(2026, 11, 25), date(2026, 11, 27))


@given(DAYS)
def test_the_cycle_lies_ahead_and_within_its_year(today: date) -> None:
    year, cycle = starter_dates(today)
    assert today <= cycle.starts < cycle.concert <= year.last_day
    assert year.first_day < cycle.starts
    assert timedelta(weeks=6) < cycle.concert - cycle.starts < timedelta(weeks=11)
    assert cycle.concert.weekday() == 3
    for day in (cycle.starts, cycle.concert, year.early_release, year.first_day, year.last_day):
        assert not year.is_closed(day)


@given(DAYS)
def test_the_cycle_starts_within_two_weeks_but_for_breaks_and_the_summer(today: date) -> None:
    year, cycle = starter_dates(today)
    if year.first_day <= today:
        assert cycle.starts - today <= timedelta(days=16)


@given(DAYS)
def test_closures_follow_each_other(today: date) -> None:
    year, _ = starter_dates(today)
    days = [day for closure in year.closures for day in (closure.first, closure.last)]
    assert days == sorted(days)


@pytest.mark.parametrize("today", BEGINNINGS, ids=str)
def test_what_is_written_checks_clean(tmp_path: Path, today: date) -> None:
    write_starter(tmp_path / "content", *starter_dates(today))
    outcome = load_plan(tmp_path / "content")
    assert outcome.problems == ()  # not even a warning
    assert outcome.plan is not None
    (ensemble,) = outcome.plan.cycles[0].ensembles
    assert 15 <= len(ensemble.rehearsals) <= 25


def test_every_yaml_file_names_a_schema_that_is_there(tmp_path: Path) -> None:
    folder = tmp_path / "content"
    write_starter(folder, *starter_dates(date(2026, 11, 25)))
    files = sorted(folder.rglob("*.yaml"))
    assert len(files) == 6
    for file in files:
        first, second, *_ = file.read_text(encoding="utf-8").splitlines()
        marker, _, schema = first.partition("$schema=")
        assert marker == "# yaml-language-server: "
        assert (file.parent / schema).resolve().is_file()
        assert second.startswith("#")


@pytest.mark.parametrize(
    ("begun", "platform", "folder", "typed"),
    [
        ("/x/handbook/__main__.py", "linux", "my-band", "python3 -m handbook serve my-band"),
        ("C:/x/handbook/__main__.py", "win32", "my-band", "py -m handbook serve my-band"),
        ("/x/bin/handbook", "linux", "my band", 'handbook serve "my band"'),
    ],
)
def test_the_next_command_is_begun_as_this_one_was(
    monkeypatch: pytest.MonkeyPatch, begun: str, platform: str, folder: str, typed: str
) -> None:
    monkeypatch.setattr("sys.argv", [begun, "new", folder])
    monkeypatch.setattr("sys.platform", platform)
    assert as_typed("serve", Path(folder)) == typed


def test_the_log_that_the_folder_shows_checks_clean(tmp_path: Path) -> None:
    folder = tmp_path / "content"
    write_starter(folder, *starter_dates(date(2026, 11, 25)))
    (readme,) = folder.glob("cycles/*/log/README.md")
    example = readme.read_text(encoding="utf-8").partition("```yaml\n")[2].partition("```")[0]
    (readme.parent / "first.yaml").write_text(example, encoding="utf-8")
    schema = example.splitlines()[0].partition("$schema=")[2]
    assert (readme.parent / schema).resolve() == (folder / ".schema" / "log.json").resolve()
    outcome = load_plan(folder)
    assert outcome.problems == ()
    assert outcome.plan is not None
    row = outcome.plan.cycles[0].ensembles[0].rehearsals[0]
    assert [log.item.over for log in row.logs] == [4]
    assert len(outcome.plan.cycles[0].ensembles[0].pieces[0].passages[0].reached) == 1
