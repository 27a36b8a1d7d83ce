"""Days without school, rules and make-up days as readers see them: on the calendar, in their week, in the plan.

Dates are counted by hand on the Gregorian calendar.
"""

from __future__ import annotations

import json
import re
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from handbook.cli.plan_json import plan_text
from handbook.cli.plan_tables import cycle_tables
from handbook.domain.values.text import Text
from handbook.pipeline import load_problems
from handbook.plan.build import PlanResult
from tests.content_folders import base_files, changed, write_folder
from tests.outputs.rendering import page_of
from tests.plan.planning import YEAR, lantern, planned, winter

RULES = """  - id: late
    like: regular
    periods: [{id: p3, start: 10:30 am, end: 11 am}, {id: p4, start: 11:05 am, end: 11:40 am}]
    school_ends: 2:30 pm
altered:
  - {name: Late start, every: Wed, except: [2026-11-18], bells: late}
  - {name: Testing, from: 2026-11-02, to: 2026-11-05, bells: regular}
make_up:
  - {name: Fog made up, date: Sat 2026-11-14, like: Mon}
closures:
  - {name: Long weekend, every: Fri, from: 2026-10-30, to: 2026-11-13}
"""
FOLDER = changed(base_files(), YEAR, "closures:\n", RULES)


@pytest.fixture(scope="module")
def result(tmp_path_factory: pytest.TempPathFactory) -> PlanResult:
    return planned(tmp_path_factory.mktemp("rules"), FOLDER)


def lines(page: str) -> list[tuple[str, str]]:
    """The date and the title of each line about the school's own days."""
    event = (
        r'class="event (?:closed|altered|made-up)[^>]*>.*?event-date">(.*?)</span>.*?<b>(.*?)</b>'
    )
    return re.findall(event, page)


def test_a_rule_is_one_line_a_month_with_the_days_on_which_it_holds(result: PlanResult) -> None:
    found = lines(page_of(result.plan, "calendar/").body)
    late = [when for when, title in found if title == "Late start"]
    assert late[late.index("Wed, Oct 7, 14, 21, 28") :][:3] == [
        "Wed, Oct 7, 14, 21, 28",
        "Wed, Nov 11",  # testing on the 4th, left out on the 18th, closed on the 25th
        "Wed, Dec 2, 9, 16, 23, 30",
    ]
    assert late[0] == "Wed, Aug 26"  # the year's first, long before the cycle
    assert ("Mon, Nov 2 – Thu, Nov 5", "Testing") in found
    assert [one for one in found if "Long weekend" in one[1]] == [
        ("Fri, Oct 30", "No school: Long weekend"),
        ("Fri, Nov 6, 13", "No school: Long weekend"),
    ]
    assert ("Sat, Nov 14", "School: Fog made up") in found


def test_a_closed_day_that_is_made_up_is_told_as_school_alone(tmp_path: Path) -> None:
    made_up = RULES.replace("date: Sat 2026-11-14", "date: Mon 2026-11-16")
    made_up += "  - {name: Harvest day, date: 2026-11-16}\n"
    plan = planned(tmp_path, changed(base_files(), YEAR, "closures:\n", made_up)).plan
    found = [title for when, title in lines(page_of(plan, "calendar/").body) if "Nov 16" in when]
    assert found == ["School: Fog made up"]


def test_each_week_tells_its_own_days(result: PlanResult) -> None:
    body = page_of(result.plan, "winter/lantern/").body
    week = body[body.index("Week of Mon, Nov 9") :]
    week = week[: week.index("</details>")]
    told = re.findall(
        r"<li data-day=[^>]*><b>([^<]*)</b> ([^<]*?)(?: <span[^>]*>([^<]*)</span>)?</li>", week
    )
    assert told == [
        ("Wed, Nov 11", "Late start", "School is out at 2:30 pm"),
        ("Fri, Nov 13", "No school: Long weekend", ""),
        ("Sat, Nov 14", "School: Fog made up", "Meetings as on a Monday"),
    ]


DETAILS = """  - {id: late, name: Late bells, like: regular, periods: [{id: p3, start: 10:30 am, end: 11 am}]}
day_labels: [A, B]
altered:
  - {name: Testing, from: 2026-11-10, to: 2026-11-12, bells: late, labels: [B, A]}
  - {name: B again, date: 2026-11-09, label: B}
  - {name: Late bells, date: 2026-11-13, bells: late}
closures:
"""


