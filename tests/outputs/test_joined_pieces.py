"""A piece that a band plays with another reaches its own players (common practice, no source)."""

from __future__ import annotations

import re
from io import StringIO
from pathlib import Path

from rich.console import Console

from handbook.cli.plan_tables import cycle_tables
from handbook.outputs.components.weeks import week_views
from handbook.outputs.page import Context
from handbook.plan.build import PlanResult
from tests.content_folders import base_files
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, ensemble, planned, winter

TOGETHER = """
name: Winter concert
date: Thu 2026-12-10
downbeat: 7:00 pm
venue: hall
program:
  - {ensemble: harbor, pieces: [tweed-kites]}
  - {ensemble: lantern, pieces: [button-comets], joined_by: [harbor]}
"""
MUSIC = "cycles/winter/music.yaml"


def test_the_plan_has_it_once_in_each_players_pitch(tmp_path: Path) -> None:
    files = base_files()
    files[CONCERT] = (
        TOGETHER + "  - {ensemble: lantern, pieces: [button-comets], joined_by: [harbor]}\n"
    )
    files[MUSIC] = files[MUSIC].replace(
        "    title: Button Comets", "    title: Button Comets\n    key: Bb major"
    )
    cycle = winter(planned(tmp_path, files))
    plans = {plan.item.id: plan for plan in cycle.ensembles}
    (joined,) = plans["harbor"].joined
    assert (joined.host.id, joined.piece.item.id) == ("lantern", "button-comets")
    assert plans["lantern"].joined == ()
    keys = {part.id: str(part.joined[0].key) for part in plans["harbor"].parts}
    # A trumpet in B flat is written a whole tone above what sounds, as music21 has it (M-2).
    assert keys == {"flute": "B♭ major", "trumpet": "C major"}
    assert all(part.joined == () for part in plans["lantern"].parts)


def test_pages_of_the_band_and_its_players_show_it(tmp_path: Path) -> None:
    files = base_files()
    files[CONCERT] = TOGETHER
    pages = {page.path: page for page in site_of(planned(tmp_path, files).plan).pages}
    band = main_of(pages["winter/harbor/"])
    assert re.search(r'href="[./]*winter/lantern/button-comets/"', band)
    assert "with Lantern Band" in band
    part = main_of(pages["winter/harbor/part/trumpet/"])
    assert 'id="button-comets-chase"' in part
    assert "The chase" in part
    assert "with Lantern Band" in part
    assert "with " not in main_of(pages["winter/lantern/"]).partition('id="stages"')[0]


ALONG = """
name: Winter concert
date: Thu 2026-12-10
downbeat: 7:00 pm
venue: hall
program:
  - {ensemble: lantern, pieces: [button-comets], joined_by: [harbor], room: band-room, call: 6:15 pm}
allowances: {warm_up: 20, walk: 5, in_place: 5}
attire_for: {harbor: [A red scarf]}
"""


def test_its_weeks_have_the_targets_of_the_band_it_joins(tmp_path: Path) -> None:
    files = base_files()
    files[CONCERT] = TOGETHER
    result = planned(tmp_path, files)
    context = Context(result.plan, "en")
    cycle = winter(result)
    lantern, harbor = (ensemble(cycle, one) for one in ("lantern", "harbor"))
    theirs = {week.monday: week.targets for week in week_views(context, cycle, lantern)}
    mine = {week.monday: week.targets for week in week_views(context, cycle, harbor)}
    (monday,) = {day for day in mine if day.isoformat() == "2026-11-09"}
    chase = [one for one in mine[monday] if one.passage_id == "chase"]
    assert chase == [one for one in theirs[monday] if one.passage_id == "chase"]
    assert chase[0].path == "winter/lantern/button-comets/#chase"
    assert next(one.passage_id for one in mine[monday]) == "round"
    pages = {page.path: page for page in site_of(result.plan).pages}
    band = main_of(pages["winter/harbor/"])
    week = band.partition('data-from="2026-11-09"')[2].partition('<details class="week"')[0]
    assert "The chase" in week


def test_a_band_that_only_joins_has_a_call_a_place_and_a_sheet_of_its_own(tmp_path: Path) -> None:
    files = base_files()
    files[CONCERT] = ALONG
    result = planned(tmp_path, files)
    concert = winter(result).concert
    assert concert is not None
    harbor = concert.day.group_of("harbor")
    assert harbor is not None
    assert harbor.call is not None
    assert harbor.call.strftime("%H:%M") == "18:15"
    assert harbor.room is not None
    assert harbor.room.id == "band-room"
    pages = {page.path: page for page in site_of(result.plan).pages}
    sheet = main_of(pages["winter/concert/"])
    assert 'id="day-harbor"' in sheet
    assert "A red scarf" in sheet
    assert "First note with Lantern Band" in sheet
    assert "Winter concert" in main_of(pages["winter/harbor/"])
    assert any("Plays along: Button Comets with Lantern Band" in line for line in printed(result))


def printed(result: PlanResult) -> list[str]:
    told = StringIO()
    Console(file=told, width=80).print(cycle_tables(result.plan, winter(result)))
    return told.getvalue().splitlines()
