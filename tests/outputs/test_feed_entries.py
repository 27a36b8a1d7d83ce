"""Which entries a plan gives to the calendars, and that each stays itself.

Expected days and hours were read from the content by hand.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from handbook.domain.calendar_events import CalendarEvent, EventRecord
from handbook.domain.calendar_records import records_of
from handbook.domain.history import History, Publication
from handbook.outputs.facts import facts_of
from handbook.outputs.feeds import calendar_events, lost_rehearsals
from handbook.outputs.page import Context
from handbook.pipeline import load_plan
from tests.content_folders import base_files, changed, write_folder
from tests.demo import demo_plan

CONCERT, CYCLE, PROGRAM = "cycles/winter/concert.yaml", "cycles/winter/cycle.yaml", "program.yaml"
YEAR, MUSIC = "years/2026-27.yaml", "cycles/winter/music.yaml"
EVENTS = """events:
  - {id: parade, name: Parade, date: 2026-11-28, call: 9 am, starts: 9:30 am, ends: 11 am}
  - {id: trip, name: Trip, from: 2026-11-20, to: 2026-11-22}
"""

MORNING = datetime(2026, 10, 20, 14, tzinfo=UTC)
Entries = dict[str, CalendarEvent]


def entries(folder: Path, files: dict[str, str]) -> Entries:
    outcome = load_plan(write_folder(folder, files))
    assert outcome.plan is not None, outcome.problems
    return {
        one.key: one for one in calendar_events(Context(outcome.plan, outcome.plan.languages[0]))
    }


def gone_since(before: Entries, folder: Path, files: dict[str, str]) -> Entries:
    """Give the entries that are kept as cancelled, once those `before` were published."""
    plan = load_plan(write_folder(folder, files)).plan
    assert plan is not None
    context = Context(plan, plan.languages[0])
    published = {one.uid: EventRecord(one, 0, MORNING) for one in before.values()}
    history = History((Publication(1, MORNING, ""),), events=published)
    records = records_of(calendar_events(context), history, lost_rehearsals(context))
    return {one.event.key: one.event for one in records.values() if one.event.cancelled}


@pytest.fixture(scope="module")
def demo() -> Entries:
    plan = demo_plan()
    return {one.key: one for one in calendar_events(Context(plan, plan.languages[0]))}


def test_uids_are_unlike_and_made_of_facts(demo: Entries) -> None:
    plan = demo_plan()
    keys = {one.key.replace("/", ".") for one in facts_of(plan)}
    own = re.compile(r"\.(band\.[a-z0-9-]+|rain-date|\d{4}-\d\d-\d\d)$")
    assert all(key in keys or own.sub("", key) in keys for key in demo)
    assert len({one.uid for one in demo.values()}) == len(demo)
    assert all(re.fullmatch(r"[a-z0-9.-]+@[0-9a-f]{12}", one.uid) for one in demo.values())


def test_a_concert_is_from_the_call_to_the_pick_up_and_names_the_downbeat(demo: Entries) -> None:
    whole = demo["winter-2026.concert.concert"]
    beacon = demo["winter-2026.concert.concert.band.beacon"]
    assert whole.title == beacon.title == "Winter Concert (music at 7:00 pm)"
    assert f"{whole.starts:%m-%d %H:%M}, {whole.ends:%H:%M}" == "12-17 17:20, 21:00"
    assert f"{beacon.starts:%m-%d %H:%M}, {beacon.ends:%H:%M}" == "12-17 17:40, 21:00"
    assert beacon.whole == whole.key
    assert (beacon.readers, whole.readers) == (("beacon",), ("lantern", "harbor", "beacon"))
    assert "Beacon Band, be at the bus: 5:40 pm" in beacon.about.splitlines()
    assert "Lantern" not in beacon.about
    assert "Lantern Band, percussion" not in whole.about, "a section comes with its band"


def test_a_phone_leads_a_band_that_rides_to_its_buses_and_the_audience_to_the_hall(
    demo: Entries,
) -> None:
    hall = "Quillhaven Civic Hall, 8 Cooper Street, Quillhaven"
    band = demo["winter-2026.concert.concert.band.harbor"]
    assert band.place == "Bus loop at school, Quillhaven Middle School"
    assert f"Where: {hall}" in band.about.splitlines()
    whole = demo["winter-2026.concert.concert"]
    assert whole.place == hall
    assert hall not in whole.about
    walking = demo["fall-2026.concert.concert.band.harbor"]
    assert walking.place == "Quillhaven Middle School Hall, 40 Schoolhouse Road, Quillhaven"


def test_a_band_that_is_the_crew_has_its_evening_and_not_what_players_bring(
    demo: Entries,
) -> None:
    crew = demo["fall-2026.concert.concert.band.beacon"]
    assert crew.title == "Fall Concert: Stage crew (Beacon Band) (music at 7:00 pm)"
    assert f"{crew.starts:%m-%d %H:%M}, {crew.ends:%H:%M}" == "10-22 17:45, 19:55"
    lines = crew.about.splitlines()
    assert "Stage crew (Beacon Band), be ready: 5:45 pm" in lines
    assert not any(line.startswith(("Bring:", "Wear:")) for line in lines)


def test_sections_apart_are_each_sent_to_their_own_room(demo: Entries) -> None:
    evening = demo["winter-2026.beacon.rehearsal.2026-12-08-extra"]
    assert "Trumpets and horns: Choir Room 114" in evening.place.split("; ")
    assert "Percussion: Practice Wing 116" in evening.place.split("; ")


def test_a_band_with_an_hour_of_its_own_reads_that(tmp_path: Path) -> None:
    files = changed(
        base_files(),
        CONCERT,
        "  - ensemble: lantern\n",
        "  - ensemble: lantern\n    first_note: 8:15 pm\n",
    )
    found = entries(tmp_path, files)
    whole, lantern = found["winter.concert.concert"], found["winter.concert.concert.band.lantern"]
    assert whole.title == "Winter concert (music at 7:00 pm)"
    assert lantern.title == "Winter concert (music at 8:15 pm)"
    assert lantern.about.splitlines()[0] == "Thu, Dec 10, 8:15 pm"
    # No call is known there, so it is the time that they play.
    assert f"{lantern.starts:%H:%M}" == "20:15"
    assert f"{whole.starts:%H:%M}" == "19:00"


def test_every_rehearsal_and_every_event_is_there(demo: Entries) -> None:
    plan = demo_plan()
    rehearsals = [row for c in plan.cycles for one in c.ensembles for row in one.rehearsals]
    days = [day for event in plan.events for day in event.days]
    assert sum(".rehearsal." in key for key in demo) == len(rehearsals) > 100
    assert sum(key.startswith("event.") for key in demo) == len(days) + 1, "and a deadline"
    assert {one.title for one in demo.values() if one.key.startswith("school.")} >= {
        "No school: Labor Day",
        "No school: Thanksgiving break",
    }
    titles = {one.title for one in demo.values()}
    assert "Lantern Band: Dress rehearsal" in titles
    assert "Harbor Band rehearsal (Early release)" in titles
    drive = demo["event.coat-drive"]
    assert (drive.title, drive.starts) == ("Due: Coats for the coat drive", date(2026, 12, 11))


def test_whole_days_end_on_the_day_after(demo: Entries, tmp_path: Path) -> None:
    found = entries(tmp_path, {**base_files(), "events.yaml": EVENTS})
    thanks = demo["school.2026-27.closed.2026-11-25"]
    assert (thanks.starts, thanks.ends) == (date(2026, 11, 25), date(2026, 11, 28))
    trip = found["event.trip.2026-11-20"]
    assert (trip.starts, trip.ends) == (date(2026, 11, 20), date(2026, 11, 23))


def test_uids_stay_when_title_time_and_order_change(tmp_path: Path) -> None:
    files = {**base_files(), "events.yaml": EVENTS}
    before = entries(tmp_path / "a", files)
    first, second = EVENTS.splitlines(keepends=True)[1:]
    files["events.yaml"] = f"events:\n{second}{first.replace('9:30 am', '9:45 am')}"
    files = changed(files, CONCERT, "name: Winter concert", "name: Concert of the winter")
    files = changed(files, CONCERT, "downbeat: 7:00 pm", "downbeat: 6:30 pm")
    files = changed(files, PROGRAM, "name: Lantern Band", "name: Band of Lanterns")
    after = entries(tmp_path / "b", files)
    assert [one.uid for one in after.values()] == [one.uid for one in before.values()]
    unlike = {key for key in before if before[key].digest != after[key].digest}
    assert "event.parade.2026-11-28" in unlike
    assert "winter.concert.concert" in unlike
    assert not any(key.startswith("winter.harbor") for key in unlike)


def test_the_calendars_of_two_programs_share_no_uid(tmp_path: Path) -> None:
    one = entries(tmp_path / "a", base_files())
    renamed = changed(base_files(), PROGRAM, "name: Quillhaven Bands", "name: Other Bands")
    other = entries(tmp_path / "b", renamed)
    assert one.keys() == other.keys()
    assert {event.uid for event in one.values()}.isdisjoint(event.uid for event in other.values())


def test_an_event_that_is_cancelled_is_there_as_such(tmp_path: Path) -> None:
    said = EVENTS.replace("ends: 11 am}", "ends: 11 am, cancelled: too cold}")
    found = entries(tmp_path, {**base_files(), "events.yaml": said})
    parade = found["event.parade.2026-11-28"]
    assert parade.cancelled
    assert "too cold" in parade.about


def test_a_rain_date_says_that_it_may_not_be(tmp_path: Path) -> None:
    rain = "rain: {date: 2026-12-11, venue: hall, decided: 2 pm}\n"
    files = base_files()
    files[CONCERT] += rain
    found = entries(tmp_path, files)["winter.concert.concert.rain-date"]
    assert found.title == "Rain date: Winter concert (only if it cannot be on Thu, Dec 10)"
    assert f"{found.starts:%m-%d}" == "12-11"


def test_a_cancelled_concert_is_there_as_such_without_its_rain_date(tmp_path: Path) -> None:
    files = base_files()
    files[CONCERT] += "cancelled: The hall is flooded.\nrain: {date: 2026-12-11, decided: 2 pm}\n"
    found = entries(tmp_path, files)
    own = {key: one for key, one in found.items() if key.startswith("winter.concert.")}
    assert set(own) == {
        "winter.concert.concert",
        "winter.concert.concert.band.harbor",
        "winter.concert.concert.band.lantern",
    }
    assert all(one.cancelled for one in own.values())
    assert {one.about for one in own.values()} == {"Cancelled: The hall is flooded."}


def test_a_rehearsal_that_was_published_and_is_lost_says_why(tmp_path: Path) -> None:
    files = base_files()
    files[CYCLE] += "extra:\n  - {ensemble: lantern, date: 2026-11-03, start: 3 pm, end: 4 pm}\n"
    before = entries(tmp_path / "a", files)
    files[CYCLE] += (
        "cancelled:\n  - {ensemble: lantern, date: 2026-11-02, why: pipes froze}\n"
        "  - {ensemble: lantern, date: 2026-11-03, start: 3 pm, why: too much snow}\n"
    )
    files = changed(files, YEAR, "closures:", "closures:\n  - {name: Snow day, date: 2026-11-04}")
    gone = gone_since(before, tmp_path / "b", files)
    assert {key: one.about for key, one in gone.items()} == {
        "winter.lantern.rehearsal.2026-11-02": "Pipes froze",
        "winter.lantern.rehearsal.2026-11-03-extra": "Too much snow",
        "winter.lantern.rehearsal.2026-11-04": "Snow day",
    }


def test_a_day_with_another_label_says_that_labels_moved_on(tmp_path: Path) -> None:
    files = changed(base_files(), YEAR, "first_day:", "day_labels: [A, B]\nfirst_day:")
    files = changed(files, YEAR, "weekdays: [Mon, Wed]", "labels: [A]")
    before = entries(tmp_path / "a", files)
    files = changed(files, YEAR, "closures:", "closures:\n  - {name: Snow day, date: 2026-11-04}")
    gone = gone_since(before, tmp_path / "b", files)
    assert len(gone) > 5
    assert {one.about for one in gone.values()} - {"Snow day"} == {
        "A and B days moved on after Snow day, Wed, Nov 4"
    }
    assert min(gone) > "winter.lantern.rehearsal.2026-11-04"
    assert {one.path for one in gone.values()} == {"winter/lantern/"}


def test_moved_entries_stay_the_same(tmp_path: Path) -> None:
    before = entries(tmp_path / "a", {**base_files(), "events.yaml": EVENTS})
    files = {
        **base_files(),
        "events.yaml": EVENTS.replace(
            "date: 2026-11-28", "date: 2026-11-29, moved_from: 2026-11-28"
        ),
    }
    files = changed(
        files, CONCERT, "date: Thu 2026-12-10", "date: 2026-12-09\nmoved_from: 2026-12-10"
    )
    files = changed(
        files,
        CYCLE,
        "starts:",
        "extra:\n  - {ensemble: lantern, date: 2026-11-03, start: 3 pm, end: 4 pm, instead_of: 2026-11-02}\nstarts:",
    )
    after = entries(tmp_path / "b", files)
    rehearsal = after["winter.lantern.rehearsal.2026-11-02"]
    assert rehearsal.title == "Lantern Band rehearsal"
    assert rehearsal.about == "Moved: now Tue, Nov 3; it was Mon, Nov 2"
    assert after["winter.concert.concert"].about.startswith("Moved: now Wed, Dec 9; it was Thu")
    assert after["event.parade.2026-11-28"].about.startswith("Moved: now Sun, Nov 29; it was Sat")
    for key in ("event.parade.2026-11-28", "winter.concert.concert"):
        assert before[key].uid == after[key].uid
        assert before[key].starts != after[key].starts
