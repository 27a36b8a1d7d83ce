"""Whom to ask, which concerts and whose dates: what a sheet leaves out is tested where little is there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handbook.binder import poster, substitute_sheets
from handbook.binder.model import Binder
from tests.binder.conftest import binder_of
from tests.content_folders import base_files, changed, write_folder

OF_PROGRAM = """substitute:
  before: [The roll is in the red folder.]
  ask: [{role: the teacher next door, phone: 555-0123}]
"""
OF_CYCLE = """substitute:
  before: [Risers stand in the hall.]
  ask: [{role: the hall, phone: 555-0124}]
"""
CYCLE, CONCERT = "cycles/winter/cycle.yaml", "cycles/winter/concert.yaml"


@pytest.fixture(scope="module")
def binder(tmp_path_factory: pytest.TempPathFactory) -> Binder:
    """Lay ready a binder in which the concert is on a day on which Lantern Band has class."""
    files = changed(base_files(), CONCERT, "Thu 2026-12-10", "Wed 2026-12-09")
    files["program.yaml"] += OF_PROGRAM
    files[CYCLE] += OF_CYCLE
    return binder_of(write_folder(tmp_path_factory.mktemp("small-sheets") / "content", files))


def test_lines_of_the_program_go_before_those_of_the_cycle_and_the_contact_is_asked_last_of_all(
    binder: Binder,
) -> None:
    """The band office is asked only where nobody else is named."""
    cycle = binder.cycles[0]
    with binder.context.speaking():
        page = substitute_sheets.substitute_pages(binder, cycle, cycle.ensembles[0])[0]
    assert page.before.lines == ("The roll is in the red folder.", "Risers stand in the hall.")
    assert [one.role for one in page.ask] == ["the teacher next door", "the hall"]


def test_a_substitute_is_told_of_the_concerts_of_the_band_alone(binder: Binder) -> None:
    cycle = binder.cycles[0]
    (lantern,) = (one for one in cycle.ensembles if one.item.id == "lantern")
    with binder.context.speaking():
        own = substitute_sheets.substitute_pages(binder, cycle, lantern)
        others = substitute_sheets.substitute_pages(binder, cycle, replace(lantern, band="choir"))
    assert [bool(page.concerts) for page in own] == [
        page.day.row.rehearsal.day == cycle.held_concerts[0].item.date for page in own
    ]
    assert any(page.concerts for page in own)
    assert not any(page.concerts for page in others)


def test_a_stage_on_the_poster_has_dates_by_band_only_where_they_differ(binder: Binder) -> None:
    """Lantern Band meets on Mondays and Wednesdays, Harbor Band on Tuesdays and Thursdays."""
    cycle = binder.cycles[0]
    with binder.context.speaking():
        both = poster.poster(binder.context, cycle)
        one = poster.poster(binder.context, replace(cycle, ensembles=cycle.ensembles[:1]))
    names = [str(band.item.name) for band in cycle.ensembles]
    for stage, alone in zip(both.stages, one.stages, strict=True):
        assert [line.partition(": ")[0] for line in stage.dates] == names
        assert stage.dates[0] == f"{names[0]}: {alone.dates[0]}"
        assert len(alone.dates) == 1
