"""The pages of events as families read them."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from handbook.outputs.page import Context
from handbook.plan.model import Plan
from tests.outputs.concerts import main_of, page
from tests.outputs.rendering import site_of
from tests.outputs.test_event_data import PROPERTIES
from tests.plan.planning import planned

EVENTS = """events:
  - id: parade
    name: Harvest <Parade>
    kind: Parade
    date: Sat 2026-10-10
    who: [lantern, harbor]
    call: 8:45 am
    starts: 10 am
    ends: 11:15 am
    pick_up: 11:45 am
    place: Mill Street
    attire: [White shoes]
    bring: [Water]
    ride: {meet: band-room, leaves: 9 am, back: 11:40 am}
    rain: {decided: 7 am, venue: hall, about: We write to all.}
    about: We march.
  - id: games
    name: Games
    on: [{date: Fri 2026-12-04, name: Rivals}, {date: Fri 2026-12-11, starts: 7 pm}]
    who: [harbor]
    players: [trumpet]
    starts: 6 pm
    ends: 8 pm
    room: band-room
  - {id: forms, name: Forms, kind: Deadline, due: Thu 2026-10-01, who: [harbor], bring: [The form], about: Sign it.}
"""


@pytest.fixture
def plan(tmp_path: Path) -> Plan:
    return planned(tmp_path, {"events.yaml": EVENTS}).plan


def words_of(plan: Plan, path: str) -> str:
    html = main_of(page(Context(plan, "en"), path))
    return " ".join(re.sub(r"<script.*?</script>|<[^>]+>", " ", html, flags=re.DOTALL).split())


def test_a_bands_own_page_says_for_whom_one_is_only_if_that_is_not_all_of_it(
    tmp_path: Path,
) -> None:
    """Nor that a thing that is due is a deadline."""
    later = EVENTS.replace("Thu 2026-10-01", "Tue 2026-12-01")
    told = words_of(planned(tmp_path, {"events.yaml": later}).plan, "winter/harbor/")
    assert "Tue, Dec 1 Due Forms Fri, Dec 4" in told
    assert "Games: Rivals Band room · trumpet of Harbor Band" in told


def data_of(plan: Plan, path: str) -> Any:
    html = main_of(page(Context(plan, "en"), path))
    (found,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', html, re.DOTALL)
    return json.loads(found)


def test_a_family_finds_all_that_it_must_know(plan: Plan) -> None:
    told = words_of(plan, "events/parade/")
    for words in (
        "Harvest &lt;Parade&gt;",
        "Lantern Band and Harbor Band",
        "When Saturday, October 10, 2026 10:00–11:15 am",
        "Be there 8:45 am at Band room",
        "Ride 9:00 am leaves from Band room 11:40 am back, about",
        "Where Mill Street",
        "Pick-up 11:45 am",
        "Wear White shoes",
        "Bring Water",
        "Rain plan Decided that day at 7:00 am. In bad weather: Great Hall, 12 Quill Street. We write to all.",
        "We march.",
    ):
        assert words in told


def test_what_differs_stands_with_its_date_and_what_is_shared_once(plan: Plan) -> None:
    told = words_of(plan, "events/games/")
    assert "Fri, Dec 4 6:00–8:00 pm Rivals" in told
    assert "Fri, Dec 11 7:00–8:00 pm" in told
    assert told.count("Band room") == 1
    assert "Trumpet of Harbor Band" in told


def test_a_deadline_says_until_when(plan: Plan) -> None:
    told = words_of(plan, "events/forms/")
    assert "Due Thursday, October 1, 2026" in told
    assert "Thu, Oct 1 Due: Forms Harbor Band" in words_of(plan, "")
    assert "data-days-to" in main_of(page(Context(plan, "en"), "events/forms/"))
    assert "Bring The form" in told
    assert "Sign it." in told
    assert "application/ld" not in main_of(page(Context(plan, "en"), "events/forms/"))


def test_the_list_has_each_date_in_order(plan: Plan) -> None:
    told = words_of(plan, "events/")
    places = [told.index(words) for words in ("Thu, Oct 1", "Sat, Oct 10", "Dec 4", "Dec 11")]
    assert places == sorted(places)
    assert "Games: Rivals" in told


def test_an_events_data_is_of_schema_org(plan: Plan) -> None:
    """schema.org/Event; an event on several dates is one of each."""
    parade = data_of(plan, "events/parade/")
    games = data_of(plan, "events/games/")
    for found in (parade, *games):
        assert found["@type"] == "Event"
        assert all(isinstance(value, PROPERTIES[name]) for name, value in found.items())
    # Central Daylight Time is 5 hours behind UTC (15 U.S.C. 260a, 261).
    assert parade["startDate"] == "2026-10-10T10:00:00-05:00"
    assert parade["endDate"] == "2026-10-10T11:15:00-05:00"
    assert [game["startDate"] for game in games] == [
        "2026-12-04T18:00:00-06:00",
        "2026-12-11T19:00:00-06:00",
    ]
    assert parade["location"] == {"@type": "Place", "name": "Mill Street"}


def test_search_finds_each_date(plan: Plan) -> None:
    rows = [
        entry
        for one in site_of(plan).pages
        if one.path.startswith("events/")
        for entry in one.search
    ]
    days = [entry.day.isoformat() for entry in rows if entry.day]
    assert sorted(days) == ["2026-10-01", "2026-10-10", "2026-12-04", "2026-12-11"]


def test_without_events_there_is_neither_page_nor_menu_entry(tmp_path: Path, plan: Plan) -> None:
    without = site_of(planned(tmp_path / "none").plan)
    assert not any(one.path.startswith("events/") for one in without.pages)
    assert not any('href="./events/"' in one.body for one in without.pages)
    first = next(one for one in site_of(plan).pages if one.path == "")
    assert 'href="./events/"' in first.body


def test_the_calendar_has_them_beside_rehearsals_and_concerts(plan: Plan) -> None:
    told = words_of(plan, "calendar/")
    assert "Every rehearsal, concert and event." in told
    assert "Sat, Oct 10 10:00–11:15 am Harvest &lt;Parade&gt; Parade · Mill Street" in told
    html = main_of(page(Context(plan, "en"), "calendar/"))
    (games,) = re.findall(r'<li class="event apart([^"]*)" data-day="2026-12-11"', html)
    assert games == " who-2"  # harbor's alone


def test_a_rain_date_is_a_date_of_its_own(tmp_path: Path) -> None:
    rain = EVENTS.replace("{decided: 7 am, venue: hall,", "{date: Sat 2026-10-17, starts: 1 pm,")
    told = words_of(planned(tmp_path, {"events.yaml": rain}).plan, "calendar/")
    assert "Sat, Oct 17 1:00 pm Rain date: Harvest &lt;Parade&gt;" in told
    assert "only if it cannot be on Sat, Oct 10" in told


def test_the_first_page_has_those_that_may_be_ahead(plan: Plan) -> None:
    html = main_of(page(Context(plan, "en"), ""))
    rows = re.findall(r'<li class="event" data-day="([^"]*)" data-who="([^"]*)"', html)
    assert rows == [
        ("2026-10-01", "harbor"),
        ("2026-10-10", "lantern harbor"),
        ("2026-12-04", "harbor"),
        ("2026-12-11", "harbor"),
    ]


def test_a_band_has_those_within_its_cycle(plan: Plan) -> None:
    """The cycle of the shared folder runs from October 19 to December 10."""
    harbor, lantern = (words_of(plan, f"winter/{band}/") for band in ("harbor", "lantern"))
    assert "Events Fri, Dec 4 6:00–8:00 pm Games: Rivals" in harbor
    assert "Dec 11" not in harbor
    assert "Games" not in lantern


CLASSES = """events:
  - {id: trip, name: River trip, from: Mon 2026-11-02, to: Wed 2026-11-04, away: all day, who: [lantern]}
  - {id: fitting, name: Fitting, date: Tue 2026-11-10, starts: 11 am, ends: noon, away: {from: 11 am, to: noon}, who: [harbor], players: [flute]}
