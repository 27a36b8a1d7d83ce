"""The calendars to which readers subscribe, as two other readers of iCalendar read them.

Rules are RFC 5545's and RFC 7986's, by section; instants are those that dateutil reckons from
the clock and the zone. What becomes of a cancelled entry is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
import vobject
from dateutil import tz
from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.domain.calendar_events import CalendarEvent, EventRecord
from handbook.domain.calendar_records import records_of
from handbook.domain.history import NO_HISTORY, History, Publication
from handbook.outputs.feeds import calendar_events, feed_files
from handbook.outputs.feeds.files import feeds_of, selected
from handbook.outputs.feeds.ics import calendar_text, entry_text
from handbook.outputs.page import Context
from handbook.pipeline import load_plan
from handbook.plan.model import Plan
from tests.content_folders import base_files, write_folder
from tests.demo import demo_plan, demo_site
from tests.outputs.rendering import page_of
from tests.plan.test_half_groups import with_groups

FIRST = datetime(2026, 11, 20, 22, 0, tzinfo=UTC)
NEW_YORK = ZoneInfo("America/New_York")
Files = Mapping[str, bytes]


def context_of(plan: Plan | None) -> Context:
    assert plan is not None
    return Context(plan, plan.languages[0])


def files_of(
    context: Context, history: History = NO_HISTORY, without: str = "", later: str = ""
) -> tuple[Files, History]:
    """Write all calendars, less an entry or with an entry an hour later; give what is known then."""
    entries = [
        replace(one, starts=one.starts + timedelta(hours=1)) if one.key == later else one
        for one in calendar_events(context)
        if one.key != without
    ]
    files = {file.path: file.content for file in feed_files(context, entries, history)}
    done = (*history.publications, history.coming) if history.coming else history.publications
    return files, History(done, events=records_of(entries, history))


def coming(history: History, days: int = 0) -> History:
    return replace(
        history, coming=Publication(history.next_number, FIRST + timedelta(days=days), "")
    )


@pytest.fixture(scope="module")
def context() -> Context:
    return context_of(demo_plan())


@pytest.fixture(scope="module")
def demo(context: Context) -> Files:
    return files_of(context)[0]


def read(content: bytes) -> list[Any]:
    return list(icalendar.Calendar.from_ical(content).walk("VEVENT"))


def entries_in(content: bytes) -> dict[str, str]:
    """Give the text of each entry by its UID."""
    found = re.findall(r"BEGIN:VEVENT\r\nUID:(.*?)\r\n(.*?)END:VEVENT", content.decode(), re.DOTALL)
    return dict(found)


def one(content: bytes, uid: str) -> Any:
    return next(event for event in read(content) if event["UID"].startswith(f"{uid}@"))


def test_two_readers_read_the_same(demo: Files) -> None:
    for path, content in demo.items():
        ours = {
            str(event["UID"]): (
                str(event["SUMMARY"]),
                event.decoded("DTSTART"),
                event.decoded("DTEND") if "DTEND" in event else None,
                str(event.get("DESCRIPTION", "")),
            )
            for event in read(content)
        }
        theirs = {
            event.uid.value: (
                event.summary.value,
                event.dtstart.value,
                event.dtend.value if "dtend" in event.contents else None,
                event.description.value if "description" in event.contents else "",
            )
            for event in vobject.readOne(content.decode()).contents.get("vevent", [])
        }
        assert ours == theirs, path
        assert ours, path


def test_lines_are_short_and_name_nobody(demo: Files) -> None:
    """RFC 5545 3.1: lines end with CRLF and have at most 75 octets."""
    for content in demo.values():
        assert content.count(b"\n") == content.count(b"\r\n")
        lines = content.split(b"\r\n")
        assert lines.pop() == b""
        assert max(map(len, lines)) <= 75
        names = {re.split(rb"[;:]", line)[0] for line in lines if not line.startswith(b" ")}
        assert names.isdisjoint({b"ATTENDEE", b"ORGANIZER", b"CONTACT", b"METHOD", b"RRULE"})


def test_hours_are_the_instants_that_dateutil_reckons(context: Context, demo: Files) -> None:
    zone = tz.gettz("America/Chicago")
    expected = {
        datetime.combine(row.rehearsal.day, row.rehearsal.start.time(), zone).astimezone(UTC)
        for cycle in context.plan.cycles
        for ensemble in cycle.ensembles
        for row in ensemble.rehearsals
    }
    found = {
        event.decoded("DTSTART")
        for event in read(demo["calendar/all.ics"])
        if ".rehearsal." in event["UID"]
    }
    assert found == expected
    assert {moment.hour for moment in found if f"{moment:%m-%d}" in {"10-30", "11-02"}}


@pytest.mark.parametrize(
    ("day", "start", "end"),
    [
        # 15 U.S.C. 260a: standard time from November 1, 2026, daylight time from March 14, 2027.
        (date(2026, 10, 27), "20261027T230000Z", "20261028T003000Z"),
        (date(2026, 11, 3), "20261104T000000Z", "20261104T013000Z"),
        (date(2027, 3, 9), "20270310T000000Z", "20270310T013000Z"),
        (date(2027, 3, 16), "20270316T230000Z", "20270317T003000Z"),
    ],
)
def test_an_evening_stays_at_seven_through_the_change_of_the_clock(
    day: date, start: str, end: str
) -> None:
    event = CalendarEvent(
        "one@school",
        "Rehearsal",
        datetime(day.year, day.month, day.day, 19, tzinfo=NEW_YORK),
        datetime(day.year, day.month, day.day, 20, 30, tzinfo=NEW_YORK),
    )
    lines = entry_text(EventRecord(event, 0, FIRST), "").split("\r\n")
    assert f"DTSTART:{start}" in lines
    assert f"DTEND:{end}" in lines


def test_whole_days_end_on_the_day_after() -> None:
    """RFC 5545 3.6.1 has June 28 to July 8 of 2007 as this pair."""
    event = CalendarEvent("one@school", "Festival", date(2007, 6, 28), date(2007, 7, 9))
    lines = entry_text(EventRecord(event, 0, FIRST), "").split("\r\n")
    assert "DTSTART;VALUE=DATE:20070628" in lines
    assert "DTEND;VALUE=DATE:20070709" in lines
    assert "TRANSP:TRANSPARENT" in lines


def test_what_has_no_length_has_no_end() -> None:
    """RFC 5545 3.8.2.2: an end is later than the start."""
    event = CalendarEvent("one@school", "Call", FIRST, FIRST)
    assert "DTEND" not in entry_text(EventRecord(event, 0, FIRST), "")


SIGNS = st.characters(exclude_categories=["Cs"], exclude_characters="\x85\u2028\u2029")


@settings(deadline=None)  # a busy machine is not at fault
@given(st.text(st.one_of(st.sampled_from('\\;,:\n"é♭🎺 '), SIGNS), min_size=1, max_size=200))
def test_any_words_come_through(words: str) -> None:
    """RFC 5545 3.3.11 (escapes) and 3.1 (folds, no control character)."""
    event = CalendarEvent("one@school", "Rehearsal", FIRST, FIRST, about=words)
    content = calendar_text([entry_text(EventRecord(event, 0, FIRST), "")])
    assert max(map(len, content.split(b"\r\n"))) <= 75
    (found,) = read(content)
    plain = re.sub(r"[\x00-\x08\x0b-\x1f\x7f]", "", re.sub(r"\r\n?", "\n", words))
    assert str(found.get("DESCRIPTION", "")) == plain


def test_a_calendar_says_what_it_is_and_how_often_to_ask(demo: Files) -> None:
    """RFC 7986 5.1, 5.5, 5.7, 5.8; the others are what clients read in their place."""
    head = demo["calendar/band/beacon.ics"].partition(b"BEGIN:VEVENT")[0].decode().split("\r\n")
    name = "Quillhaven Middle School Bands: Beacon Band"
    site = "https://bands.quillhaven.example"
    assert head[:3] == ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//handbook//calendars//EN"]
    assert set(head[3:-1]) == {
        f"NAME:{name}",
        f"X-WR-CALNAME:{name}",
        "REFRESH-INTERVAL;VALUE=DURATION:PT6H",
        "X-PUBLISHED-TTL:PT6H",
        f"SOURCE;VALUE=URI:{site}/calendar/band/beacon.ics",
        f"URL:{site}/calendar/subscribe/",
    }


def test_each_reader_has_what_concerns_them(context: Context, demo: Files) -> None:
    beacon = {
        str(event["UID"]).partition("@")[0] for event in read(demo["calendar/band/beacon.ics"])
    }
    everyone = {str(event["UID"]).partition("@")[0] for event in read(demo["calendar/all.ics"])}
    concerts = {
        str(event["UID"]).partition("@")[0] for event in read(demo["calendar/concerts.ics"])
    }
    assert "winter-2026.concert.concert.band.beacon" in beacon
    assert "event.coat-drive" in beacon, "it is for everyone"
    assert not any(".lantern." in uid or uid.startswith(("school", "event.home")) for uid in beacon)
    assert "winter-2026.concert.concert" not in beacon, "its own hours stand in its place"
    assert not any(".band." in uid for uid in everyone)
    assert {"winter-2026.concert.concert", "school.2026-27.closed.2026-11-11"} <= everyone
    assert concerts == {"fall-2026.concert.concert", "winter-2026.concert.concert"}
    bands = [selected(calendar_events(context), feed.readers) for feed in feeds_of(context)[:3]]
    rehearsals = {one.key for band in bands for one in band if ".rehearsal." in one.key}
    assert rehearsals == {uid for uid in everyone if ".rehearsal." in uid}


def test_a_concert_can_be_taken_over_with_the_hours_of_each_band_that_is_there(
    demo: Files,
) -> None:
    once = {path.removeprefix("calendar/once/") for path in demo if "/once/" in path}
    assert {path for path in once if "fall-2026" in path} == {
        f"fall-2026/concert/{who}.ics"
        for who in ("all", "band-lantern", "band-harbor", "band-beacon")
    }
    assert {path for path in once if "town-lights" in path} == {"events/town-lights/all.ics"}


def test_a_band_with_groups_has_a_calendar_and_so_has_each_group(tmp_path: Path) -> None:
    context = context_of(load_plan(write_folder(tmp_path, with_groups())).plan)
    files, _ = files_of(context)
    whole, brass, winds = (
        set(entries_in(files[f"calendar/band/lantern{group}.ics"]))
        for group in ("", "-brass", "-winds")
    )
    assert brass != winds
    assert whole == brass | winds


def test_before_the_first_publication_no_clock_is_asked(demo: Files) -> None:
    for content in demo.values():
        assert {event["SEQUENCE"] for event in read(content)} == {0}
        assert {event.decoded("DTSTAMP") for event in read(content)} == {
            datetime(2000, 1, 1, tzinfo=UTC)
        }
        assert b"LAST-MODIFIED" not in content


def test_unchanged_content_gives_the_same_bytes_the_next_day(context: Context) -> None:
    first, history = files_of(context, coming(NO_HISTORY))
    assert files_of(context, coming(history, days=1))[0] == first
    assert files_of(context, history)[0] == first, "a build is like the last publication"


def test_only_what_changed_differs_and_counts_on(context: Context) -> None:
    """RFC 5545 3.8.7.4 (SEQUENCE), 3.8.7.2 and 3.8.7.3 (when it was revised)."""
    first, history = files_of(context, coming(NO_HISTORY))
    key = "winter-2026.lantern.rehearsal.2026-12-14"
    second, _ = files_of(context, coming(history, days=1), later=key)
    unlike = {path for path in first if first[path] != second[path]}
    assert unlike == {"calendar/all.ics", "calendar/band/lantern.ics"}
    for path in unlike:
        before, after = entries_in(first[path]), entries_in(second[path])
        (changed,) = {uid for uid in before if before[uid] != after[uid]}
        assert changed.startswith(f"{key}@")
    event = one(second["calendar/all.ics"], key)
    assert event["SEQUENCE"] == 1
    assert event.decoded("DTSTAMP") == event.decoded("LAST-MODIFIED") == FIRST + timedelta(days=1)


def test_what_is_gone_says_cancelled_in_its_title_until_it_is_over(context: Context) -> None:
    _, history = files_of(context, coming(NO_HISTORY))
    key = "winter-2026.lantern.rehearsal.2026-12-14"
    files, history = files_of(context, coming(history, days=1), without=key)
    event = one(files["calendar/band/lantern.ics"], key)
    assert str(event["SUMMARY"]) == "CANCELLED - Lantern Band rehearsal"
    assert (event["STATUS"], event["SEQUENCE"], event["TRANSP"]) == ("CONFIRMED", 1, "TRANSPARENT")
    files, history = files_of(context, coming(history, days=23), without=key)
    assert one(files["calendar/band/lantern.ics"], key)
    files, _ = files_of(context, coming(history, days=24), without=key)
    assert f"UID:{key}".encode() not in files["calendar/band/lantern.ics"]


def test_a_concert_that_was_over_long_ago_can_still_be_taken_over(context: Context) -> None:
    files, _ = files_of(context, coming(NO_HISTORY, days=500))
    assert read(files["calendar/all.ics"]) == []
    (event,) = read(files["calendar/once/fall-2026/concert/all.ics"])
    assert str(event["SUMMARY"]).startswith("Fall Concert")


def test_a_calendar_without_entries_is_one_all_the_same(context: Context) -> None:
    """RFC 5545 3.6: a calendar has at least one component."""
    files = {file.path: file.content for file in feed_files(context, (), NO_HISTORY)}
    assert set(files) == {feed.path for feed in feeds_of(context)}
    calendar = icalendar.Calendar.from_ical(files["calendar/all.ics"])
    assert [part.name for part in calendar.subcomponents] == ["VTIMEZONE"]
    assert "vtimezone" in vobject.readOne(files["calendar/all.ics"].decode()).contents


def test_the_latest_of_very_many_entries_are_kept(context: Context) -> None:
    days = [date(2000, 1, 1) + timedelta(days=place) for place in range(3100)]
    many = [CalendarEvent(f"event.{day}@s", "Day", day, day + timedelta(days=1)) for day in days]
    files = {file.path: file.content for file in feed_files(context, many, NO_HISTORY)}
    found = re.findall(r"DTSTART;VALUE=DATE:(\d+)", files["calendar/all.ics"].decode())
    assert found == [f"{day:%Y%m%d}" for day in days[-3000:]]


def test_marks_and_links_in_texts_become_plain_words(tmp_path: Path) -> None:
    said = "**Bring** the [form](https://a.example/form), <https://b.example/> & [map](pages/attendance.md)"
    events = f'events:\n  - {{id: trip, name: Trip, date: 2026-11-28, bring: ["{said}"]}}\n'
    context = context_of(
        load_plan(write_folder(tmp_path, {**base_files(), "events.yaml": events})).plan
    )
    event = one(files_of(context)[0]["calendar/all.ics"], "event.trip.2026-11-28")
    line = "Bring: Bring the form (https://a.example/form), https://b.example/ & map"
    assert line in str(event["DESCRIPTION"]).splitlines()


def links(body: str) -> Sequence[tuple[str, str]]:
    """Give the address of each way, and whether it says that it updates."""
    rows = re.findall(r"<li>(.*?)</li>", body.partition('class="feeds"')[2], re.DOTALL)
    return [
        (re.findall(r'(?:href|data-copy)="([^"]*)"', row)[0], re.findall(r"<b>(.*?)\.</b>", row)[0])
        for row in rows
        if "<b>" in row
    ]


def test_each_way_says_whether_it_updates() -> None:
    page = next(page for page in demo_site().pages if page.path == "calendar/subscribe/")
    feed = "bands.quillhaven.example/calendar/band/beacon.ics"
    assert links(page.body)[8:12] == [
        (f"webcal://{feed}", "Updates"),
        (
            "https://calendar.google.com/calendar/r?cid=webcal%3A%2F%2F" + feed.replace("/", "%2F"),
            "Updates",
        ),
        (f"https://{feed}", "Updates"),
        ("../../calendar/band/beacon.ics", "Does not update"),
    ]
    assert "about once a day" in page.body
    assert "may reach you too late" in page.body


def test_without_an_address_there_are_only_copies(tmp_path: Path) -> None:
    plan = load_plan(write_folder(tmp_path, base_files())).plan
    assert plan is not None
    page = page_of(plan, "calendar/subscribe/")
    assert {says for _, says in links(page.body)} == {"Does not update"}
    assert "webcal" not in page.body
    assert "Nobody can subscribe yet" in page.body
