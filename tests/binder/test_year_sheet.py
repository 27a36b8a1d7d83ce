"""The year sheet in words; what they say was counted by hand from the texts of these tests."""

from __future__ import annotations

import re
from datetime import date, timedelta
from html import unescape
from pathlib import Path

from handbook.binder import year_sheet
from handbook.binder.year_sheet import YearSheetView, year_sheet_view
from handbook.outputs.page import Context
from handbook.plan.year_sheet import year_sheets
from tests.binder.conftest import binder_of
from tests.binder.sheet_words import dense
from tests.binder.test_binder import OFFICE
from tests.content_folders import base_files, write_folder
from tests.outputs.sheets.reading import page_texts, runs, words_of
from tests.plan.planning import CONCERT, CYCLE, YEAR, planned

_CELL = re.compile(r"<div>(.*?)</div>|<t[dh][^>]*>([^<]+)<")
_TAG = re.compile(r"<[^>]*>")

EXTRA = """extra:
  - {ensemble: lantern, date: Tue 2026-12-01, start: 3:30 pm, end: 4:10 pm, name: Dress}
  - {ensemble: harbor, date: Tue 2026-12-01, start: 4:15 pm, end: 4:55 pm, name: Dress}
  - {ensemble: lantern, date: Tue 2026-12-01, start: 5:26 pm, end: 6:00 pm, name: Again}
  - {ensemble: harbor, date: Wed 2026-12-02, start: 4:15 pm, end: 4:55 pm, name: Dress}
"""
EVENTS = """events:
  - {id: games, name: Games, on: [{date: Fri 2027-01-15, name: Rivals}], who: [lantern], starts: 6 pm}
  - {id: trip, name: Trip, from: Thu 2026-11-19, to: Fri 2026-11-20, who: [harbor], away: all day}
  - {id: visit, name: Visit, date: Wed 2026-11-04, who: [lantern], players: [trumpet], starts: 10 am, ends: 11:10 am, ride: {meet: Bus loop, leaves: 9:50 am, back: 11:20 am}}
"""
BUSES = """
allowances: {unpack: 5, warm_up: 20, walk: 5, in_place: 5, walk_back: 5, pack: 10}
travel:
  meet: Bus loop
  load: 10
  drive: 20
  rides: [{ensembles: [lantern, harbor], adults: 3, buses: [{id: a, seats: 20}, {id: b, seats: 16, held: 2}]}]
"""


CREW = """
calls:
  - {ensemble: lantern, call: 6:15 pm}
  - {ensemble: harbor, call: 6:05 pm}
  - {role: loaders, room: band-room, minutes: {duties: 30}, call: 5:30 pm, pick_up: 6 pm}
crew: [{id: loaders, name: Loading adults}]
"""


def view(folder: Path, **more: str) -> YearSheetView:
    files = base_files()
    found = {
        "events.yaml": EVENTS,
        CYCLE: files[CYCLE] + EXTRA,
        CONCERT: files[CONCERT] + BUSES,
        **more,
    }
    plan = planned(folder, found).plan
    context = Context(plan, "en")
    with context.speaking():
        return year_sheet_view(context, year_sheets(plan)[0])


def test_uses_of_a_room_within_half_an_hour_are_one(tmp_path: Path) -> None:
    found = [(one.date, one.hours, one.what) for one in view(tmp_path).rooms]
    assert found[:3] == [
        ("Tue, Dec 1", "3:30–4:55 pm", "Dress (Lantern Band, Harbor Band)"),
        ("Tue, Dec 1", "5:26–6:00 pm", "Again (Lantern Band)"),
        ("Wed, Dec 2", "4:15–4:55 pm", "Dress (Harbor Band)"),
    ]


def test_classes_missed_are_told_by_day_and_period(tmp_path: Path) -> None:
    """Harbor Band's own class is p4 on Thursdays; Lantern Band's is p3 on Wednesdays."""
    lines = {line.name: line for line in view(tmp_path).lines}
    assert lines["Trip"].missed == (
        "Harbor Band misses class: Thu, Nov 19 period 3 (all); Fri, Nov 20 period 3 (all), period 4 (all)",
    )
    assert lines["Visit"].missed == ("Lantern Band misses class: period 4 (25 min)",)
    assert lines["Visit"].who == ("Lantern Band: 7 of 21",)


def test_a_period_is_called_what_the_school_calls_it(tmp_path: Path) -> None:
    year = base_files()[YEAR].replace("{id: p4, ", "{id: p4, name: Fourth hour, ")
    lines = {line.name: line for line in view(tmp_path, **{YEAR: year}).lines}
    assert lines["Visit"].missed == ("Lantern Band misses class: Fourth hour (25 min)",)


def test_a_room_of_the_crew_alone_says_so_and_bands_say_since_when_they_are_there(
    tmp_path: Path,
) -> None:
    """Adults load in the band room from 5:30 to 6 pm; the bands come ten minutes apart."""
    found = view(tmp_path, **{CONCERT: base_files()[CONCERT] + CREW})
    assert ("5:30–6:00 pm", "Band room", "Winter concert: Loading adults") in {
        (one.hours, one.room, one.what) for one in found.rooms
    }
    (line,) = [one for one in found.lines if one.name == "Winter concert"]
    assert line.who == ("Harbor Band: 9", "Lantern Band: 21, from 6:15 pm")
    assert line.crew == ("Loading adults, from 5:30 pm",)
    counted = CREW.replace("name: Loading adults", "name: Loading adults, people: 4")
    found = view(tmp_path / "counted", **{CONCERT: base_files()[CONCERT] + counted})
    (line,) = [one for one in found.lines if one.name == "Winter concert"]
    assert line.crew == ("Loading adults: 4, from 5:30 pm",)
    assert line.total == "30 players"
    assert line.hours.startswith("6:05")