def test_a_line_says_label_and_bells_but_nothing_twice(tmp_path: Path) -> None:
    plan = planned(tmp_path, changed(base_files(), YEAR, "closures:\n", DETAILS)).plan
    body = page_of(plan, "winter/lantern/").body
    week = body[body.index("Week of Mon, Nov 9") :]
    week = week[week.index("school-days") : week.index("</details>")]
    told = re.findall(r"<b>([^<]*)</b> ([^<]*?)(?: <span[^>]*>([^<]*)</span>)?</li>", week)
    assert told == [  # in order of days, not of the file; school is out as always
        ("Mon, Nov 9", "B again", "B day"),
        ("Tue, Nov 10 – Thu, Nov 12", "Testing", "Day labels in turn: B, A · Late bells"),
        ("Fri, Nov 13", "Late bells", ""),
    ]


def test_each_line_of_the_calendar_has_a_place_of_its_own(tmp_path: Path) -> None:
    twice = DETAILS.replace("2026-11-13", "2026-11-10")
    plan = planned(tmp_path, changed(base_files(), YEAR, "closures:\n", twice)).plan
    body = page_of(plan, "calendar/").body
    places = re.findall(r'<li id="((?:closed|altered|made-up)-[^"]*)"', body)
    assert len(places) == len(set(places))
    assert {"altered-2026-11-10", "altered-2026-11-10-2"} <= set(places)
    anchors = {entry.anchor for entry in page_of(plan, "calendar/").search if entry.anchor}
    assert anchors == set(places)


def test_the_make_up_day_is_rehearsed_and_the_rule_is_heard(result: PlanResult) -> None:
    rows = {f"{row.rehearsal.start:%m-%d %H:%M}": row for row in lantern(result).rehearsals}
    assert rows["11-14 10:05"].rehearsal.name == Text.plain("Fog made up")
    assert rows["11-11 10:30"].rehearsal.name == Text.plain("Late start")
    assert rows["11-04 10:05"].rehearsal.name is None
    assert rows["11-18 10:05"].rehearsal.name is None


def test_the_plan_as_json_lists_them(result: PlanResult) -> None:
    document = json.loads(plan_text(result.plan, result.plan.cycles))
    school = document["cycles"][0]["school"]
    fridays = next(one for one in school if one["dates"] and one["dates"][0] == "2026-11-06")
    assert (fridays["kind"], fridays["dates"]) == ("closed", ["2026-11-06", "2026-11-13"])
    kinds = [one["kind"] for one in school]
    assert kinds == sorted(kinds, key=["closed", "altered", "made_up"].index)


def test_such_a_folder_has_no_problem(tmp_path: Path) -> None:
    told = load_problems(write_folder(tmp_path, FOLDER)).problems
    assert [one.code for one in told if one.address[0] == YEAR] == []


def test_a_rule_that_was_told_later_leaves_the_days_before_it(tmp_path: Path) -> None:
    late = RULES.replace(
        "every: Wed, except", "every: Wed, from: 2026-11-11, told: 2026-11-09, except"
    )
    then = lantern(planned(tmp_path, changed(base_files(), YEAR, "closures:\n", late)))
    bells = {f"{row.rehearsal.day:%m-%d}": row.rehearsal.bells for row in then.rehearsals}
    assert bells["11-11"] == "late"
    assert bells["10-28"] == "regular"


def test_the_plan_in_the_terminal_lists_them_with_a_rule_in_one_line(result: PlanResult) -> None:
    told = StringIO()
    cycle = winter(result)
    Console(file=told, width=120, highlight=False).print(cycle_tables(result.plan, cycle))
    lines = told.getvalue().splitlines()
    assert "No school, Long weekend: Fri Oct 30; Fri Nov 6, 13" in lines
    assert "Late start: Wed Oct 21, 28; Wed Nov 11; Wed Dec 2, 9" in lines  # within the cycle
    assert "Testing: Mon Nov  2 to Thu Nov  5" in lines
    assert "School, Fog made up: Sat Nov 14" in lines
