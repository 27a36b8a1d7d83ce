"""The geometry of ladder charts and cycle strips agrees with the plan they draw."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from handbook.domain.season import MusicKind
from handbook.outputs.components.charts import (
    WIDTH,
    CycleStrip,
    LadderChart,
    cycle_strips,
    ladder_chart,
    stage_bands,
)
from handbook.outputs.components.stages import stage_view
from handbook.outputs.i18n.other_language import marked
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, EnsemblePlan
from tests.outputs.rendering import site_of
from tests.plan.planning import lantern, planned, winter


@pytest.fixture
def drawn(tmp_path: Path) -> tuple[Context, CyclePlan, EnsemblePlan]:
    result = planned(tmp_path)
    assert result.plan is not None
    return Context(result.plan, "en"), winter(result), lantern(result)


def ladders(drawn: tuple[Context, CyclePlan, EnsemblePlan]) -> list[LadderChart]:
    context, _, ensemble = drawn
    stages = [stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages]
    return [
        ladder_chart(ensemble, passage, stages)
        for piece in ensemble.pieces
        for passage in piece.passages
    ]


def strips(drawn: tuple[Context, CyclePlan, EnsemblePlan]) -> tuple[CycleStrip, CycleStrip]:
    context, cycle, _ = drawn
    rows = [
        (
            str(one.item.name),
            "",
            one,
            [stage_view(context, span, len(one.stages)) for span in one.stages],
        )
        for one in cycle.ensembles
    ]
    pair = cycle_strips(rows, cycle.first, cycle.last, [one.item.date for one in cycle.concerts])
    return pair.narrow, pair.broad


def test_a_stage_whose_name_is_of_another_language_is_named_as_any_other(
    drawn: tuple[Context, CyclePlan, EnsemblePlan],
) -> None:
    _, _, ensemble = drawn
    stages = [stage_view(drawn[0], span, len(ensemble.stages)) for span in ensemble.stages]
    step = WIDTH / len(ensemble.rehearsals)
    plain = stage_bands(ensemble, stages, step)
    apart = [replace(one, name=marked(one.name, "en")) for one in stages]
    assert stage_bands(ensemble, apart, step) == plain
    # East Asian letters are as wide as two (Unicode Standard Annex 11).
    wide = [replace(one, name="练习") for one in stages]
    assert {one.letters for one in stage_bands(ensemble, wide, step)} == {4}


def test_one_point_a_visit_from_left_to_right(
    drawn: tuple[Context, CyclePlan, EnsemblePlan],
) -> None:
    charts = ladders(drawn)
    passages = [passage for piece in drawn[2].pieces for passage in piece.passages]
    assert charts
    for chart, passage in zip(charts, passages, strict=True):
        days = [drawn[2].rehearsals[visit.place].rehearsal.day for visit in passage.visits]
        assert [point.day for point in chart.points] == days
        assert chart.last == len(drawn[2].rehearsals)
        assert all(one.x < two.x for one, two in pairwise(chart.points))


def test_a_join_or_run_is_marked_unlike_a_visit_alone(
    drawn: tuple[Context, CyclePlan, EnsemblePlan],
) -> None:
    passages = [passage for piece in drawn[2].pieces for passage in piece.passages]
    seen = set()
    for chart, passage in zip(ladders(drawn), passages, strict=True):
        for point, visit in zip(chart.points, passage.visits, strict=True):
            mark = point.mark
            assert mark is not None
            assert bool(mark.run) == (MusicKind.RUN in visit.kinds)
            assert bool(mark.joined) == (MusicKind.JOIN in visit.kinds)
            assert bool(mark.alone) or MusicKind.PASSAGE not in visit.kinds
            seen |= set(visit.kinds)
    assert seen == set(MusicKind)


def test_a_passage_that_is_never_played_has_a_chart_without_points(
    drawn: tuple[Context, CyclePlan, EnsemblePlan],
) -> None:
    context, _, ensemble = drawn
    stages = [stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages]
    passage = replace(ensemble.pieces[0].passages[0], visits=())
    chart = ladder_chart(ensemble, passage, stages)
    assert chart.points == ()
    assert chart.low == chart.goal


def test_a_ladder_never_sinks_and_ends_on_the_goal(
    drawn: tuple[Context, CyclePlan, EnsemblePlan],
) -> None:
    for chart in ladders(drawn):
        heights = [point.y for point in chart.points]
        assert heights == sorted(heights, reverse=True)  # up is a smaller number
        assert heights[-1] == chart.goal_y
        assert heights[0] == chart.low_y


def test_nothing_is_drawn_outside(drawn: tuple[Context, CyclePlan, EnsemblePlan]) -> None:
    for chart in ladders(drawn):
        numbers = [float(one) for one in re.findall(r"[HM](-?[\d.]+)", chart.line)]
        assert min(numbers) >= 0
        assert max(numbers) <= WIDTH
        assert all(0 <= point.y <= chart.height for point in chart.points)


def test_bands_lie_side_by_side_over_the_whole_ladder(
    drawn: tuple[Context, CyclePlan, EnsemblePlan],
) -> None:
    for chart in ladders(drawn):
        assert chart.bands[0].x == chart.left
        assert chart.bands[-1].x + chart.bands[-1].width == pytest.approx(chart.right, abs=0.05)
        for one, two in pairwise(chart.bands):
            assert one.x + one.width == pytest.approx(two.x, abs=0.05)
            assert one.odd != two.odd


def test_a_strip_begins_on_a_monday_and_ends_with_the_cycle(
    drawn: tuple[Context, CyclePlan, EnsemblePlan],
) -> None:
    for strip in strips(drawn):
        assert strip.first.isoweekday() == 1
        assert strip.first <= drawn[1].first
        assert strip.first + timedelta(days=strip.days - 1) == drawn[1].last
        assert len(strip.weeks) == -(-strip.days // 7)
        assert strip.left + strip.width == pytest.approx(strip.full_width, abs=3)


def test_a_month_stands_at_its_first_day(
    drawn: tuple[Context, CyclePlan, EnsemblePlan],
) -> None:
    for strip in strips(drawn):
        for month in strip.months[1:]:
            place = (month.x - strip.left) / strip.width * strip.days
            day = strip.first + timedelta(days=round(place))
            assert place == pytest.approx(round(place), abs=0.01)
            assert (day.day, f"{day:%b}") == (1, month.label)
        gaps = [two.x - one.x for one, two in pairwise(strip.months)]
        assert min(gaps, default=99) > 30  # of 360: no label runs into the next


def test_a_strip_has_a_point_for_each_rehearsal_within_its_stage(
    drawn: tuple[Context, CyclePlan, EnsemblePlan],
) -> None:
    for strip in strips(drawn):
        assert len(strip.rows) == len(drawn[1].ensembles)
        for row, plan in zip(strip.rows, drawn[1].ensembles, strict=True):
            assert len(row.points) == len(plan.rehearsals) == row.count
            for point, rehearsal in zip(row.points, plan.rehearsals, strict=True):
                band = row.bands[rehearsal.stage.index]
                assert band.x <= point.x <= band.x + band.width


def test_both_strips_tell_the_same(drawn: tuple[Context, CyclePlan, EnsemblePlan]) -> None:
    narrow, broad = strips(drawn)
    assert [[point.day for point in row.points] for row in narrow.rows] == [
        [point.day for point in row.points] for row in broad.rows
    ]
    assert narrow.full_width < broad.full_width
    assert narrow.concert == broad.concert != ""


def test_every_mark_of_a_ladder_is_in_its_key(tmp_path: Path) -> None:
    """The goal's line is drawn as `goal` and shown as `v-line`."""
    pages = {page.path: page.body for page in site_of(planned(tmp_path).plan).pages}
    body = pages["winter/lantern/button-comets/"]
    drawing, key = re.findall(r"<figure>(.*?)<figcaption>(.*?)</figcaption>", body, re.DOTALL)[0]
    drawn = set(re.findall(r'class="(v-[a-z]+|goal)"', drawing))
    named = set(re.findall(r'class="(v-[a-z]+)"', key))
    assert {"v-next", "goal"} < drawn
    assert {name.replace("goal", "v-line") for name in drawn} <= named
