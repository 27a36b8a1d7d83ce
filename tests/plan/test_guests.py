"""A concert with a guest choir: on the program, in the run of show and on stage, without a timetable.

Common practice, no source; the times are reckoned by hand. Tweed Kites lasts 53 1/3 s, Button
Comets 76 s (see test_concert_evening); the choir sings 4 and 5 minutes.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

from handbook.cli.plan_json import plan_text
from handbook.plan.build import PlanResult
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, planned, winter
from tests.plan.test_concert_day import HEAD, STEPS, clocks, day, group, told

CHOIR = """
guests:
  - id: choir
    name: Concert Choir
    chairs: 0
    stands: 2
    pieces:
      - {title: Hearth Song, by: Choir staff, minutes: 4}
      - {title: Snow Over Basin, minutes: 5}
"""
PROGRAM = """
program:
  - {ensemble: harbor, pieces: [tweed-kites]}
  - {guest: choir}
  - {ensemble: lantern, pieces: [button-comets], joined_by: [choir]}
"""
EVENING = HEAD + CHOIR + PROGRAM + STEPS


def test_they_take_their_time_between_the_bands(tmp_path: Path) -> None:
    found = day(tmp_path, EVENING)
    # The usual changeover is 4 minutes, a gap between two pieces of the same performers 20 s.
    assert told(found) == [
        "19:00:00 piece 53.3",
        "19:00:53 changeover 240.0",
        "19:04:53 piece 240.0",
        "19:08:53 gap 20.0",
        "19:09:13 piece 300.0",
        "19:14:13 changeover 240.0",
        "19:18:13 piece 76.0",
    ]
    # Lantern is called for its own first note; the choir has no timetable.
    lantern = group(found, "lantern")
    assert clocks(lantern.times.in_place, lantern.times.warm_up) == "19:18:13 18:53:13"
    assert [one.id for one in found.groups] == ["harbor", "lantern"]
    (stint,) = lantern.stints
    assert [one.id for one in stint.partners] == ["choir"]


def test_minutes_alone_will_do(tmp_path: Path) -> None:
    short = "guests:\n  - {id: choir, name: Concert Choir, minutes: 12}\n"
    rows = told(day(tmp_path, HEAD + short + PROGRAM + STEPS))
    assert rows[2] == "19:04:53 piece 720.0"


def test_the_stage_is_set_for_them_as_far_as_it_is_said(tmp_path: Path) -> None:
    seating = day(tmp_path, EVENING).seating
    assert seating is not None
    harbor, choir, both = (dict(turn.setup.counts) for turn in seating.turns)
    # Harbor: 9 players on chairs with a stand each, and the director's podium and stand.
    assert harbor == {"chair": 9, "podium": 1, "stand": 10}
    assert choir == {"stand": 2}
    # Lantern: 21 players, the director's stand, and two for the choir that sings along.
    assert both == {"chair": 21, "podium": 1, "stand": 24}


def test_where_nothing_is_said_the_stage_stays_as_it_is(tmp_path: Path) -> None:
    unsaid = EVENING.replace("    chairs: 0\n    stands: 2\n", "")
    seating = day(tmp_path, unsaid).seating
    assert seating is not None
    assert seating.turns[1].setup == seating.turns[0].setup
    assert seating.turns[1].change.strike.counts == ()
    first = unsaid.replace("  - {ensemble: harbor, pieces: [tweed-kites]}\n", "").replace(
        "  - {guest: choir}\n",
        "  - {guest: choir}\n  - {ensemble: harbor, pieces: [tweed-kites]}\n",
    )
    seating = day(tmp_path / "first", first).seating
    assert seating is not None
    assert seating.turns[0].setup.counts == ()


def result(folder: Path) -> PlanResult:
    return planned(folder, {CONCERT: EVENING})


def test_guests_may_have_a_concert_to_themselves(tmp_path: Path) -> None:
    found = day(tmp_path, HEAD + CHOIR + "program: [{guest: choir}]\n" + STEPS)
    assert (found.groups, found.conflicts, found.seating) == ((), (), None)
    assert clocks(found.ends) == "19:09:20"


def test_families_and_crew_read_of_them(tmp_path: Path) -> None:
    pages = {page.path: page for page in site_of(result(tmp_path).plan).pages}
    sheet = main_of(pages["winter/concert/"])
    program = sheet.partition('id="program"')[2]
    assert "<h3>Concert Choir</h3>" in program
    assert re.search(r'<span class="guest-piece"><span [^>]*>Hearth Song</span>', program)
    assert "Lantern Band and Concert Choir" in program
    assert program.index("Tweed Kites") < program.index("Snow Over Basin") < program.index("Button")
    # 53 1/3 + 240 + 300 + 76 s of music, to the nearest minute.
    assert "About 11 minutes of music." in program
    assert "First note with Concert Choir" in sheet
    assert 'data-filter="3"' not in sheet
    crew = main_of(pages["winter/concert/crew/"])
    assert "Snow Over Basin" in crew
    assert "<h3>Concert Choir <" in crew
    found = [entry.text for entry in pages["winter/concert/"].search if "Program" in entry.title]
    # Each with who made it, and no comma after a piece of which nobody is told.
    assert found[0] == "Tweed Kites · Hearth Song, Choir staff · Snow Over Basin · Button Comets"
    data = json.loads(sheet.partition('ld+json">')[2].partition("</script>")[0])
    assert {"@type": "MusicGroup", "name": "Concert Choir"} in data["performer"]
    assert "Hearth Song" in {work["name"] for work in data["workPerformed"]}


def test_the_plan_as_json_names_them(tmp_path: Path) -> None:
    plan = result(tmp_path).plan
    (cycle,) = json.loads(plan_text(plan, plan.cycles))["cycles"]
    assert [(turn["ensemble"], turn["guest"]) for turn in cycle["concert"]["program"]] == [
        ("harbor", None),
        (None, "choir"),
        ("lantern", None),
    ]
    assert winter(result(tmp_path)).concerts[0].item.players == ("harbor", "lantern")
