"""A season as an ensemble's page shows it: the same facts in sentences, grid and tables.

Counted again here from the agendas alone, not from the visits that the view reads.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from handbook.domain.season import Law, MusicKind
from handbook.domain.values.measures import MeasureSpan
from handbook.outputs.components.season import SeasonView, season_view
from handbook.outputs.components.season_grid import SeasonGrid
from handbook.outputs.components.stages import stage_view
from handbook.outputs.components.visit_marks import visit_mark
from handbook.outputs.page import Context
from handbook.plan.build import PlanResult
from handbook.plan.model import EnsemblePlan, LawRow, PassageRow
from tests.content_folders import base_files, changed
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, MUSIC, lantern, planned, winter


@pytest.fixture
def result(tmp_path: Path) -> PlanResult:
    return planned(tmp_path)


def view_of(result: PlanResult, ensemble: EnsemblePlan) -> SeasonView:
    context = Context(result.plan, "en")
    stages = [stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages]
    view = season_view(context, winter(result), ensemble, stages)
    assert view is not None
    return view


def with_unmet(ensemble: EnsemblePlan, *rows: LawRow) -> EnsemblePlan:
    assert ensemble.season is not None
    return replace(ensemble, season=replace(ensemble.season, unmet=rows))


def played(ensemble: EnsemblePlan, passage: str) -> list[tuple[str, set[MusicKind]]]:
    """Give each day on which an agenda plays a passage, and how."""
    found = []
    for row in ensemble.rehearsals:
        kinds = {
            MusicKind.PASSAGE for one in row.blocks if one.passage and one.passage.id == passage
        }
        kinds |= {
            one.stretch.kind
            for one in row.blocks
            if one.stretch and passage in {item.id for item in one.stretch.passages}
        }
        if kinds:
            found.append((f"{row.rehearsal.day:%b} {row.rehearsal.day.day}", kinds))
    return found


def test_each_passage_counts_its_rehearsals_as_the_agendas_do(result: PlanResult) -> None:
    band = lantern(result)
    lines = {line.name: line for piece in view_of(result, band).pieces for line in piece.passages}
    assert list(lines) == ["Opening", "The chase"]
    for name, key in (("Opening", "opening"), ("The chase", "chase")):
        days = played(band, key)
        line = lines[name]
        assert [visit.day for visit in line.visits] == [day for day, _ in days]
        assert line.times == len(days)
        counts = Counter(kind for _, kinds in days for kind in kinds)
        words = {"by itself": "passage", "joined": "join", "in runs": "run"}
        told = dict(part.split(" ", 1)[::-1] for part in line.kinds.split(", "))
        assert {words[word]: int(count) for word, count in told.items()} == {
            kind.value: count for kind, count in counts.items()
        }


def test_the_goal_is_counted_from_its_first_day(result: PlanResult) -> None:
    band = lantern(result)
    for piece in view_of(result, band).pieces:
        for line in piece.passages:
            goal = line.visits[-1].tempo
            days = [visit.day for visit in line.visits if visit.tempo == goal]
            assert line.goal == f"at the goal {len(days)} times, from {days[0]}"


def test_sentences_say_what_is_kept(result: PlanResult) -> None:
    band = lantern(result)
    assert band.season is not None
    returns, goals, coverage, minutes = view_of(result, band).facts
    assert returns == f"Every passage comes back within {band.season.window} rehearsals."
    assert "at least" in goals
    assert coverage == "Every measure of every piece is played in each stage."
    total = sum(
        block.minutes for row in band.rehearsals for block in row.blocks if block.kind == "music"
    )
    assert minutes.startswith(f"Of {total} minutes of music, ")
    assert sum(map(int, re.findall(r"\d+", minutes)[1:])) == total


def test_what_gave_way_is_said_without_alarm(result: PlanResult) -> None:
    band = lantern(result)
    piece = band.pieces[0].item
    uncovered = LawRow(Law.COVERAGE, 1, 0, 3, piece=piece, measures=MeasureSpan(9, 16))
    away = LawRow(Law.RETURN, 1, 2, 6, piece=piece, passage=piece.passages[1])
    facts = view_of(result, with_unmet(band, uncovered, away)).facts
    assert facts[0].endswith(", but for The chase.")
    assert facts[2] == (
        "All measures are played in each stage but these: Button Comets, mm. 9–16 in Build."
    )


def test_a_passage_that_never_comes_to_its_goal_is_named(result: PlanResult) -> None:
    band = lantern(result)
    piece = band.pieces[0]
    opening, chase = piece.passages
    early = replace(chase, visits=chase.visits[:1])

    def told(*passages: PassageRow) -> str:
        pieces = (replace(piece, passages=passages), *band.pieces[1:])
        return view_of(result, replace(band, pieces=pieces)).facts[1]

    assert told(opening, early).startswith(
        "Every passage but The chase comes to its goal tempo on "
    )
    assert told(early) == "Class comes near the goal tempos; the last steps are taken at home."


def test_the_grid_draws_each_visit_in_the_column_of_its_rehearsal(result: PlanResult) -> None:
    band = lantern(result)
    view = view_of(result, band)
    for grid in (view.grid.narrow, view.grid.broad):
        step = (grid.right - grid.left) / len(band.rehearsals)
        rows = [row for piece in grid.pieces for row in piece.rows]
        assert [row.name for row in rows] == ["Opening, mm. 1–8", "The chase, mm. 17–24"]
        for row, key in zip(rows, ("opening", "chase"), strict=True):
            days = played(band, key)
            for path, kind in ((row.run, MusicKind.RUN), (row.joined, MusicKind.JOIN)):
                columns = [
                    int((float(x) + 1 - grid.left) // step) for x in re.findall(r"M([\d.]+)", path)
                ]
                dates = [
                    f"{band.rehearsals[one].rehearsal.day:%b} {band.rehearsals[one].rehearsal.day.day}"
                    for one in columns
                ]
                assert dates == [day for day, kinds in days if kind in kinds]


def test_nothing_of_the_grid_lies_outside_or_over_its_names(result: PlanResult) -> None:
    view = view_of(result, lantern(result))
    for grid in (view.grid.narrow, view.grid.broad):
        assert_inside(grid)


def assert_inside(grid: SeasonGrid) -> None:
    for piece in grid.pieces:
        for row in piece.rows:
            for path in (row.run, row.alone, row.joined):
                for x, y in re.findall(r"M([\d.]+) ([\d.]+)", path):
                    assert grid.left <= float(x) <= grid.right
                    assert grid.top <= float(y) <= grid.bottom
            assert row.text_y <= row.line_y <= grid.bottom
    assert grid.bands[0].x == grid.left
    assert grid.bands[-1].x + grid.bands[-1].width == pytest.approx(grid.right, abs=0.05)


def test_marks_differ_by_shape_and_lie_over_each_other() -> None:
    alone, join, run = (visit_mark((kind,), 50, 50, 20) for kind in MusicKind)
    assert (alone.joined, alone.run, join.run, run.alone, run.joined) == ("",) * 5
    assert len({alone.alone, join.joined, run.run}) == 3
    every = visit_mark(tuple(MusicKind), 50, 50, 20)
    assert (every.alone, every.joined, every.run) == (alone.alone, join.joined, run.run)


def test_the_page_has_picture_table_and_legend(result: PlanResult) -> None:
    body = next(page.body for page in site_of(result.plan).pages if page.path == "winter/lantern/")
    section = body[body.index('id="season"') : body.index("</section>", body.index('id="season"'))]
    assert section.count('role="img"') == 2  # narrow and broad
    for words in ("by itself", "joined to a neighbor", "in a run of the whole piece"):
        assert words in section
    assert section.count('<th scope="row">') == 2


def test_an_ensemble_without_passages_has_no_season(result: PlanResult) -> None:
    context, band = Context(result.plan, "en"), lantern(result)
    bare = replace(band, pieces=tuple(replace(piece, passages=()) for piece in band.pieces))
    assert season_view(context, winter(result), bare, []) is None


def test_a_band_that_has_fundamentals_alone_has_no_season_on_its_page(tmp_path: Path) -> None:
    files = base_files()
    music = files[MUSIC][: files[MUSIC].index("  - id: tweed-kites")]
    concert = changed(
        files,
        CONCERT,
        "  - ensemble: harbor\n    pieces: [tweed-kites]\n",
        "",
    )[CONCERT]
    away = f"{concert}not_playing: [{{ensemble: harbor, why: It plays in spring}}]\n"
    tone = "strands: [{id: tone, name: Tone, why: Sound, exercises: [{id: hum, name: Hum, level: 1}]}]\n"
    changes = {MUSIC: music, CONCERT: away, "fundamentals.yaml": tone}
    plan = planned(tmp_path, {**files, **changes}).plan
    body = next(page.body for page in site_of(plan).pages if page.path == "winter/harbor/")
    assert 'id="rehearsals"' in body
    assert "The season, passage by passage" not in body
