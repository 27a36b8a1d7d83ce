"""A rural school's whole year, grades 5 to 12, six bands: short, said once, and reckoned as by hand.

The school, its music and its places are invented. The values were reckoned by hand from the
files, with the rules of design: label days by counting school days, durations as beats
times 60 over the tempo, calls backward from the first note in the minutes stated.
"""

from __future__ import annotations

from collections import Counter
from datetime import date
from pathlib import Path

import pytest

from handbook.audit import audit
from handbook.outputs.site import render_site
from handbook.pipeline import Outcome, load_plan, load_problems
from handbook.plan.model import ConcertPlan, CyclePlan, EnsemblePlan, PieceRow, Plan
from handbook.report import report_text
from handbook.store import Store
from tests.making.edits import made

CONTENT = Path(__file__).parent / "rural_year"
MOST_LINES = 500


@pytest.fixture(scope="module")
def outcome() -> Outcome:
    return load_plan(CONTENT)


@pytest.fixture(scope="module")
def plan(outcome: Outcome) -> Plan:
    assert outcome.plan is not None
    return outcome.plan


def cycle(plan: Plan, name: str) -> CyclePlan:
    return next(one for one in plan.cycles if one.id == name)


def band(plan: Plan, of: str, name: str) -> EnsemblePlan:
    return next(one for one in cycle(plan, of).ensembles if one.item.id == name)


def piece(plan: Plan, of: str, name: str, which: str) -> PieceRow:
    return next(one for one in band(plan, of, name).pieces if one.item.id == which)


def days(found: EnsemblePlan, first: str, last: str) -> list[str]:
    return [
        f"{row.rehearsal.start:%m-%d %H:%M}"
        for row in found.rehearsals
        if first <= row.rehearsal.day.isoformat() <= last
    ]


def test_the_year_is_short_and_says_nothing_twice() -> None:
    lines = [
        line.strip()
        for path in CONTENT.rglob("*.yaml")
        for line in path.read_text(encoding="utf-8").splitlines()
    ]
    assert len(lines) <= MOST_LINES
    long = 36  # letters: shorter lines are names of fields with a word or two
    twice = [line for line, times in Counter(lines).items() if times > 1 and len(line) > long]
    assert twice == []


def test_nothing_is_wrong_in_it() -> None:
    found = load_problems(CONTENT)
    assert report_text(found.problems, found.sources) == "no problems\n"


def test_it_builds(plan: Plan) -> None:
    site = made(CONTENT, Store())
    assert site.warnings == 0
    assert audit(site.files, plan, CONTENT) == ()


def test_half_groups_meet_on_their_days_and_together_on_thursdays(plan: Plan) -> None:
    """From August 24, Monday to Thursday, without Labor Day and October 12 and 13, October 14 is the 28th day: a B."""
    brass, winds = band(plan, "winter", "fifth-brass"), band(plan, "winter", "fifth-winds")
    week = "2026-10-19", "2026-10-22"  # B A B A
    assert days(brass, *week) == ["10-20 08:50", "10-22 08:50", "10-22 14:20"]
    assert days(winds, *week) == ["10-19 08:50", "10-21 10:05", "10-22 14:20"]


def test_testing_goes_before_the_weekly_late_start(plan: Plan) -> None:
    sixth = band(plan, "winter", "sixth")
    assert days(sixth, "2026-10-28", "2026-11-05") == [
        "10-28 10:45",
        "10-29 09:50",
        "11-02 09:50",
        "11-03 09:50",
        "11-04 09:50",
        "11-05 09:50",
    ]
    brass = band(plan, "winter", "fifth-brass")
    assert days(brass, "2026-11-02", "2026-11-05") == ["11-05 14:20"]  # no second period


def test_a_snow_day_is_made_up_on_a_friday(plan: Plan) -> None:
    jazz = band(plan, "spring", "jazz")
    assert days(jazz, "2027-01-11", "2027-01-14") == ["01-12 07:00"]
    assert days(jazz, "2027-02-08", "2027-02-12") == ["02-09 07:00", "02-11 07:00", "02-12 07:00"]
    assert days(band(plan, "spring", "sixth"), "2027-02-12", "2027-02-12") == ["02-12 09:50"]


def test_labels_of_a_week_of_testing_are_as_told(plan: Plan) -> None:
    """April 5 to 8 are A, A, B, B, without second period: only the Thursday of all is left."""
    for name in ("fifth-brass", "fifth-winds"):
        assert days(band(plan, "spring", name), "2027-04-05", "2027-04-08") == ["04-08 14:20"]


def test_marching_season_is_over_with_the_concert_in_the_park(plan: Plan) -> None:
    evening = [
        one for one in band(plan, "fall", "high").rehearsals if one.rehearsal.start.hour == 18
    ]
    tuesdays = [
        date(2026, 8, 25),
        *(date(2026, 9, day) for day in (1, 8, 15, 22, 29)),
        date(2026, 10, 6),
    ]
    assert [one.rehearsal.day for one in evening] == tuesdays
    assert {one.room.id for one in evening if one.room} == {"gym"}


