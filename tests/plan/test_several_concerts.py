"""A cycle with a festival in November, a winter concert, and an early show: who rehearses till when.

Dates reckoned by hand from the calendar of 2026 and the meetings of the shared folder (Lantern
on Mondays and Wednesdays, Harbor on Tuesdays and Thursdays); the rules are common practice, no
source.
"""

from __future__ import annotations

import re
from datetime import date
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from handbook.checks import PLAN_CHECKS, REFERENCE_CHECKS
from handbook.cli.care_tables import care_tables
from handbook.cli.plan_json import plan_text
from handbook.loader import load
from handbook.pipeline import checked
from handbook.plan.build import PlanResult
from handbook.plan.model import PieceRow
from tests.content_folders import base_files, changed, write_folder
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, CYCLE, MUSIC, ensemble, lantern, planned, winter

FESTIVAL = "cycles/winter/concerts/festival.yaml"
# Harbor plays at the festival alone, Lantern its march there and the rest in December.
AT_FESTIVAL = """
name: Valley festival
date: Wed 2026-11-18
downbeat: 6:00 pm
venue: hall
program:
  - {ensemble: harbor, pieces: [tweed-kites]}
  - {ensemble: lantern, pieces: [mill-march]}
"""
IN_WINTER = """
name: Winter concert
date: Thu 2026-12-10
downbeat: 7:00 pm
venue: hall
program:
  - {ensemble: lantern, pieces: [button-comets]}
"""
MARCH = """  - id: mill-march
    title: Mill March
    ensemble: lantern
    form:
      - {name: Whole, measures: 1-32, meter: 2/4, tempo: quarter = 112}
    passages:
      - {id: trio, name: Trio, measures: 17-32, goal: quarter = 112}
"""


def two_concerts(**more: str) -> dict[str, str]:
    files = base_files()
    music = files[MUSIC] + MARCH
    return {**files, CONCERT: IN_WINTER, FESTIVAL: AT_FESTIVAL, MUSIC: music, **more}


@pytest.fixture
def both(tmp_path: Path) -> PlanResult:
    return planned(tmp_path, two_concerts())


def march(result: PlanResult) -> PieceRow:
    return next(piece for piece in lantern(result).pieces if piece.item.id == "mill-march")


def test_a_cycle_ends_with_its_last_concert_and_a_band_with_its_own(both: PlanResult) -> None:
    cycle = winter(both)
    assert [one.id for one in cycle.concerts] == ["festival", "concert"]
    assert cycle.concert is cycle.concerts[-1]
    assert cycle.last == date(2026, 12, 10)
    assert ensemble(cycle, "harbor").stages[-1].ends == date(2026, 11, 18)
    assert ensemble(cycle, "harbor").rehearsals[-1].rehearsal.day == date(2026, 11, 17)
    # Oct 20 to Nov 17, Tuesdays and Thursdays: five and four.
    assert len(ensemble(cycle, "harbor").rehearsals) == 9
    assert lantern(both).rehearsals[-1].rehearsal.day == date(2026, 12, 9)


def test_a_piece_of_the_first_concert_is_ready_for_it_and_then_over(both: PlanResult) -> None:
    piece, days = march(both), [row.rehearsal.day for row in lantern(both).rehearsals]
    assert (piece.ready_by, piece.over) == (date(2026, 11, 18), date(2026, 11, 19))
    (passage,) = piece.passages
    assert passage.at_goal
    assert days[passage.at_goal[0].place] <= date(2026, 11, 16)
    assert max(days[visit.place] for visit in passage.visits) <= date(2026, 11, 18)
    assert all(week.monday < date(2026, 11, 19) for week in passage.weeks)
    other = lantern(both).pieces[1]
    assert (other.ready_by, other.over) == (None, None)
    assert days[other.passages[0].visits[-1].place] > date(2026, 11, 30)


