"""Bell schedules that lack what bands meet in: common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import Change, checked

YEAR = "years/2026-27.yaml"
ENDS = "    school_ends: 3:10 pm\n"
ALTERED = (YEAR, "closures:\n", "altered:\n  - {date: Wed 2026-11-04, name: Late, bells: late}\n  - {date: Thu 2026-11-05, name: Late, bells: late}\nclosures:\n")  # fmt: skip
WAY = "write `like: regular` if it is as on an ordinary day, `without: [{}]` if nobody meets in it, or give its times"


def late(rest: str) -> Change:
    return YEAR, ENDS, f"{ENDS}  - {{id: late, {rest}}}\n"


P3, P4 = "{id: p3, start: 09:00, end: 09:30}", "{id: p4, start: 11:15, end: 11:40}"


@pytest.mark.parametrize(
    ("schedule", "told"),
    [
        (f"periods: [{P3}, {P4}]", []),
        (f"periods: [{P4}]", [f"`late` has no period `p3`, so `lantern` does not meet on Wed 2026-11-04 | {WAY.format('p3')}"]),
        (f"periods: [{P3}]", [f"`late` has no period `p4`, so `harbor` does not meet on Thu 2026-11-05 | {WAY.format('p4')}"]),
        (f"periods: [{P3}], without: [p4]", []),
        (f"like: regular, periods: [{P3}]", []),
        ("like: regular, without: [p3, p4]", []),
        (f"like: regular, without: [p3], periods: [{P3}]", ["`p3` is left out here, and has its times in the same schedule | keep one of the two"]),
        ("like: regular, without: [p5]", ["no period is called `p5` | there are `p3` and `p4`; others are added under periods"]),
        ("like: late", ["`late` does not stand above this schedule | put the schedule that others are like first"]),
        ("like: regula", ["no bell schedule above this one is called `regula` | did you mean `regular`?"]),
        ("school_ends: 1:00 pm", ["`late` has no periods | list them under `periods`, or write `like: regular` for those of that schedule"]),
        ("like: regular, periods: [{id: p3, start: 10:30, end: 11:20}]", ["`p4` starts at 10:55 am, before `p3` ends at 11:20 am on a day like `late` | check both times; lunches side by side may overlap, other periods should not"]),
    ],
)  # fmt: skip
def test_a_band_without_its_period_is_told_unless_it_is_meant(
    schedule: str, told: list[str], tmp_path: Path
) -> None:
    found = [line.split(": ", 1)[1] for line in checked(tmp_path, ALTERED, late(schedule))]
    assert [
        line for line in found if "`late` has no period `" not in line or told == [line]
    ] == told


def test_a_schedule_that_no_day_of_the_band_has_is_not_asked_about(tmp_path: Path) -> None:
    tuesday = (YEAR, "closures:\n", "altered:\n  - {date: Tue 2026-11-03, name: Late, bells: late}\nclosures:\n")  # fmt: skip
    assert checked(tmp_path, tuesday, late(f"periods: [{P4}]")) == []


@pytest.mark.parametrize(
    ("meets", "days"),
    [
        # A Wednesday in Thanksgiving week is closed, and one has a date's own bells.
        ("", "Wed 2026-11-04, Wed 2026-11-18, Wed 2026-12-02 and 1 more"),
        ("    to: 2026-11-20\n", "Wed 2026-11-04 and Wed 2026-11-18"),
        ("    from: 2026-12-01\n", "Wed 2026-12-02 and Wed 2026-12-09"),
        ("    to: 2026-10-30\n", ""),
    ],
)
def test_days_of_a_rule_are_those_on_which_it_holds(meets: str, days: str, tmp_path: Path) -> None:
    rule = (
        YEAR,
        "closures:\n",
        (
            "altered:\n"
            "  - {every: Wed, from: 2026-11-04, to: 2026-12-09, name: Late, bells: late}\n"
            "  - {date: 2026-11-11, name: Assembly, bells: regular}\n"
            "closures:\n"
        ),
    )
    meeting = (YEAR, "    period: p3\n", f"    period: p3\n{meets}")
    found = checked(tmp_path, rule, meeting, late(f"periods: [{P4}]"))
    told = [line.split(" does not meet on ")[1].split(" | ")[0] for line in found]
    assert told == ([days] if days else [])
