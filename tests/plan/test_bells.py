"""Bell schedules that say only what differs, through to the rehearsals of the days that have them."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from handbook.plan.bells import whole_bells
from handbook.plan.model import EnsemblePlan
from tests.content_folders import base_files, changed
from tests.plan.planning import lantern, planned

YEAR = "years/2026-27.yaml"
WEDNESDAY = date(2026, 11, 4)
REGULAR_ENDS = "    school_ends: 3:10 pm\n"
ALTERED = "altered:\n  - {date: Wed 2026-11-04, name: Late start, bells: late-start}\n"


def band(folder: Path, schedule: str) -> EnsemblePlan:
    files = changed(base_files(), YEAR, REGULAR_ENDS, REGULAR_ENDS + schedule)
    text = files[YEAR].replace("closures:\n", f"{ALTERED}closures:\n", 1)
    return lantern(planned(folder, {YEAR: text}))


@pytest.mark.parametrize(
    ("schedule", "held"),
    [
        ("  - {id: late-start, like: regular, periods: [{id: p4, start: 11:15, end: 11:50}]}\n", "10:05–10:50"),
        ("  - {id: late-start, like: regular, periods: [{id: p3, start: 10:30, end: 11:00}]}\n", "10:30–11:00"),
        ("  - {id: late-start, like: regular}\n", "10:05–10:50"),
        ("  - {id: late-start, like: regular, without: [p3]}\n", ""),
        ("  - {id: late-start, periods: [{id: p4, start: 11:15, end: 11:50}]}\n", ""),
        ("  - {id: early, like: regular, without: [p3]}\n  - {id: late-start, like: early, periods: [{id: p3, start: 9:00 am, end: 9:30 am}]}\n", "09:00–09:30"),
        ("  - {id: early, like: regular, without: [p3]}\n  - {id: late-start, like: early}\n", ""),
    ],
)  # fmt: skip
def test_a_schedule_has_what_it_does_not_say_from_the_one_it_is_like(
    tmp_path: Path, schedule: str, held: str
) -> None:
    plan = band(tmp_path, schedule)
    times = {
        row.rehearsal.day: f"{row.rehearsal.start:%H:%M}–{row.rehearsal.end:%H:%M}"
        for row in plan.rehearsals
    }
    assert times.get(WEDNESDAY, "") == held
    assert (WEDNESDAY in {missed.day for missed in plan.missed}) == (not held)
    assert times[date(2026, 11, 9)] == "10:05–10:50", "other days are as they were"


@pytest.mark.parametrize(("ends", "expected"), [("", "15:10"), (", school_ends: 1:00 pm", "13:00")])
def test_school_is_out_as_stated_or_as_on_the_day_it_is_like(
    tmp_path: Path, ends: str, expected: str
) -> None:
    schedule = f"  - {{id: late-start, like: regular{ends}}}\n"
    files = changed(base_files(), YEAR, REGULAR_ENDS, REGULAR_ENDS + schedule)
    result = planned(tmp_path, {YEAR: files[YEAR]})
    [cycle] = result.plan.cycles
    found = whole_bells(cycle.year)["late-start"].school_ends
    assert found is not None
    assert f"{found:%H:%M}" == expected