def test_a_piece_of_both_concerts_is_ready_for_the_first_and_goes_on(tmp_path: Path) -> None:
    twice = IN_WINTER.replace("[button-comets]", "[mill-march, button-comets]")
    result = planned(tmp_path, two_concerts(**{CONCERT: twice}))
    piece, days = march(result), [row.rehearsal.day for row in lantern(result).rehearsals]
    assert (piece.ready_by, piece.over) == (date(2026, 11, 18), None)
    (passage,) = piece.passages
    assert days[passage.at_goal[0].place] <= date(2026, 11, 16)
    assert days[passage.visits[-1].place] > date(2026, 11, 30)


def test_what_gives_way_before_the_first_concert_is_told(tmp_path: Path) -> None:
    soon = AT_FESTIVAL.replace("Wed 2026-11-18", "Wed 2026-10-21")
    result = planned(tmp_path, two_concerts(**{FESTIVAL: soon}))
    told = " ".join(problem.message for problem in checked(PLAN_CHECKS, result.plan))
    assert "`trio`" in told
    later = AT_FESTIVAL.replace("Wed 2026-11-18", "Wed 2026-11-11")
    result = planned(tmp_path / "later", two_concerts(**{FESTIVAL: later}))
    assert "`trio`" not in " ".join(one.message for one in checked(PLAN_CHECKS, result.plan))


def test_a_dress_rehearsal_runs_the_next_program(tmp_path: Path) -> None:
    wishes = (
        "days:\n  - {date: Mon 2026-11-16, kind: dress}\n  - {date: Wed 2026-12-09, kind: dress}\n"
    )
    result = planned(tmp_path, two_concerts(**{CYCLE: base_files()[CYCLE] + wishes}))
    runs = {row.rehearsal.day: row.day_plan.runs for row in lantern(result).rehearsals}
    assert runs[date(2026, 11, 16)] == ("mill-march",)
    assert runs[date(2026, 12, 9)] == ("button-comets",)


def test_every_page_knows_both(both: PlanResult) -> None:
    pages = {page.path: page for page in site_of(both.plan).pages}
    festival = main_of(pages["winter/concert/festival/"])
    assert "Valley festival" in festival
    assert 'href="../../../winter/concert/festival/crew/"' in festival
    assert "Valley festival" in main_of(pages["winter/concert/festival/crew/"])
    assert "Winter concert" in main_of(pages["winter/concert/"])
    for path in ("", "calendar/", "winter/", "past/", "winter/lantern/"):
        found = main_of(pages[path])
        assert "winter/concert/festival/" in found, path
        assert "winter/concert/" in found.replace("winter/concert/festival/", ""), path
    lines = main_of(pages["winter/lantern/"])
    assert "for Valley festival, Wed, Nov 18" in lines
    assert "for Winter concert, Thu, Dec 10" in lines
    piece = main_of(pages["winter/lantern/mill-march/"])
    assert 'Played at <a href="../../../winter/concert/festival/">Valley festival</a>' in piece
    # The first page tells of each concert who plays in it, so that a band is told of its own.
    who = re.findall(r'data-concert="([^"]+)"[^>]*data-who="([^"]+)"', main_of(pages[""]))
    assert {path: set(bands.split()) for path, bands in who} == {
        "winter/concert/festival/": {"lantern", "harbor"},
        "winter/concert/": {"lantern"},
    }
    band = main_of(pages["winter/harbor/"])
    assert "Valley festival" in band
    assert "Winter concert" not in band
    # The menu's script is told of them, in order; which of them is open it sees by the address.
    menu = pages["winter/concert/festival/"].body
    assert menu.index('"Valley festival","winter/concert/festival/"') < menu.index(
        '"Winter concert","winter/concert/"'
    )
    entries = {entry.title for entry in pages["winter/concert/festival/"].search}
    assert {"Valley festival", "Program, Valley festival"} <= entries