"""


def test_missed_classes_stand_with_the_event_and_with_the_rehearsal(tmp_path: Path) -> None:
    """Lantern meets on Mondays and Wednesdays, Harbor on Tuesdays, 10:55 to 11:40."""
    plan = planned(tmp_path, {"events.yaml": CLASSES}).plan
    trip, fitting = (words_of(plan, f"events/{name}/") for name in ("trip", "fitting"))
    assert "Class Lantern Band has no rehearsal on Mon, Nov 2." in trip
    assert "Lantern Band has no rehearsal on Wed, Nov 4." in trip
    assert "Class They miss the rehearsal of Harbor Band on Tue, Nov 10, 10:55–11:40 am." in fitting
    lantern, harbor = (words_of(plan, f"winter/{band}/") for band in ("lantern", "harbor"))
    assert "Days without a rehearsal Mon, Nov 2; Wed, Nov 4 River trip" in lantern
    assert "Away. Flute: Fitting, 11:00 am–noon" in harbor
    assert "Mon, Nov 2 Lantern Band: no rehearsal River trip" in words_of(plan, "calendar/")


def test_what_is_cancelled_stays_and_says_so(tmp_path: Path) -> None:
    off = EVENTS.replace(
        "{date: Fri 2026-12-04, name: Rivals}", "{date: Fri 2026-12-04, cancelled: Too icy}"
    )
    off = off.replace(
        "    place: Mill Street\n", "    place: Mill Street\n    cancelled: Flooded\n"
    )
    off = off.replace("{id: forms,", "{id: forms, cancelled: Not needed,")
    plan = planned(tmp_path, {"events.yaml": off}).plan
    parade = words_of(plan, "events/parade/")
    assert "Cancelled Flooded" in parade
    assert "8:45" not in parade  # no time that families would act on
    assert "We march." not in parade
    for path in ("events/parade/", "events/forms/"):
        assert "data-days-to" not in main_of(page(Context(plan, "en"), path))
    assert "Fri, Dec 4 Cancelled: Too icy" in words_of(plan, "events/games/")
    assert "Cancelled Not needed" in words_of(plan, "events/forms/")
    assert "Cancelled: Harvest &lt;Parade&gt;" in words_of(plan, "calendar/")
    assert "Cancelled: Harvest &lt;Parade&gt;" in words_of(plan, "")
    statuses = [one["eventStatus"].rpartition("/")[2] for one in data_of(plan, "events/games/")]
    assert statuses == ["EventCancelled", "EventScheduled"]
    assert data_of(plan, "events/parade/")["eventStatus"] == "https://schema.org/EventCancelled"


def test_the_first_and_the_last_day_of_a_cycle_are_in_it(tmp_path: Path) -> None:
    days = "2026-10-18", "2026-10-19", "2026-12-10", "2026-12-11"
    text = "".join(f"  - {{id: e{n}, name: E{n}, date: {day}}}\n" for n, day in enumerate(days))
    told = words_of(planned(tmp_path, {"events.yaml": f"events:\n{text}"}).plan, "winter/harbor/")
    assert [f"E{n} " in told for n in range(4)] == [False, True, True, False]


def test_of_several_days_each_time_says_its_own(tmp_path: Path) -> None:
    trip = (
        "events: [{id: trip, name: Trip, from: Thu 2027-04-08, to: Sat 2027-04-10, call: 6 am, starts: 9 am, "
        "ends: 3 pm, pick_up: 9:15 pm, ride: {leaves: 6:30 am, back: 9 pm}}]\n"
    )
    told = words_of(planned(tmp_path, {"events.yaml": trip}).plan, "events/trip/")
    assert "Thu 9:00 am – Sat 3:00 pm" in told
    assert "Be there 6:00 am on Thu, Apr 8" in told
    assert "6:30 am leaves on Thu, Apr 8 9:00 pm back, about on Sat, Apr 10" in told
    assert "Pick-up 9:15 pm on Sat, Apr 10" in told


def test_what_ends_at_night_says_when(tmp_path: Path) -> None:
    late = "events: [{id: show, name: Show, date: Sat 2026-12-05, starts: 9 pm, ends: 12:30 am}]\n"
    told = words_of(planned(tmp_path, {"events.yaml": late}).plan, "events/show/")
    assert "9:00 pm–12:30 am" in told
