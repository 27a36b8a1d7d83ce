"""Times of concert day that leave too few minutes: whom they are told of, and where.

The order of a concert evening is common practice, no source; times are reckoned by hand from
the pieces (see the tests of concert day): Harbor Band plays from 7:00:00 to 7:00:53 pm and is
off the stage 4 minutes later, Lantern Band from 7:04:53 to 7:06:09 pm.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.checks.concert_times import bus_leaves_too_early, pick_up_too_early
from handbook.plan.model import Plan
from tests.plan.planning import CONCERT, planned
from tests.plan.test_concert_day import HEAD, STEPS, TURNS

EVENING = HEAD + TURNS + STEPS


def plan_of(folder: Path, concert: str) -> Plan:
    return planned(folder, {CONCERT: concert}).plan


def rides(*bands: str) -> str:
    return (
        "travel:\n  meet: Bus loop\n  load: 10\n  drive: 20\n  rides:\n    - {ensembles: ["
        + ", ".join(bands)
        + "], leaves: 7:20 pm, buses: [{id: bus-1, seats: 52}]}\n"
    )


@pytest.mark.parametrize(
    ("bands", "minutes", "who", "there"),
    [
        # At the bus at 7:17:53 and 7:23:09 pm; it takes 10 minutes to load.
        (["harbor"], "8 minutes", "Harbor Band", "7:28 pm"),
        (["harbor", "lantern"], "14 minutes", "Lantern Band", "7:34 pm"),
    ],
)
def test_a_bus_waits_for_the_last_of_its_bands(
    bands: list[str], minutes: str, who: str, there: str, tmp_path: Path
) -> None:
    (problem,) = bus_leaves_too_early(plan_of(tmp_path, EVENING + rides(*bands)))
    assert problem.message == (
        f"the buses leave at 7:20 pm, {minutes} before {who} can be in them ({there})"
    )
    place = 1 if who == "Lantern Band" else 0
    assert [note.address for note in problem.notes] == [(CONCERT, "program", place)]


def test_a_bus_of_a_band_that_only_listens_waits_for_the_end(tmp_path: Path) -> None:
    listens = EVENING.replace(
        "  - {ensemble: lantern, pieces: [button-comets]}\n",
        "not_playing: [{ensemble: lantern, why: It listens}]\n",
    )
    late = rides("lantern").replace("7:20 pm", "7:05 pm")
    (problem,) = bus_leaves_too_early(plan_of(tmp_path, listens + late))
    assert problem.message == (
        "the buses leave at 7:05 pm, 6 minutes before all who listen can be in them (7:11 pm)"
    )
    assert problem.address == (CONCERT, "travel", "rides", 0, "leaves")


PICK_UPS = """calls:
  - {ensemble: harbor, section: low-brass, pick_up: 7:15 pm}
  - {ensemble: harbor, pick_up: 7:10 pm}
"""


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        # One time for all is told once, for those who need the most minutes more.
        ("pick_up: 7:10 pm\n", [(("pick_up",), "14 minutes too early for Lantern Band")]),
        # Each stated time by itself, the shortest first.
        (
            PICK_UPS,
            [
                (("calls", 1, "pick_up"), "8 minutes too early for Harbor Band"),
                (("calls", 0, "pick_up"), "3 minutes too early for the low brass of Harbor Band"),
            ],
        ),
        ("pick_up: 7:24 pm\n", []),
    ],
)
def test_a_pick_up_that_comes_too_early_is_told_where_it_stands(
    more: str, expected: list[tuple[tuple[str | int, ...], str]], tmp_path: Path
) -> None:
    found = pick_up_too_early(plan_of(tmp_path, EVENING + more))
    told = [(problem.address[1:], problem.message.split(" is ")[1]) for problem in found]
    assert [(at, words.split(", who")[0]) for at, words in told] == expected
