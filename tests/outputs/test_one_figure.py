"""What happens at one moment is told with one time on every page (common practice, no source)."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from handbook.outputs import addresses
from handbook.outputs.components.today_data import today_script
from handbook.outputs.page import Context
from handbook.outputs.pages.concert import concert_view
from handbook.outputs.pages.crew import CrewView, crew_view
from handbook.pipeline import load_plan
from handbook.plan.model import ConcertPlan, CyclePlan

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = (ROOT / "content", ROOT / "tests" / "rural_year")
# A step of a family's list begins with the words on the left; the crew's column is on the right.
COLUMNS = {
    "Set up": "Set up",
    "Unpack": "Unpack",
    "Warm-up": "Warm-up",
    "Walk to the stage": "Walk",
    "In place": "In place",
    "First note": "First note",
    "Off the stage": "Off stage",
    "Packed": "Packed",
}
BUS = re.compile("Be at the bus|Buses leave|Arrive at|Back at school")


@pytest.fixture(scope="module", params=FOLDERS, ids=lambda folder: folder.name)
def concerts(request: pytest.FixtureRequest) -> list[tuple[Context, CyclePlan, ConcertPlan]]:
    plan = load_plan(request.param).plan
    assert plan is not None
    context = Context(plan, plan.languages[0])
    return [
        (context, cycle, concert)
        for cycle in plan.cycles
        for concert in cycle.concerts
        if not concert.cancelled
    ]


def told_to_families(
    context: Context, cycle: CyclePlan, concert: ConcertPlan
) -> Iterator[tuple[str, str, str]]:
    for card in concert_view(context, cycle, concert).days:
        for step in card.steps:
            yield card.band, step.what, step.time


def told_to_the_crew(view: CrewView) -> dict[tuple[str, str], str]:
    return {
        (call.who, column): cell
        for call in view.calls
        for column, cell in zip(view.call_columns, call.cells, strict=True)
        if cell
    }


def test_families_and_the_crew_read_the_same_times(
    concerts: list[tuple[Context, CyclePlan, ConcertPlan]],
) -> None:
    compared = 0
    for context, cycle, concert in concerts:
        crew = told_to_the_crew(crew_view(context, cycle, concert))
        for band, what, time in told_to_families(context, cycle, concert):
            for words, column in COLUMNS.items():
                if what.startswith(words) and "again" not in what and (band, column) in crew:
                    assert (band, what, time) == (band, what, crew[band, column])
                    compared += 1
    assert compared > 20


def test_families_and_the_crew_read_the_same_buses(
    concerts: list[tuple[Context, CyclePlan, ConcertPlan]],
) -> None:
    compared = 0
    for context, cycle, concert in concerts:
        found = list(told_to_families(context, cycle, concert))
        for ride in crew_view(context, cycle, concert).rides:
            told = {time for time in ride.times if time}
            for band in {band for band, _, _ in found if band in ride.who}:
                own = {time for one, what, time in found if one == band and BUS.match(what)}
                assert (band, own) == (band, told)
                compared += 1
    assert compared


def test_the_first_page_reads_the_same_first_note(
    concerts: list[tuple[Context, CyclePlan, ConcertPlan]],
) -> None:
    for context, cycle, concert in concerts:
        crew = told_to_the_crew(crew_view(context, cycle, concert))
        data = json.loads(today_script(context, cycle).partition(",")[2].removesuffix(");\n"))
        for told in data["concerts"][addresses.concert(cycle.id, concert.id)].values():
            for name, *_, first in told["meet"]:
                assert first in {"", crew.get((name, "First note"), "")}