def test_two_concerts_of_one_day_are_both_on_the_first_page(tmp_path: Path) -> None:
    same = AT_FESTIVAL.replace("Wed 2026-11-18", "Thu 2026-12-10").replace("6:00 pm", "2:00 pm")
    files = two_concerts(**{FESTIVAL: same})
    today = main_of(next(page for page in site_of(planned(tmp_path, files).plan).pages))
    days = re.findall(r'data-concert="([^"]+)"[^>]*data-day="([^"]+)"', today)
    assert days == [
        ("winter/concert/festival/", "2026-12-10"),
        ("winter/concert/", "2026-12-10"),
    ]


def test_the_plan_as_json_has_all_concerts(both: PlanResult) -> None:
    text = plan_text(both.plan, both.plan.cycles)
    assert '"id": "festival"' in text
    assert text.index('"concerts"') < text.index('"festival"')


def test_care_tells_of_each_by_its_name(both: PlanResult) -> None:
    told = StringIO()
    Console(file=told, width=80).print(care_tables(both.plan, winter(both)))
    lines = [line.strip() for line in told.getvalue().splitlines()]
    assert [line for line in lines if line in {"Valley festival", "Winter concert"}] == [
        "Valley festival",
        "Winter concert",
    ]
    assert lines.count("Cautions") == 1


def test_what_is_on_no_program_and_who_plays_nowhere_are_told_once(tmp_path: Path) -> None:
    files = two_concerts()
    assert problems_of(tmp_path / "whole", files) == []
    without = changed(files, FESTIVAL, "  - {ensemble: harbor, pieces: [tweed-kites]}\n", "")
    # Harbor plays nowhere then, and its piece is not asked for.
    assert problems_of(tmp_path / "less", without) == ["ensemble-not-on-program"]
    missing = changed(files, FESTIVAL, "[mill-march]", "[button-comets]")
    assert problems_of(tmp_path / "other", missing) == ["piece-not-on-program"]


def problems_of(folder: Path, files: dict[str, str]) -> list[str]:
    found = load(write_folder(folder, files))
    assert found.handbook is not None, found.problems
    return [problem.code for problem in checked(REFERENCE_CHECKS, found.handbook)]


@pytest.mark.parametrize("name", ["crew", "concert", "Big Night"])
def test_a_name_that_is_no_address_is_refused(name: str, tmp_path: Path) -> None:
    files = {**base_files(), f"cycles/winter/concerts/{name}.yaml": AT_FESTIVAL}
    found = load(write_folder(tmp_path, files))
    assert [problem.code for problem in found.problems] == ["odd-file-name"]
    assert found.handbook is None


def test_a_cycle_may_have_concerts_in_the_folder_alone(tmp_path: Path) -> None:
    files = base_files()
    files[FESTIVAL] = files.pop(CONCERT)
    found = load(write_folder(tmp_path, files)).handbook
    assert found is not None
    assert found.cycles[0].concert is not None
    assert found.cycles[0].concert.file == FESTIVAL


@pytest.mark.parametrize(
    ("downbeat", "told"),
    [
        # Called 40 minutes before, packed 14 minutes after the last note at 7:01:16 pm.
        ("7:30 pm", "Lantern Band is wanted at"),
        ("8:00 pm", ""),
        ("6:10 pm", "Lantern Band is wanted at"),
        ("6:00 pm", ""),
        ("5:00 pm", ""),
    ],
)
def test_two_concerts_of_one_day_leave_each_band_its_time(
    downbeat: str, told: str, tmp_path: Path
) -> None:
    steps = "allowances: {unpack: 10, warm_up: 20, walk: 5, in_place: 5, walk_back: 4, pack: 10}\n"
    other = IN_WINTER.replace("7:00 pm", downbeat).replace("Winter concert", "Second show")
    files = {**base_files(), CONCERT: IN_WINTER + steps, FESTIVAL: other + steps}
    found = checked(PLAN_CHECKS, planned(tmp_path, files).plan)
    messages = [one.message for one in found if one.code == "two-concerts-at-once"]
    assert ([told in one for one in messages] or [False]) == [bool(told)]