def test_events_take_their_players_out_of_class(plan: Plan) -> None:
    missed = {one.day.isoformat(): one.cause for one in band(plan, "spring", "jazz").missed}
    assert missed["2027-02-25"] == "event"
    names = {row.item.id for row in plan.events}
    assert {"home-games", "harvest-parade", "solo-day", "jazz-trip", "trip-forms"} <= names


@pytest.mark.parametrize(
    ("of", "name", "which", "seconds"),
    [
        # 64 measures of 4 beats at 132, 32 at 120 and 16 at 144: the D.S. takes the signal again.
        ("fall", "high", "prairie-signal", 64 * 4 * 60 / 132 + 128 * 60 / 120 + 64 * 60 / 144),
        # Verse, bridge, from the top, ending: 56 measures of 4 at 100 and 16 of 3 at 88.
        ("fall", "junior", "two-bridges", 224 * 60 / 100 + 48 * 60 / 88),
        # 4 + 2 x 16 + 2 x 32 measures of 2 halves at 108.
        ("fall", "junior", "mill-street-march", 200 * 60 / 108),
        ("fall", "high", "mill-street-march", 200 * 60 / 108),
        # Two heads, four solos, shout and head: 8 x 12 measures of 4 at 132.
        ("winter", "jazz", "blue-silo", 384 * 60 / 132),
        # Free at about 60 and 56; between them 32 measures of 3 at 84 to 92, so about 88.
        ("fall", "high", "low-river", 48 * 60 / 60 + 96 * 60 / 88 + 32 * 60 / 56),
    ],
)
def test_music_lasts_as_long_as_its_order(
    plan: Plan, of: str, name: str, which: str, seconds: float
) -> None:
    assert piece(plan, of, name, which).seconds == pytest.approx(seconds)


def concert(plan: Plan, of: str, which: str) -> ConcertPlan:
    return next(one for one in cycle(plan, of).concerts if one.id == which)


def test_the_festival_has_two_slots_with_sight_reading_and_buses(plan: Plan) -> None:
    """For 10:20: 2 in place, 5 to walk, 10 to warm up, 5 to unpack is 9:58, so 9:55; 45 on the road, 15 to load."""
    day = concert(plan, "spring", "festival").day
    junior, high = day.group_of("junior"), day.group_of("high")
    assert junior
    assert high
    assert junior.report
    assert high.report
    assert f"{junior.report:%H:%M} {high.report:%H:%M}" == "08:55 11:45"
    # Last note 10:21:45; 5 to walk back, 25 to sight-read, 10 to pack, 5 to the bus, 15 to load:
    # it leaves at 11:25 and is back at 12:10.
    assert junior.collect
    assert f"{junior.collect:%H:%M}" == "12:10"
    assert [step.item.name.read() for step in junior.afterward] == ["Sight-reading"]


def test_the_choir_is_on_the_program_and_without_rehearsals(plan: Plan) -> None:
    winter = concert(plan, "winter", "concert")
    guests = [turn.item.guest for turn in winter.appearances if turn.ensemble is None]
    assert guests == ["choir"]
    assert "choir" not in {one.item.id for one in cycle(plan, "winter").ensembles}


def test_a_joined_band_is_called_and_a_shared_piece_climbs_in_both(plan: Plan) -> None:
    assert concert(plan, "winter", "concert").day.group_of("fifth")
    for name in ("fifth-brass", "fifth-winds", "sixth"):
        found = piece(plan, "winter", name, "sled-path")
        assert all(len(passage.at_goal) >= 2 for passage in found.passages)


def test_goals_by_a_stage_and_by_the_festival_are_reached(plan: Plan) -> None:
    turbine = piece(plan, "spring", "high", "wind-turbine")
    turning = next(one for one in turbine.passages if one.item.id == "turning")
    rows = band(plan, "spring", "high").rehearsals
    by_festival = [
        visit.rung.tempo.bpm
        for visit in turning.visits
        if rows[visit.place].rehearsal.day <= date(2027, 4, 14)
    ]
    assert max(by_festival) >= 192
    assert turning.visits[-1].rung.tempo.bpm == 208


def page(plan: Plan, path: str) -> str:
    return next(one.body for one in render_site(plan).pages if one.path == path)


def test_a_piece_page_leads_with_its_road_and_spares_free_passages_a_table(plan: Plan) -> None:
    signal = page(plan, "fall/high/prairie-signal/")
    assert signal.index("Road map") < signal.index('id="opening"') < signal.index('id="form"')
    river = page(plan, "fall/high/low-river/")
    fog, current = (
        river.partition('id="current"')[0].partition('id="fog"')[2],
        river.partition('id="current"')[2],
    )
    assert "<table" not in fog
    assert "no steps to climb" in fog
    assert 'class="ladder-table"' in current
