"""The bars of fundamentals and music agree with the plan they draw, and with the table below."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handbook.outputs.components.charts import WIDTH
from handbook.outputs.components.split_chart import SplitSource, split_chart, split_groups
from handbook.outputs.components.stages import stage_view
from handbook.outputs.page import Context
from tests.outputs.rendering import site_of
from tests.plan.planning import planned, winter

FUNDAMENTALS = """\
order: [breathing, tone]
strands:
  - id: breathing
    name: Breathing
    why: Air first
    exercises: [{id: in-four, name: In four, level: 1, minutes: 2, most_minutes: 3}]
  - id: tone
    name: Tone
    why: Sound
    exercises: [{id: long, name: Long, level: 1, minutes: 4}]
habits:
  - {id: posture, name: Posture, text: Feet flat}
"""


def sources(tmp_path: Path) -> list[SplitSource]:
    result = planned(tmp_path, {"fundamentals.yaml": FUNDAMENTALS})
    context = Context(result.plan, "en")
    return [
        (
            str(one.item.name),
            one,
            [stage_view(context, span, len(one.stages)) for span in one.stages],
        )
        for one in winter(result).ensembles
    ]


def heights(path: str) -> list[float]:
    return [float(height) for height in re.findall(r"v-([\d.]+)h", path)]


def test_bars_are_as_high_as_their_minutes(tmp_path: Path) -> None:
    """45 minutes less the fixed 16 leave 29 to share in each rehearsal; 2 and 4 of them are stated."""
    chart = split_chart(found := sources(tmp_path))
    assert [row.most for row in chart.rows] == [29, 29]
    for row, (_, plan, _) in zip(chart.rows, found, strict=True):
        low, high = heights(row.fundamentals), heights(row.music)
        assert len(low) == len(high) == len(plan.rehearsals)
        for one, other in zip(low, high, strict=True):
            assert one + other == pytest.approx(low[0] + high[0], abs=0.02)
            assert one / (one + other) == pytest.approx(6 / 29, abs=0.001)


def test_nothing_is_drawn_outside(tmp_path: Path) -> None:
    chart = split_chart(sources(tmp_path))
    for row in chart.rows:
        for x, y in re.findall(r"M([\d.]+) ([\d.]+)", row.fundamentals + row.music):
            assert chart.left <= float(x) <= chart.right <= WIDTH
            assert row.top <= float(y) <= row.bottom <= chart.height


def test_the_table_sums_each_stage(tmp_path: Path) -> None:
    """6 of 29 minutes are 20.7 percent in every rehearsal."""
    for group, (name, plan, _) in zip(split_groups(found := sources(tmp_path)), found, strict=True):
        assert group.name == name
        for line, span in zip(group.lines, plan.stages, strict=True):
            assert (line.fundamentals, line.music) == (6 * span.count, 23 * span.count)
            assert line.percent == 21


def test_without_fundamentals_nothing_is_drawn(tmp_path: Path) -> None:
    pages = {page.path: page.body for page in site_of(planned(tmp_path).plan).pages}
    assert 'id="split"' not in pages["winter/"]
    assert "Habit of the day" not in pages["winter/lantern/"]


def test_a_bound_and_the_habit_of_the_day_are_on_the_pages(tmp_path: Path) -> None:
    site = site_of(planned(tmp_path, {"fundamentals.yaml": FUNDAMENTALS}).plan)
    pages = {page.path: page.body for page in site.pages}
    assert "Never more than 3 minutes at a time." in pages["fundamentals/breathing/"]
    assert "Never more than" not in pages["fundamentals/tone/"]
    link = '<b>Habit of the day:</b> <a href="../../fundamentals/#habit-posture">Posture</a>'
    assert link in pages["winter/lantern/"]
    assert 'id="habit-posture"' in pages["fundamentals/"]
    assert 'id="split"' in pages["winter/"]