def test_a_line_says_when_it_begins_if_they_come_earlier_and_a_sum_of_several(
    tmp_path: Path,
) -> None:
    found = view(tmp_path, **{CONCERT: base_files()[CONCERT] + CREW})
    (line,) = [one for one in found.lines if one.name == "Winter concert"]
    assert (line.starts, line.total) == ("Begins 7:00 pm", "30 players")
    games = next(one for one in found.lines if one.name == "Games: Rivals")
    assert (games.starts, games.total) == ("", "")  # who comes at six begins then, and is one band


def test_an_event_is_named_with_what_it_is_that_day(tmp_path: Path) -> None:
    assert "Games: Rivals" in {line.name for line in view(tmp_path).lines}


def test_buses_are_told_with_riders_and_free_seats(tmp_path: Path) -> None:
    """21 and 9 players are 30, beside 3 adults; of the second bus 2 seats of 16 are held."""
    (ride,) = next(line.rides for line in view(tmp_path).lines if line.starts == "Begins 7:00 pm")
    assert "Lantern Band and Harbor Band: 30 players and 3 adults, 34 seats" in ride
    assert "2 buses (20, 14)" in ride


def test_buses_without_adults_say_that_none_are_counted(tmp_path: Path) -> None:
    concert = base_files()[CONCERT] + BUSES.replace("adults: 3, ", "")
    lines = view(tmp_path, **{CONCERT: concert}).lines
    (ride,) = next(line.rides for line in lines if line.starts == "Begins 7:00 pm")
    assert "Lantern Band and Harbor Band: 30 players, adults not counted, 34 seats" in ride


def test_a_ride_without_buses_says_how_many_seats_are_wanted(tmp_path: Path) -> None:
    lines = {line.name: line for line in view(tmp_path).lines}
    (ride,) = lines["Visit"].rides
    assert ride.replace("\u00a0", " ") == (
        "7 players, plus adults · Bus loop · 9:50 am, back 11:20 am · buses and seats not stated"
    )


def test_the_printed_sheet_says_what_the_page_says(tmp_path: Path) -> None:
    """Cells of a table follow each other in both, with a dash where there is nothing."""
    files = base_files()
    content = write_folder(
        tmp_path / "content",
        {
            **files,
            "events.yaml": EVENTS,
            CYCLE: files[CYCLE] + EXTRA,
            CONCERT: files[CONCERT] + BUSES,
        },
    )
    binder = binder_of(content)
    with binder.context.speaking():
        made = {one.path: one.content for one in year_sheet.files(binder)}
    page = made["office-2026-27.html"].decode().split("<tbody>", 1)[1].split("</main>")[0]
    texts = page_texts(made["office-2026-27.pdf"])
    printed = words_of(" ".join(texts))
    cells = [
        words_of(unescape(_TAG.sub("", one)))
        for pair in _CELL.findall(page)
        for one in pair
        if one.strip()
    ]
    assert len(cells) > 60
    assert [cell for cell in cells if cell not in printed] == []
    assert all(OFFICE in words_of(text) for text in texts)


def test_a_row_is_never_parted_by_the_end_of_a_page(tmp_path: Path) -> None:
    """A secretary reads a row to its end: all cells of one stand on one page, in 12 points, below the heads."""
    days = [date(2026, 11, 2) + timedelta(weeks=n) for n in range(30)]
    games = ", ".join(
        f"{{date: {day:%a %Y-%m-%d}, name: Rivals {n}x of the league that travel from the other side}}"
        for n, day in enumerate(days)
        if day < date(2027, 6, 1)
    )
    events = EVENTS.replace("on: [{date: Fri 2027-01-15, name: Rivals}]", f"on: [{games}]")
    content = write_folder(tmp_path / "content", {**base_files(), "events.yaml": events})
    binder = binder_of(content)
    with binder.context.speaking():
        made = {one.path: one.content for one in year_sheet.files(binder)}
        lines = year_sheet_view(binder.context, year_sheets(binder.plan)[0]).lines
    sheet = made["office-2026-27.pdf"]
    pages = [dense(text) for text in page_texts(sheet)]
    assert len(pages) > 2
    rows = [dense(f"{line.date}{line.name}{line.hours}") for line in lines]
    heads = dense("Date What Players with us Who Where Buses and seats")
    for row in rows:
        (page,) = (page for page in pages if row in page)
        assert heads in page
    assert min(run.points for run in runs(sheet) if len(run.text.strip()) > 3) >= 12 - 0.01


def test_a_place_that_is_no_room_of_the_program_is_listed_with_the_rooms(tmp_path: Path) -> None:
    events = EVENTS.replace(
        "who: [lantern], starts: 6 pm", "who: [lantern], starts: 6 pm, place: Gym"
    )
    found = [one for one in view(tmp_path, **{"events.yaml": events}).rooms if one.ask]
    assert [(one.date, one.room, one.what) for one in found] == [
        ("Fri, Jan 15", "Gym", "Games: Rivals")
    ]
