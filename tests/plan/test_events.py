"""Events as they are planned; what they are like, their dates and places."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from handbook.plan.events_model import EventRow
from handbook.plan.model import Plan
from tests.content_folders import base_files, changed
from tests.plan.planning import planned

PROGRAM = "program.yaml"
GAMES = """events:
  - id: home-games
    name: Home games
    on: [Fri 2026-12-04, {date: Fri 2027-01-15, starts: 7 pm, attire: [White shirt], place: Old Gym}]
    who: [lantern]
    call: 5:30 pm
    starts: 6:30 pm
    ends: 8 pm
    venue: hall
    room: green-room
    attire: [Blue shirt]
    bring: [Folder]
"""


def events(folder: Path, text: str) -> dict[str, EventRow]:
    return {row.item.id: row for row in plan(folder, text).events}


def plan(folder: Path, text: str, **more: str) -> Plan:
    rooms = "    address: 12 Quill Street\n    rooms: [{id: green-room, name: Green room}]\n"
    files = changed(base_files(), PROGRAM, "    address: 12 Quill Street\n", rooms)
    return planned(folder, {PROGRAM: files[PROGRAM], "events.yaml": text, **more}).plan


def test_what_a_date_does_not_say_the_event_says(tmp_path: Path) -> None:
    first, second = events(tmp_path, GAMES)["home-games"].days
    assert [first.facts.starts, second.facts.starts] != [first.facts.starts] * 2
    assert f"{second.moments.starts:%Y-%m-%d %H:%M}" == "2027-01-15 19:00"
    assert f"{second.moments.call:%Y-%m-%d %H:%M}" == "2027-01-15 17:30"
    assert [text.read() for text in second.facts.attire] == ["White shirt"]
    assert [text.read() for text in second.facts.bring] == ["Folder"]
    assert second.place is not None
    assert (second.place.venue, second.place.room) == (None, None)
    assert second.place.words is not None


def test_a_room_of_a_venue_brings_its_venue(tmp_path: Path) -> None:
    alone = GAMES.replace("    venue: hall\n", "")
    first, _ = events(tmp_path, alone)["home-games"].days
    assert first.place is not None
    assert first.place.room is not None
    assert first.place.venue is not None
    assert (first.place.room.id, first.place.venue.id) == ("green-room", "hall")


def test_an_event_is_like_one_above_it_over_all_files(tmp_path: Path) -> None:
    """What is not said here is said there; the days and the place each as one thing."""
    away = "events:\n  - {id: away, like: home-games, date: Sat 2027-02-06, room: band-room}\n"
    again = "  - {id: again, like: away, name: Once more}\n"
    rows = {
        row.item.id: row for row in plan(tmp_path, GAMES, **{"events/b.yaml": away + again}).events
    }
    (day,) = rows["away"].days
    assert rows["away"].item.name is not None
    assert rows["away"].item.name.read() == "Home games"
    assert [one.id for one in rows["away"].ensembles] == ["lantern"]
    assert day.place is not None
    assert day.place.venue is None
    assert day.place.room is not None
    assert day.place.room.id == "band-room"
    assert day.first == date(2027, 2, 6)
    (same,) = rows["again"].days  # it says no day, so it is on the day of the other one
    assert (same.first, same.place) == (day.first, day.place)
    assert rows["again"].item.name is not None
    assert rows["again"].item.name.read() == "Once more"


def test_without_names_it_is_for_everyone(tmp_path: Path) -> None:
    row = events(tmp_path, "events: [{id: drive, name: Coats, due: Fri 2026-12-11}]\n")["drive"]
    assert row.everyone
    assert [one.id for one in row.ensembles] == ["lantern", "harbor"]
    assert (row.due, row.days) == (date(2026, 12, 11), ())


def test_where_a_ride_meets_may_be_the_id_of_a_room(tmp_path: Path) -> None:
    ride = "events: [{{id: trip, name: Trip, date: Sat 2027-02-06, ride: {{meet: {}}}}}]\n"
    (by_id,) = events(tmp_path / "a", ride.format("band-room"))["trip"].days
    (by_words,) = events(tmp_path / "b", ride.format("Bus loop"))["trip"].days
    assert by_id.meet is not None
    assert by_id.meet.room is not None
    assert by_id.meet.room.id == "band-room"
    assert by_words.meet is not None
    assert by_words.meet.room is None


def test_a_rain_plan_has_its_own_day_place_and_decision(tmp_path: Path) -> None:
    rain = "{decided: 2 pm, room: band-room, date: Mon 2026-10-12, starts: 5 pm}"
    text = f"events: [{{id: parade, name: Parade, date: Sat 2026-10-10, starts: 4 pm, rain: {rain}}}]\n"
    (day,) = events(tmp_path, text)["parade"].days
    assert day.rain is not None
    assert f"{day.rain.decided:%Y-%m-%d %H:%M}" == "2026-10-10 14:00"
    assert f"{day.rain.starts:%Y-%m-%d %H:%M}" == "2026-10-12 17:00"
    assert day.rain.day == date(2026, 10, 12)
    assert day.rain.place is not None
    assert day.rain.place.room is not None


def test_events_come_in_the_order_of_their_days(tmp_path: Path) -> None:
    late = "  - {id: early, name: Early, date: Sat 2026-10-10}\n"
    assert [*events(tmp_path, GAMES + late)] == ["early", "home-games"]


def test_when_an_event_became_known_is_its_own(tmp_path: Path) -> None:
    told = GAMES.replace("    who: [lantern]\n", "    who: [lantern]\n    told: Mon 2026-11-30\n")
    rows = events(tmp_path, told + "  - {id: again, like: home-games, date: Sat 2026-11-21}\n")
    assert [day.facts.told for day in rows["again"].days] == [None]
    assert [day.facts.told for day in rows["home-games"].days] == [date(2026, 11, 30)] * 2
