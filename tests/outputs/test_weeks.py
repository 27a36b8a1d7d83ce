"""A week as pages show it: its stages with their days, and what is said of each target.

Days of the shared folder: Mondays and Wednesdays from October 19, 2026; the stage Polish
is pinned to the Wednesday of the week of November 9.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from handbook.outputs.components.stages import stage_turns, stage_view
from handbook.outputs.components.weeks import WeekView, week_views
from handbook.outputs.page import Context
from handbook.plan.build import PlanResult
from tests.content_folders import base_files
from tests.outputs.rendering import site_of
from tests.plan.planning import CYCLE, lantern, planned, winter


def pinned(folder: Path, day: str = "Wed 2026-11-11", more: str = "") -> PlanResult:
    text = base_files()[CYCLE].replace(
        "    name: Polish\n", f"    name: Polish\n    starts: {day}\n"
    )
    return planned(folder, {CYCLE: text + more})


def weeks(result: PlanResult) -> dict[str, WeekView]:
    views = week_views(Context(result.plan, "en"), winter(result), lantern(result))
    return {week.monday.isoformat(): week for week in views}


def test_a_week_that_holds_two_stages_says_both_with_their_days(tmp_path: Path) -> None:
    result = pinned(tmp_path)
    found = weeks(result)
    assert found["2026-11-02"].stage_words == "Build"
    assert found["2026-11-09"].stage_words == "Build on Mon, Nov 9; Polish from Wed, Nov 11"
    assert found["2026-11-16"].stage_words == "Polish"
    pages = {page.path: page.body for page in site_of(result.plan).pages}
    for path in ("winter/lantern/", "winter/lantern/button-comets/"):
        assert "</span> on Mon, Nov 9</span>" in pages[path], path
        assert "</span> from Wed, Nov 11</span>" in pages[path], path
    assert "Build on Mon, Nov 9; Polish from Wed, Nov 11" in pages["winter/lantern/part/flute/"]


def test_a_stage_of_several_days_says_until_when(tmp_path: Path) -> None:
    extra = "extra: [{ensemble: lantern, date: Tue 2026-11-10, start: 4:00 pm, end: 5:00 pm}]\n"
    found = weeks(pinned(tmp_path, more=extra))
    assert found["2026-11-09"].stage_words == "Build until Tue, Nov 10; Polish from Wed, Nov 11"


def test_stages_that_change_within_a_day_say_so(tmp_path: Path) -> None:
    result = planned(tmp_path)
    context, band = Context(result.plan, "en"), lantern(result)
    stages = [stage_view(context, span, len(band.stages)) for span in band.stages]
    last_of_first = band.rehearsals[band.stages[0].last]
    first_of_last = band.rehearsals[band.stages[1].first]
    same_day = type(first_of_last)(
        **{name: getattr(first_of_last, name) for name in first_of_last.__slots__}
        | {"rehearsal": last_of_first.rehearsal}
    )
    turns = stage_turns([last_of_first, same_day], stages)
    assert turns[1].when == "from later that day"


def test_a_goal_is_reached_only_once_class_has_played_at_it(tmp_path: Path) -> None:
    result = planned(tmp_path)
    band = lantern(result)
    first_at_goal = {
        passage.item.id: band.rehearsals[passage.at_goal[0].place].rehearsal.day
        for piece in band.pieces
        for passage in piece.passages
    }
    told = set()
    for week in weeks(result).values():
        for target in week.targets:
            assert target.reached == (first_at_goal[target.passage_id] <= week.sunday)
            assert target.at_goal or not target.reached
            told.add((target.reached, target.at_goal))
    assert told >= {(True, True), (False, False)}


def test_each_week_of_a_passage_tells_class_or_when_it_comes_next(tmp_path: Path) -> None:
    result = planned(tmp_path)
    band = lantern(result)
    body = next(
        page.body
        for page in site_of(result.plan).pages
        if page.path == "winter/lantern/button-comets/"
    )
    chart = body[body.index('aria-label="Week by week: Opening"') :]
    table = chart[: chart.index("</table>")]
    for visit in band.pieces[0].passages[0].visits:
        day = band.rehearsals[visit.place].rehearsal.day
        assert f"{day:%b} {day.day} " in table
        assert f"at {visit.rung.tempo.bpm_text}" in table
    rows = table.count("<tr data-from")
    assert table.count("In class: ") + table.count("Next in class: ") == rows


def test_a_week_without_a_visit_tells_when_class_plays_it_next(tmp_path: Path) -> None:
    result = planned(tmp_path)
    cycle, band = winter(result), lantern(result)
    piece = band.pieces[0]
    late = replace(piece.passages[0], visits=piece.passages[0].visits[-1:])
    rare = replace(band, pieces=(replace(piece, passages=(late, *piece.passages[1:])),))
    plan = replace(result.plan, cycles=(replace(cycle, ensembles=(rare,)),))
    body = next(page.body for page in site_of(plan).pages if page.path.endswith("-comets/"))
    day = band.rehearsals[late.visits[0].place].rehearsal.day
    table = body[body.index('aria-label="Week by week: Opening"') :]
    table = table[: table.index("</table>")]
    assert table.count(f"Next in class: {day:%b} {day.day}, at 96") == len(late.weeks) - 1
    assert table.count("In class: ") == 1
