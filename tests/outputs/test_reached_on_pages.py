"""After a log pages ask for what follows from it, and show what has been as it was planned.

The climb from 50 (56, 63, 72, ...) is worked by hand in tests/domain/test_reached.py.
"""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from handbook.domain.facts import compare
from handbook.domain.values.tempo import parse_tempo
from handbook.domain.week_targets import WeekTarget
from handbook.outputs.components.charts import ladder_chart
from handbook.outputs.components.stages import stage_view
from handbook.outputs.facts import facts_of
from handbook.outputs.page import Context
from handbook.outputs.pages.piece import _advice
from tests.outputs.concerts import main_of
from tests.outputs.rendering import page_of
from tests.plan.planning import lantern, planned

PIECE = "winter/lantern/button-comets/"


def log(day: str, tempo: int) -> dict[str, str]:
    return {
        f"cycles/winter/log/{day}.yaml": f"date: {day}\nensemble: lantern\n"
        f"reached: [{{passage: opening, tempo: quarter = {tempo}}}]\nnote: zqxsecret\n"
    }


def weeks(page: str) -> dict[str, str]:
    """Give the words of each row of the first table of weeks, by its Monday."""
    rows = re.findall(r'<tr data-from="([-0-9]+)".*?<td class="steps">(.*?)</td>', page, re.DOTALL)
    found: dict[str, str] = {}
    for monday, steps in rows:
        found.setdefault(monday, re.sub("<[^>]+>", "", steps))
    return found


def test_the_weeks_ahead_lead_from_what_was_reached(tmp_path: Path) -> None:
    before = weeks(main_of(page_of(planned(tmp_path / "a").plan, PIECE)))
    page = main_of(page_of(planned(tmp_path / "b", log("2026-11-09", 50)).plan, PIECE))
    after = weeks(page)
    assert {day: after[day] for day in sorted(after)[:3]} == {
        day: before[day] for day in sorted(before)[:3]
    }
    assert after["2026-11-09"].startswith("52, then 54, then 56, then 58, then 60, then 63")
    assert "In class: Nov 9 by itself and joined at 84; Nov 11" in after["2026-11-09"]
    assert "at 56" in after["2026-11-09"]
    assert "zqxsecret" not in page


@pytest.mark.parametrize(
    ("before", "target", "steps", "said"),
    [
        (None, 66, [60, 63, 66], ""),
        (66, 66, [66], "Keep it there, clean and relaxed."),
        (66, 66, [60, 63, 66], ""),
        (66, 69, [69], "One step up from 66."),
        (66, 60, [60], "Back to 60, until it is secure."),
        (66, 60, [58, 60], ""),
    ],
)
def test_a_week_says_where_it_leads(
    before: int | None, target: int, steps: list[int], said: str
) -> None:
    def week(bpm: int, steps: list[int]) -> WeekTarget:
        quarter = parse_tempo("quarter = 60")
        return WeekTarget(date(2026, 11, 9), quarter.at(bpm), tuple(map(quarter.at, steps)))

    assert _advice(week(target, steps), week(before, [before]) if before else None) == said


def test_a_chart_holds_a_dip_below_where_the_climb_began(tmp_path: Path) -> None:
    result = planned(tmp_path, log("2026-11-09", 40))
    context, band = Context(result.plan, "en"), lantern(result)
    stages = [stage_view(context, span, len(band.stages)) for span in band.stages]
    chart = ladder_chart(band, band.pieces[0].passages[0], stages)
    heights = [point.y for point in chart.points]
    assert all(chart.top <= y <= chart.bottom for y in heights)
    assert chart.low == "46", "40 and 15 percent, a setting below the 48 of the beginning"
    assert max(heights) == chart.low_y


def test_readers_are_told_of_the_tempos_that_changed_and_of_nothing_else(tmp_path: Path) -> None:
    plans = [planned(tmp_path / "a").plan, planned(tmp_path / "b", log("2026-11-09", 50)).plan]
    old, new = (facts_of(plan) for plan in plans)
    changes = compare(old, new)
    assert changes
    assert {change.key.split("/")[1] for change in changes} == {"lantern"}
    assert all("zqxsecret" not in repr(change) for change in changes)
    days = {change.key for change in changes if "2026-1" in change.key}
    assert not [key for key in days if re.search(r"2026-10|2026-11-0[1-8]", key)]
