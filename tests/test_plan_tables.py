"""`handbook plan` for a tired reader: what each day plays, how each passage climbs, what gave way.

Counted again from the agendas of the shared folder; the width is that of a plain terminal.
"""

from __future__ import annotations

import json
from dataclasses import replace
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from handbook.cli.plan_json import plan_text
from handbook.cli.plan_tables import cycle_tables
from handbook.domain.season import Law
from handbook.plan.build import PlanResult
from handbook.plan.model import EnsemblePlan, LawRow
from tests.content_folders import base_files
from tests.plan.planning import CYCLE, lantern, planned, winter

WISHES = """days:
  - {date: Mon 2026-10-26, ensemble: lantern, run: [button-comets]}
  - {date: Wed 2026-10-28, ensemble: lantern, sections: {high: {who: [flute], passages: [chase]}}}
  - {date: Wed 2026-12-09, ensemble: lantern, kind: dress}
"""


def printed(result: PlanResult, *ensembles: EnsemblePlan) -> list[str]:
    told = StringIO()
    cycle = replace(winter(result), ensembles=ensembles or winter(result).ensembles)
    Console(file=told, width=80, highlight=False).print(cycle_tables(result.plan, cycle))
    return told.getvalue().splitlines()


@pytest.fixture
def steered(tmp_path: Path) -> PlanResult:
    stages = base_files()[CYCLE].replace("    name: Build\n", '    name: "[/b]Build"\n')
    return planned(tmp_path, {CYCLE: stages + WISHES})


def day(lines: list[str], date: str) -> str:
    """Give what a day plays, its lines joined by a bar."""
    found = next(place for place, line in enumerate(lines) if line.startswith(date))
    music = [lines[found]]
    for line in lines[found + 1 :]:
        if not line.startswith(" "):
            break
        music.append(line)
    return " | ".join(line.rsplit("│", 1)[-1].strip() for line in music)


def test_a_day_tells_its_kind_its_runs_and_its_sections(steered: PlanResult) -> None:
    lines = printed(steered, lantern(steered))
    assert "run Button Comets" in day(lines, "Mon Oct 26")
    assert day(lines, "Wed Oct 28") == "sectionals | high: chase"
    assert day(lines, "Wed Dec  9").startswith("dress rehearsal | run Button Comets")
    assert any("join opening + chase" in line for line in lines)


def test_words_of_the_content_are_no_markup_of_the_terminal(steered: PlanResult) -> None:
    assert any("[/b]Build" in "".join(line.split()) for line in printed(steered, lantern(steered)))


def test_nothing_is_wider_than_80(steered: PlanResult) -> None:
    assert max(map(len, printed(steered))) <= 80


def test_a_passage_has_its_counts_its_climb_and_its_goal(steered: PlanResult) -> None:
    band = lantern(steered)
    row = next(line for line in printed(steered, band) if line.startswith("opening "))
    passage = band.pieces[0].passages[0]
    climb = list(dict.fromkeys(visit.rung.tempo.bpm_text for visit in passage.visits))
    words = row.split()
    assert words[1] == str(len(passage.visits))
    assert words[5 : 5 + 3] == climb[:3]
    since = band.rehearsals[passage.at_goal[0].place].rehearsal.day
    assert row.endswith(f"{len(passage.at_goal)}, {since:%b} {since.day}".ljust(9))


def test_what_the_season_keeps_stands_below(steered: PlanResult) -> None:
    band = lantern(steered)
    assert band.season is not None
    lines = printed(steered, band)
    assert f"Every passage comes back within {band.season.window} rehearsals." in lines
    assert "Every measure of every piece is played in each stage." in lines
    total = sum(
        block.minutes
        for row in band.rehearsals
        for block in row.blocks
        if block.passage or block.stretch
    )
    line = next(line for line in lines if line.startswith("Minutes of music: "))
    assert sum(int(word) for word in line.split() if word.isdigit()) == total


def test_laws_that_gave_way_come_first(steered: PlanResult) -> None:
    band = lantern(steered)
    assert band.season is not None
    piece = band.pieces[0].item
    row = LawRow(Law.RETURN, 1, 1, 4, piece=piece, passage=piece.passages[0])
    short = replace(band, season=replace(band.season, unmet=(row,)))
    lines = printed(steered, short)
    told = next(place for place, line in enumerate(lines) if line.startswith("- `opening`"))
    assert told < next(place for place, line in enumerate(lines) if line.startswith("Date "))
    assert "within" in next(line for line in lines if "see above" in line)
    assert not any(line.startswith("- `") for line in printed(steered, band))


def test_the_json_tells_the_same(steered: PlanResult) -> None:
    band = lantern(steered)
    assert band.season is not None
    piece = band.pieces[0].item
    row = LawRow(Law.RETURN, 1, 1, 4, piece=piece, passage=piece.passages[0])
    short = replace(band, season=replace(band.season, unmet=(row,)))
    text = plan_text(steered.plan, [replace(winter(steered), ensembles=(short,))])
    assert '"law": "return"' in text
    assert '"day_kind": "dress"' in text
    assert f'"window": {band.season.window}' in text


def test_what_was_reached_stands_beside_what_was_planned(tmp_path: Path) -> None:
    """Planned were 84 and 72 for Monday, 96 and 72 for Wednesday, as the plan without logs has it."""
    monday = (
        "date: Mon 2026-11-09\nensemble: lantern\nover: 4\n"
        "note: |\n  [/b] Tie in measure 5.\n  Horns alone.\n"
        "reached: [{passage: opening, tempo: quarter = 66}, {passage: chase, tempo: dotted quarter = 72}]\n"
    )
    wednesday = "date: Wed 2026-11-11\nensemble: lantern\nnot_done: [chase]\n"
    logs = {
        f"cycles/winter/log/{name}.yaml": text for name, text in (("a", monday), ("b", wednesday))
    }
    result = planned(tmp_path, logs)
    lines = printed(result, lantern(result))
    told = day(lines, "Mon Nov  9")
    assert told.endswith(
        "reached opening 66 (planned 84), chase 72 | 4 minutes over | note: [/b] Tie in measure 5. | Horns alone."
    )
    assert day(lines, "Wed Nov 11").endswith("not played chase")
    assert "Logged: 2 of 14 rehearsals; 1 ran over, by 4 min in all" in lines
    (climb,) = [line for line in lines if line.startswith("opening ")]
    assert climb.split()[5:12] == ["48", "52", "58", "63", "69", "76", "84"]
    assert all(len(line) <= 80 for line in lines)

    cycles = json.loads(plan_text(result.plan, result.plan.cycles))["cycles"]
    rows = cycles[0]["ensembles"][0]["rehearsals"]
    assert [row["n"] for row in rows if "log" in row] == [7, 8]
    quarters = {"beat": "quarter", "bpm": 66}, {"beat": "quarter", "bpm": 84}
    assert rows[6]["log"]["reached"][0] == {
        "piece": "button-comets",
        "passage": "opening",
        "tempo": quarters[0],
        "planned": quarters[1],
    }
    assert rows[6]["log"]["over"] == 4
    assert rows[6]["log"]["notes"] == [{"en": "[/b] Tie in measure 5.\nHorns alone."}]
    assert rows[7]["log"]["reached"][0]["tempo"] is None
