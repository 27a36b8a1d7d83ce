"""A form with a range and a free part, from the file to the pages (common practice, no source)."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from handbook.cli.plan_json import plan_text
from handbook.pipeline import load_problems
from tests.checks.checking import checked
from tests.content_folders import base_files, changed, write_folder
from tests.outputs.concerts import main_of
from tests.outputs.rendering import page_of
from tests.plan.planning import MUSIC, lantern, planned, winter

FREE = changed(base_files(), MUSIC, "tempo: quarter = 96", "tempo: free, about quarter = 60")
FREE = changed(FREE, MUSIC, "        goal: quarter = 96\n", "")
RANGE = changed(base_files(), MUSIC, "tempo: quarter = 108", "tempo: quarter = 100-112")
RANGE = changed(RANGE, MUSIC, "        goal: quarter = 108\n", "")


def test_the_content_is_whole(tmp_path: Path) -> None:
    for name, files in (("free", FREE), ("range", RANGE)):
        assert load_problems(write_folder(tmp_path / name, files)).problems == ()


def test_a_free_passage_keeps_its_visits_and_does_not_climb(tmp_path: Path) -> None:
    free, steady = (
        lantern(planned(tmp_path / name, files)).pieces[0].passages[0]
        for name, files in (("free", FREE), ("steady", base_files()))
    )
    assert len(free.visits) >= 2
    assert len(free.visits) >= len(steady.visits) // 2
    assert {visit.rung.tempo for visit in free.visits} == {free.item.goal}
    assert {week.target for week in free.weeks} == {free.item.goal}
    assert all(week.steps == (free.item.goal,) for week in free.weeks)
    assert len({visit.rung.tempo for visit in steady.visits}) > 2


def test_durations_say_about(tmp_path: Path) -> None:
    plan = planned(tmp_path, FREE).plan
    (piece,) = lantern(planned(tmp_path, FREE)).pieces
    # By hand: 64 quarters at 60 last 64 s, 48 dotted quarters at 80 last 36 s.
    assert (piece.seconds, piece.about) == (100, True)
    assert [part.about for part in piece.parts] == [True, False]
    sheet = main_of(page_of(plan, "winter/lantern/button-comets/"))
    assert '<p class="small piece-facts">about 1 min 40 s <' in sheet
    assert "about 1 min 40 s" in main_of(page_of(plan, "winter/lantern/"))
    crew = main_of(page_of(plan, "winter/concert/crew/"))
    assert "about 1 min 40 s" in crew
    assert ">55 s<" in crew  # the other band's piece is steady: 96 quarters at 108 last 53 s
    data = json.loads(plan_text(plan, plan.cycles))
    (cycle,) = data["cycles"]
    pieces = {one["id"]: one for band in cycle["ensembles"] for one in band["pieces"]}
    assert pieces["button-comets"]["about"] is True
    assert pieces["button-comets"]["passages"][0]["goal"]["free"] is True
    assert "about" not in pieces["tweed-kites"]


def test_pages_have_no_click_and_no_chart_for_it(tmp_path: Path) -> None:
    plan = planned(tmp_path, FREE).plan
    for path in ("winter/lantern/button-comets/", "winter/lantern/part/flute/"):
        text = main_of(page_of(plan, path))
        assert "This is free: play it without a click." in text
        assert text.count("data-click=") == 1  # that of the other passage
    assert "no click" in main_of(page_of(plan, "winter/lantern/"))


def test_a_goal_of_its_own_is_practiced_in_time(tmp_path: Path) -> None:
    files = changed(base_files(), MUSIC, "tempo: quarter = 96", "tempo: free, about quarter = 60")
    assert load_problems(write_folder(tmp_path / "checked", files)).problems == ()
    passage = lantern(planned(tmp_path, files)).pieces[0].passages[0]
    assert len({visit.rung.tempo for visit in passage.visits}) > 2


def test_the_middle_of_a_range_is_the_goal(tmp_path: Path) -> None:
    plan = planned(tmp_path, RANGE)
    harbor = next(band for band in winter(plan).ensembles if band.item.id == "harbor")
    (piece,) = harbor.pieces
    assert str(piece.passages[0].item.goal) == "quarter = 106"
    assert piece.passages[0].at_goal
    assert piece.about
    assert "100–112" in main_of(page_of(plan.plan, "winter/harbor/tweed-kites/"))


@pytest.mark.parametrize(
    ("goal", "told"), [("100", 0), ("106", 0), ("112", 0), ("99", 1), ("113", 1)]
)
def test_a_goal_may_be_anywhere_in_the_range(goal: str, told: int, tmp_path: Path) -> None:
    found = checked(
        tmp_path,
        (MUSIC, "tempo: quarter = 108", "tempo: quarter = 100-112"),
        (MUSIC, "goal: quarter = 108", f"goal: quarter = {goal}"),
    )
    assert sum("goal-unlike-form" in line for line in found) == told


def test_free_alone_is_reckoned_at_the_tempo_around_it(tmp_path: Path) -> None:
    first = changed(base_files(), MUSIC, "tempo: quarter = 96", "tempo: free")
    first = changed(first, MUSIC, "        goal: quarter = 96\n", "")
    (piece,) = lantern(planned(tmp_path / "first", first)).pieces
    assert str(piece.parts[0].item.tempo) == "free"
    # As the part after it, at dotted quarter = 80: 64 quarters last 64 / 1.5 * 60 / 80 s.
    assert piece.parts[0].seconds == 32
    last = changed(base_files(), MUSIC, "tempo: dotted quarter = 80", "tempo: free")
    last = changed(last, MUSIC, "        goal: dotted quarter = 80\n", "")
    (piece,) = lantern(planned(tmp_path / "last", last)).pieces
    assert piece.parts[1].seconds == 45  # 72 quarters, at the 96 before it


def test_a_passage_that_is_free_in_part_has_the_goal_of_the_rest(tmp_path: Path) -> None:
    files = changed(FREE, MUSIC, "measures: 1-8", "measures: 13-20")
    problems = load_problems(write_folder(tmp_path / "checked", files)).problems
    assert "goal-missing" not in {problem.code for problem in problems}
    passage = lantern(planned(tmp_path, files)).pieces[0].passages[0]
    assert str(passage.item.goal) == "dotted quarter = 80"
    assert len({visit.rung.tempo for visit in passage.visits}) > 2
