"""Growth, climbs and pace, of a folder with two cycles and a log; expected by hand from its files.

`rehearsals` of an exercise that says nothing are 4 (its description in the schema).
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from handbook.binder.assemble import binder_files
from handbook.binder.climbs import nearest_whole
from handbook.binder.growth import carried_words, files, left_out_words, level_chart
from handbook.binder.model import Binder
from handbook.carrying.cycle import CARRIED, LEFT_OUT
from handbook.domain.values.tempo import Tempo
from handbook.outputs.components.charts import ladder_chart
from handbook.outputs.components.stages import stage_view
from handbook.plan.growth import growth
from tests.binder.conftest import binder_of
from tests.binder.sheet_words import dense
from tests.outputs.sheets.reading import page_texts

TWO_BANDS = Path(__file__).parents[1] / "sites" / "two-bands" / "content"
_ROW, _CELL = re.compile(r"<tr>.*?</tr>", re.DOTALL), re.compile(r"<t[hd][^>]*>(.*?)</t[hd]>", re.DOTALL)  # fmt: skip
_MARK = re.compile(r"<[^>]+>|\s+")


@pytest.fixture(scope="module")
def binder() -> Binder:
    return binder_of(TWO_BANDS)


@pytest.fixture(scope="module")
def pages(binder: Binder) -> dict[str, str]:
    return {
        one.path: one.content.decode()
        for one in binder_files(binder)
        if one.path.endswith(".html") and one.title
    }


def rows(page: str) -> list[list[str]]:
    """Give the words of each cell of all tables of a page."""
    return [
        [" ".join(_MARK.sub(" ", cell).split()) for cell in _CELL.findall(row)]
        for row in _ROW.findall(page)
    ]


def test_levels_by_cycle_and_what_comes_next(pages: dict[str, str]) -> None:
    """Tone: 3 rehearsals of level 1 and 4 of level 2, so the eighth is the first of level 3, which begins anew in winter."""
    found = rows(pages["growth.html"])
    assert found[0] == ["Strand", "Fall cycle", "Winter cycle", "Next cycle"]
    assert [
        "Tone",
        "levels 1–3, 8 times; level 3 not finished",
        "level 3, 6 times; finished",
        "level 3 once more, since there is none above it",
    ] in found
    assert [
        "Warm-up",
        "Level 1: First sounds",
        "Level 2: Slow scale",
        "Level 2: Slow scale",
    ] in found
    assert found[5][1] == "8 rehearsals, 6 h"  # 8 times 45 minutes
    # The brass band has the winter cycle alone, and begins there where it says it starts.
    assert found[6] == ["Strand", "Winter cycle", "Next cycle"]


def test_the_chart_has_the_facts_of_the_table(binder: Binder) -> None:
    tone = next(one for one in growth(binder.plan)[0].strands if one.item.id == "tone")
    chart = level_chart(["Tone"], [tone], ["Fall", "Winter"])
    column = chart.lines[1] - chart.lines[0]
    fall, winter = chart.strands[0].bars

    def levels(span: tuple[float, float] | None) -> tuple[int, int] | None:
        if span is None:
            return None
        first = round((span[0] - chart.left) / column) + 1
        return first, first + round(span[1] / column) - 1

    assert (levels(fall.done), levels(fall.open)) == ((1, 2), (3, 3))
    assert (levels(winter.done), levels(winter.open)) == ((3, 3), None)
    assert [number for number, _ in chart.levels] == [1, 2, 3]
    assert chart.lines[2] < chart.strands[0].next_x < chart.lines[3]
    assert max(chart.lines) <= chart.width


def test_what_is_carried_is_told_for_each_field() -> None:
    assert carried_words().keys() == CARRIED
    assert left_out_words().keys() == LEFT_OUT.keys()


def test_planned_beside_reached(pages: dict[str, str]) -> None:
    """The log of Wed, Sep 23 has 60 of 80 for the first mile, three minutes over, and no last mile."""
    found = rows(pages["fall/climbs.html"])
    first = next(row for row in found if row[0].startswith("The first mile"))
    reached, planned = first[-1].split(" of the goal ")
    assert "= 60 on Wed, Sep 23, 75 %" in reached
    assert planned.endswith("= 64 was planned")
    last = next(row for row in found if row[0].startswith("The last mile"))
    assert last[-1].startswith("Not played on Wed, Sep 23")
    assert (
        pages["fall/climbs.html"].count('class="v-reached"') == 1 + 1
    )  # one on the chart, one in its key
    assert "1 rehearsal of 8 is logged." in pages["fall/climbs.html"]
    assert "v-reached" not in pages["winter/climbs.html"]
    assert "No rehearsal is logged yet." in pages["winter/climbs.html"]


def test_what_was_reached_stands_at_its_height(binder: Binder) -> None:
    """60 is three eighths of the way from 48, where the climb begins, to the goal of 80."""
    (band,) = binder.plan.cycles[0].ensembles
    passage = band.pieces[0].passages[0]
    stages = [stage_view(binder.context, span, 1) for span in band.stages]
    chart = ladder_chart(band, passage, stages, [(3, Tempo(passage.item.goal.beat, Fraction(60)))])
    (point,) = chart.reached
    assert (chart.low_y - point.y) / (chart.low_y - chart.goal_y) == pytest.approx(3 / 8)
    assert point.n == 4
    assert ladder_chart(band, passage, stages).reached == ()


def test_the_levels_are_on_paper_as_on_the_page(binder: Binder, pages: dict[str, str]) -> None:
    with binder.context.speaking():
        _, sheet = files(binder)
    paper = dense(" ".join(page_texts(sheet.content)))
    for row in rows(pages["growth.html"]):
        assert dense("".join(row)) in paper
    ((part, version),) = sheet.versions
    assert not part
    assert dense(version) in paper


def test_pace_of_each_rehearsal(binder: Binder, pages: dict[str, str]) -> None:
    found = [row for row in rows(pages["fall/climbs.html"]) if " · " in row[0]]
    (band,) = binder.plan.cycles[0].ensembles
    assert len(found) == len(band.rehearsals) == 8
    for row, (name, minutes, changes, an_hour, longest, over) in zip(
        band.rehearsals, found, strict=True
    ):
        blocks = [block.minutes for block in row.blocks]
        assert name.startswith(f"{row.rehearsal.n} · ")
        assert (int(minutes), int(changes)) == (sum(blocks), len(blocks) - 1)
        assert abs(int(an_hour) - 60 * (len(blocks) - 1) / sum(blocks)) <= 0.5
        assert longest.startswith(f"{max(blocks)} min, ")
        assert over == ("3 min" if row.rehearsal.day.isoformat() == "2026-09-23" else "–")


@pytest.mark.parametrize(
    ("value", "whole"),
    [(Fraction(21, 2), 11), (Fraction(209, 20), 10), (Fraction(0), 0), (Fraction(32, 3), 11)],
)
def test_halves_go_up(value: Fraction, whole: int) -> None:
    assert nearest_whole(value) == whole


def test_a_bar_ends_with_its_cycle_though_an_earlier_one_had_finished_more(binder: Binder) -> None:
    """Begun anew at level 1, and at level 2 by its end: what was finished before is in no bar of it."""
    ensemble = next(one for one in growth(binder.plan) if one.strands)
    strand = next(one for one in ensemble.strands if any(one.rows))
    row = next(one for one in strand.rows if one and one.appearances)
    again = replace(row, first_level=1, last_level=2, finished_level=4)
    grown = replace(strand, rows=(again,), next_level=5, top_level=5)
    (bars,) = level_chart(["Tone"], [grown], ["Fall"]).strands
    only = replace(grown, rows=(replace(again, finished_level=2),))
    assert bars.bars == level_chart(["Tone"], [only], ["Fall"]).strands[0].bars
    assert bars.bars[0].open is None
