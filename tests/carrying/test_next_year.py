"""`handbook next year`: what stays, and a district's calendar read into it, checked day by day.

The three calendars are of three makes, written after RFC 5545 and after habits of files that
are published. What follows from them was reckoned by hand: August 23, 2027 is a Monday,
January 1, 2028 a Saturday; holidays by 5 U.S.C. 6103(a).
"""

from __future__ import annotations

import os
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from handbook.carrying import year
from handbook.domain.school_year import day_labels
from handbook.loader.loading import load
from handbook.pipeline import load_problems
from handbook.plan.school_days import school_year
from handbook.schema.year import Year
from handbook.source.yaml_reader import read_yaml
from tests.carrying.conftest import TypeIn, all_files
from tests.content_folders import base_files, write_folder
from tests.demo import DEMO

NEW = "years/2027-28.yaml"
BELLS = """\
    school_ends: 3:10 pm
  - {id: early-release, name: Early release, like: regular, without: [p4], school_ends: 11 am}
  - {id: late-start, like: regular, without: [p3]}
"""
RULE = """\
altered:
  # Every week of the year.
  - name: Advisory
    every: Tue
    except: [Tue 2026-09-08]
    bells: late-start
  - {name: Early release, date: Fri 2026-10-02, bells: early-release}
  - {name: Pep rally, date: Fri 2026-10-09, bells: early-release}
"""


@pytest.fixture
def content(tmp_path: Path) -> Path:
    files = base_files()
    text = files["years/2026-27.yaml"]
    text = text.replace("    school_ends: 3:10 pm\n", BELLS)
    text = text.replace("bells:\n", "day_labels: [A, B]\nbells:\n", 1)
    text = text.replace("meetings:\n", f"{RULE}meetings:\n")
    text += (
        "  - {ensemble: harbor, weekdays: [Wed], start: 7 am, end: 7:45 am,"
        " from: 2026-08-24, to: 2026-10-30}\n"
    )
    files["years/2026-27.yaml"] = text
    files["program.yaml"] = files["program.yaml"].replace(
        "time_zone: America/New_York", "time_zone: America/Chicago"
    )
    return write_folder(tmp_path / "content", files)


def data_of(path: Path) -> dict[str, Any]:
    data = read_yaml(path.name, path.read_bytes()).data
    assert isinstance(data, dict)
    return dict(data)


def entry(title: str, *fields: str) -> str:
    return "\n".join(("BEGIN:VEVENT", f"SUMMARY:{title}", *fields, "END:VEVENT"))


def day(title: str, first: str, last: str = "") -> str:
    """An entry of whole days, with an end after the last."""
    return entry(
        title, f"DTSTART;VALUE=DATE:{first}", *([f"DTEND;VALUE=DATE:{last}"] if last else [])
    )


def wrapped(*entries: str) -> str:
    head = "BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//example.org//Calendar//EN"
    return "\n".join((head, *entries, "END:VCALENDAR", ""))


# --- a calendar of a district's office: by the book, folded, with rules -----------------------------

OFFICE = wrapped(
    "BEGIN:VTIMEZONE\nTZID:America/Chicago\nBEGIN:STANDARD\nDTSTART:20071104T020000\n"
    "RRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=1SU\nTZOFFSETFROM:-0500\nTZOFFSETTO:-0600\n"
    "END:STANDARD\nEND:VTIMEZONE",
    day("First Day of School", "20270825"),
    day("Labor Day - No School", "20270906", "20270907"),
    day("Thanksgiving Break", "20271124", "20271127"),
    day("Winter Break", "20271218", "20280103"),
    day("Christmas Day - No School", "20271225", "20271226"),
    day("Dr. Martin Luther King Jr. Day\\, No\n  School", "20280117"),
    day("Presidents' Day", "20280221"),
    day("New Year's Day", "20280101"),
    entry("Early Release", "DTSTART;VALUE=DATE:20270903", "RRULE:FREQ=MONTHLY;BYDAY=1FR;COUNT=3"),
    entry(
        "Late Start",
        "DTSTART;TZID=America/Chicago:20270901T090000",
        "DTEND;TZID=America/Chicago:20270901T093000",
        "RRULE:FREQ=WEEKLY;UNTIL=20271216T060000Z",
        "EXDATE;TZID=America/Chicago:20271006T090000",
    ),
    day("No School - Elementary only", "20271022"),
    day("Pep Rally", "20270917"),
    entry("Board Meeting", "DTSTART:20270914T000000Z", "RRULE:FREQ=MONTHLY;BYDAY=2TU;COUNT=4"),
    day("Last Day of School - Early Release", "20280601"),
    day("First Day of School", "20260824"),
    day("Summer Break", "20280602", "20280819"),
).replace("\n", "\r\n")


def test_a_districts_calendar_becomes_a_school_year(type_in: TypeIn, content: Path) -> None:
    (content.parent / "district.ics").write_bytes(OFFICE.encode())
    before = all_files(content)
    ended = type_in("next", "year", "content", "--school-days", "district.ics")
    assert ended.code == 0, ended.err
    assert all_files(content).keys() - before.keys() == {NEW}
    new = data_of(content / NEW)
    assert (new["first_day"], new["last_day"]) == ("Wed 2027-08-25", "Thu 2028-06-01")
    assert new["closures"] == [
        {"name": "Labor Day", "date": "Mon 2027-09-06"},
        {"name": "Thanksgiving Break", "from": "Wed 2027-11-24", "to": "Fri 2027-11-26"},
        {"name": "Winter Break", "from": "Mon 2027-12-20", "to": "Fri 2027-12-31"},
        {"name": "Dr. Martin Luther King Jr. Day", "date": "Mon 2028-01-17"},
    ]
    assert new["altered"] == [
        {"name": "Advisory", "every": "Tue", "bells": "late-start"},
        # Weekly from September 1 to December 15; not on October 6, nor in the break.
        {
            "name": "Late Start",
            "every": "Wed",
            "from": "Wed 2027-09-01",
            "to": "Wed 2027-12-15",
            "except": ["Wed 2027-10-06"],
            "bells": "late-start",
        },
        {"name": "Early Release", "date": "Fri 2027-09-03", "bells": "early-release"},
        # A name that last year had, with its bells, though it says nothing by itself.
        {"name": "Pep Rally", "date": "Fri 2027-09-17", "bells": "early-release"},
        {"name": "Early Release", "date": "Fri 2027-10-01", "bells": "early-release"},
        {"name": "Early Release", "date": "Fri 2027-11-05", "bells": "early-release"},
        {
            "name": "Last Day of School - Early Release",
            "date": "Thu 2028-06-01",
            "bells": "early-release",
        },
    ]
    assert new["meetings"][2]["from"] == "Wed 2027-08-25"  # the first day, as last year
    assert load_problems(content).problems == ()
    text = (content / NEW).read_text()
    # What is open stands as a remark, and would be read if the # were taken away.
    line = OFFICE.split("\r\n").index("SUMMARY:Presidents' Day")  # one below the entry's first
    assert f'# TO DO: decide on line {line}: Mon 2028-02-21 "Presidents\' Day"' in text
    assert '# - name: "Presidents\' Day"\n  #   date: Mon 2028-02-21\n' in text
    said = " ".join(ended.out.split())
    assert "said of some grades or schools" in said
    # Midnight in UTC is the evening before: Mondays.
    assert ': Mon 2027-09-13 to Mon 2027-12-13 "Board Meeting" (4 times)' in said
    assert '"New Year\'s Day" (there is no school then anyway)' in said
    assert "Last year had these, and the calendar does not name them:\n  Fall break\n" in ended.out
    assert max(map(len, ended.out.splitlines())) <= 80


def test_what_a_year_has_always_is_carried_and_its_dates_are_not(
    type_in: TypeIn, content: Path
) -> None:
    ended = type_in("next", "year")
    assert ended.code == 0
    old, new = data_of(content / "years/2026-27.yaml"), data_of(content / NEW)
    for field in ("bells", "day_labels"):
        assert new[field] == old[field]
    # 52 weeks on, the same days of the week.
    assert (new["first_day"], new["last_day"]) == ("Mon 2027-08-23", "Fri 2028-06-02")
    assert new["altered"] == [{"name": "Advisory", "every": "Tue", "bells": "late-start"}]
    assert new["closures"] is None
    assert new["meetings"][:2] == old["meetings"][:2]
    assert new["meetings"][2] == old["meetings"][2] | {
        "from": "Mon 2027-08-23",  # the first day of school, as last year
        "to": "Fri 2027-10-29",
    }
    text = (content / NEW).read_text()
    assert "  # TO DO: last year `to` was Fri 2026-10-30\n  - {ensemble: harbor" in text
    # Of last year's dated entries the names stand there, to be dated anew.
    filled = re.sub(r"(?m)^  # (- name|  (?:date|from|to|bells):)", r"  \1", text)
    filled = filled.replace("date:   # last year Mon 2026-09-07", "date: Mon 2027-09-06")
    filled = filled.replace("from:   # last year Mon 2026-11-23", "from: Mon 2027-11-22")
    filled = filled.replace("to:   # last year Fri 2026-11-27", "to: Fri 2027-11-26")
    filled = re.sub(r"date:   # last year Fri 2026-10-0(\d)", r"date: 2027-10-0\1", filled)
    (content / NEW).write_text(
        filled.replace("2027-10-02", "2027-10-01").replace("2027-10-09", "2027-10-08")
    )
    assert load_problems(content).problems == ()
    assert [one["name"] for one in data_of(content / NEW)["altered"]] == [
        "Advisory", "Early release", "Pep rally",
    ]  # fmt: skip


# --- a calendar as a mail program saves it: midnights, changed repeats, a byte order mark ------------


def midnights(title: str, first: str, end: str, *more: str) -> str:
    zone = "TZID=Central Standard Time"
    return entry(
        title,
        f"DTSTART;{zone}:{first}T000000",
        f"DTEND;{zone}:{end}T000000",
        "X-MICROSOFT-CDO-ALLDAYEVENT:TRUE",
        "CLASS:PUBLIC",
        *more,
        "BEGIN:VALARM\nACTION:DISPLAY\nDESCRIPTION:Reminder\nTRIGGER:-PT15M\nEND:VALARM",
    )


MAIL = "\ufeff" + wrapped(
    midnights("School Begins", "20270830", "20270831"),
    *(
        midnights("NO SCHOOL &ndash; Spring Break", f"202803{on}", f"202803{on + 1}")
        for on in (20, 21, 22, 23, 24)
    ),
    midnights("Thanksgiving Recess", "20271125", "20271127"),
    midnights("Winter Vacation Begins", "20271217", "20271218"),
    midnights("Fall break", "20271011", "20271012"),
    midnights("Fall break - CANCELLED", "20271012", "20271013", "STATUS:CANCELLED"),
    midnights("Presidents Day", "20280221", "20280222", "CATEGORIES:Holiday,No School"),
    midnights("Snow Make-Up Day", "20280311", "20280312"),
    midnights("Snow Make-Up Day (if needed)", "20280414", "20280415"),
    entry(
        "Half Day",
        "UID:h",
        "DTSTART:20270916T173000Z",
        "DURATION:PT30M",
        "RRULE:FREQ=MONTHLY;BYDAY=3TH;COUNT=3",
    ),
    entry("Half Day", "UID:h", "RECURRENCE-ID:20271021T173000Z", "DTSTART:20271022T173000Z"),
    midnights("Teacher Workday", "20271101", "20271102"),
    midnights("Ongoing fundraiser", "20270830", "20280630"),
    midnights("Snow day", "20280118", "20280119", "SEQUENCE:x"),
)


def test_a_mail_programs_calendar_becomes_a_school_year(type_in: TypeIn, content: Path) -> None:
    (content.parent / "calendar.ics").write_bytes(MAIL.encode())
    ended = type_in("next", "year", "--school-days", "calendar.ics")
    assert ended.code == 0, ended.err
    new = data_of(content / NEW)
    assert (new["first_day"], new["last_day"]) == ("Mon 2027-08-30", "Fri 2028-06-02")
    assert new["closures"] == [
        {"name": "Fall break", "date": "Mon 2027-10-11"},
        {"name": "Thanksgiving Recess", "from": "Thu 2027-11-25", "to": "Fri 2027-11-26"},
        {"name": "Presidents Day", "date": "Mon 2028-02-21"},  # by its category
        {"name": "Spring Break", "from": "Mon 2028-03-20", "to": "Fri 2028-03-24"},
    ]
    # 17:30Z is 12:30 pm in Chicago; October 21 is moved to the 22nd.
    assert new["altered"][1:] == [
        {"name": "Half Day", "date": f"{on}", "bells": "early-release"}
        for on in ("Thu 2027-09-16", "Fri 2027-10-22", "Thu 2027-11-18")
    ]
    assert new["make_up"] == [{"name": "Snow Make-Up Day", "date": "Sat 2028-03-11"}]
    said = " ".join(ended.out.split())
    for part in (
        'Mon 2028-02-21 "Presidents Day" (no school, by its description)',
        'Thu 2027-09-16 to Thu 2027-11-18 "Half Day" (the bells early-release)',
        '"Winter Vacation Begins" (it names where a break begins or ends, and not whether there is school that day)',
        '"Snow Make-Up Day (if needed)" (it is not settled)',
        '"Teacher Workday" (nothing says whether there is school)',
        '"Fall break - CANCELLED" (it is cancelled)',
        '"Ongoing fundraiser"',
        '"Snow day"',
        "the last day of school: the one in the file is last year's, 52 weeks on",
    ):
        assert part in said
    assert not [one for one in load_problems(content).problems if one.severity.value == "error"]


# --- a calendar from a spreadsheet: labels day by day, Latin-1, no ends, something broken -------------

# A and B in turn from Tuesday, August 24, but B twice, on the 25th and the 26th; no school on
# the 30th, after which B comes, as A was last.
LABELS = {
    "A": ("20270824", "20270827", "20270901", "20270903"),
    "B": ("20270825", "20270826", "20270831", "20270902"),
}
SHEET = wrapped(
    entry("First day of classes", "DTSTART:20270824"),
    entry("Día de fiesta - No School", "DTSTART:20270830"),
    entry("Día de fiesta - No School", "DTSTART:20270830"),
    *(entry(f"{label} Day", f"DTSTART:{on}") for label in "AB" for on in LABELS[label]),
    entry("C Day", "DTSTART:20270907"),
    entry("Early dismissal", "DTSTART:2027-09-10"),
    "BEGIN:VEVENT\nSUMMARY:Never ended\nDTSTART:20270913",
    entry("Last Day of Classes", "DTSTART:20280530"),
).encode("cp1252")


def test_a_spreadsheets_calendar_becomes_a_school_year(type_in: TypeIn, content: Path) -> None:
    (content.parent / "sheet.ics").write_bytes(SHEET)
    ended = type_in("next", "year", "--school-days", "sheet.ics")
    assert ended.code == 0, ended.err
    loaded = load(content).handbook
    assert loaded is not None
    new = loaded.years["2027-28"].item
    labels = day_labels(school_year(new))
    printed = {f"{on:%Y%m%d}": label for on, label in labels.items()}
    assert {on: printed[on] for on in sorted([*LABELS["A"], *LABELS["B"]])} == {
        on: label for label, days in LABELS.items() for on in days
    }
    assert [(one.label, one.date and one.date.isoformat()) for one in new.altered[1:]] == [
        ("B", "2027-08-26")
    ]
    assert [one.name.read() for one in new.closures] == ["Día de fiesta"]
    said = " ".join(ended.out.split())
    for part in (
        '"C Day"',
        '"Early dismissal" (its days are written in no known way)',
        '"Never ended" (the entry has no end in the file)',
        "read as Windows-1252",
        "1 entry that the file has twice",
        "1 day on which labels begin afresh",
    ):
        assert part in said
    text = (content / NEW).read_text()
    assert "# Not understood in sheet.ics, so nothing was made of it:\n" in text
    assert load_problems(content).problems == ()


def test_labels_that_run_on_below_closures_are_said_by_the_rule(
    type_in: TypeIn, content: Path
) -> None:
    """B was due on Labor Day, so A comes after it; each Monday off alike."""
    days = [
        *(
            [
                "20270823A",
                "20270824B",
                "20270825A",
                "20270826B",
                "20270827A",
                "20270830B",
                "20270831A",
            ]
        ),
        *(["20270901B", "20270902A", "20270903B", "20270907B", "20270908A", "20270913B"]),
    ]
    text = wrapped(day("No School", "20270906"), *(day(f"Day {one[-1]}", one[:-1]) for one in days))
    (content.parent / "x.ics").write_text(text)
    assert type_in("next", "year", "--school-days", "x.ics").code == 0
    new = data_of(content / NEW)
    assert new["resume"] == "skip"
    assert len(new["altered"]) == 1  # the rule of the year alone


@pytest.mark.parametrize(
    ("name", "raw", "said"),
    [
        ("page.ics", b"<!DOCTYPE html>", "this is no calendar file: it begins with `<!DOCTYPE html>`"),
        ("empty.ics", b"", "it is empty"),
        ("large.ics", b"x" * 5_000_001, "5 MB are the most that is read"),
        ("nowhere.ics", None, "nowhere.ics cannot be read: No such file"),
        ("https://example.org/a.ics", None, "is an address: download the calendar"),
        ("content", None, "content is a folder"),
        (os.devnull, None, "is no ordinary file"),
    ],
)  # fmt: skip
def test_a_file_that_is_none_writes_nothing(
    type_in: TypeIn, content: Path, name: str, raw: bytes | None, said: str
) -> None:
    if raw is not None:
        (content.parent / name).write_bytes(raw)
    before = all_files(content)
    ended = type_in("next", "year", "content", "--school-days", name)
    assert (ended.code, ended.out) == (2, "")
    assert said in ended.err
    assert all_files(content) == before


def test_nothing_is_written_over_a_year(type_in: TypeIn, content: Path) -> None:
    before = all_files(content)
    ended = type_in("next", "year", "--id", "2026-27")
    assert ended.code == 2
    assert "years/2026-27.yaml is there already" in ended.err
    assert all_files(content) == before


def test_a_year_begun_twice_goes_on_from_the_newer(type_in: TypeIn, content: Path) -> None:
    assert type_in("next", "year").code == 0
    before = all_files(content)
    ended = type_in("next", "year")
    assert (ended.code, ended.out) == (2, "")
    assert "years/2027-28.yaml is there already, and no cycle is in that year yet" in ended.err
    assert "--id 2028-29; nothing was written" in ended.err
    assert all_files(content) == before
    assert type_in("next", "year", "--id", "2028-29").code == 0
    assert data_of(content / "years/2028-29.yaml")["first_day"] == "Mon 2028-08-21"


def test_a_year_with_a_cycle_is_followed_by_the_next(type_in: TypeIn, content: Path) -> None:
    assert type_in("next", "year").code == 0
    assert type_in("next", "cycle", "--starts", "Mon 2027-09-13").code == 0
    assert type_in("next", "year").code == 0
    assert (content / "years/2028-29.yaml").exists()


def test_the_calendar_of_another_year_is_refused(type_in: TypeIn, content: Path) -> None:
    """That of 2026-27, which has the next year's first days in it."""
    days = (day("No School", f"2026{on}") for on in ("0907", "1012", "1111"))
    (content.parent / "x.ics").write_text(wrapped(*days, day("First Day of School", "20270825")))
    before = all_files(content)
    ended = type_in("next", "year", "--school-days", "x.ics")
    assert (ended.code, ended.out) == (2, "")
    assert "3 of the 4 entries of x.ics have other days" in ended.err
    assert all_files(content) == before
    # One with the days of several years has this one's too.
    days = (day("No School", f"{year}1111") for year in (2025, 2026, 2027, 2028))
    (content.parent / "x.ics").write_text(wrapped(*days))
    assert type_in("next", "year", "--school-days", "x.ics").code == 0


def test_a_remark_taken_for_an_entry_is_asked_about(type_in: TypeIn, content: Path) -> None:
    titles = ("Veterans Day Assembly", "Quarter ends - half day", "Spring Break begins")
    labels = (day("A Day", "20270913"), day("B Day", "20270913"))
    text = wrapped(*(day(title, f"2027091{on}") for on, title in enumerate(titles, 3)), *labels)
    (content.parent / "x.ics").write_text(text)
    ended = type_in("next", "year", "--school-days", "x.ics")
    marks = (content / NEW).read_text().count("# TO DO")
    assert f"look for the {marks} lines with `TO DO`" in " ".join(ended.out.split())
    asked = '# - name: "B Day"\n  #   date: Mon 2027-09-13\n  #   label: "B"\n'
    assert asked in (content / NEW).read_text()
    (content / NEW).write_text((content / NEW).read_text().replace(asked, ""))
    remarks = re.sub(r"(?m)^  # (- name|  (?:date|bells):)", r"  \1", (content / NEW).read_text())
    (content / NEW).write_text(remarks)
    new = data_of(content / NEW)
    assert [one["name"] for one in new["closures"]] == ["Spring Break begins"]
    bells = {one["name"]: one.get("bells") for one in new["altered"]}
    assert [bells[title] for title in titles[:2]] == ["to-do", "to-do"]
    assert [one.code for one in load_problems(content).problems] == ["unknown-bells"]


def test_of_very_many_entries_the_file_has_them_all(type_in: TypeIn, content: Path) -> None:
    text = wrapped(*(day(f"Club {one}", "20270910") for one in range(45)))
    (content.parent / "x.ics").write_text(text)
    ended = type_in("next", "year", "--school-days", "x.ics")
    assert "  and 5 more, listed at the end of the file\n" in ended.out
    assert ended.out.count('"Club ') == 40
    assert (content / NEW).read_text().count('"Club ') == 45


def test_a_day_that_came_as_news_says_nothing_of_the_next_year(
    type_in: TypeIn, content: Path
) -> None:
    path = content / "years/2026-27.yaml"
    news = "closures:\n  - {name: Snow day, date: Thu 2027-01-14, told: Thu 2027-01-14}\n"
    path.write_text(path.read_text().replace("closures:\n", news))
    entries = (day("Snow Day", "20280113"), day("First Day of School", "20270819"))
    (content.parent / "x.ics").write_text(wrapped(*entries))
    ended = type_in("next", "year", "--school-days", "x.ics")
    assert ended.code == 0
    # A meeting from last year's first day on is from this year's on, though that is earlier.
    assert data_of(content / NEW)["meetings"][2]["from"] == "Thu 2027-08-19"
    assert '"Snow Day"' in ended.out.split("Not understood")[1]
    assert "Snow day" not in ended.out
    (content / NEW).unlink()
    assert type_in("next", "year").code == 0
    assert "Snow day" not in (content / NEW).read_text()


def test_titles_may_hold_anything(type_in: TypeIn, content: Path) -> None:
    """What would break a content file, or leave its remark, is written so that it does not."""
    odd = ["\"'\\\\ #: {Bb} - No School", "No School &#10; x: y", "&shy;No School %TAG", "??"]
    text = wrapped(*(day(title, f"2027090{on}") for on, title in enumerate(odd, 1)))
    (content.parent / "x.ics").write_text(text)
    ended = type_in("next", "year", "--school-days", "x.ics")
    assert ended.code == 0, ended.err
    assert len(data_of(content / NEW)["closures"]) == 3
    assert load_problems(content).problems == ()


def test_the_demos_next_year_checks(type_in: TypeIn, tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "content")
    (tmp_path / "x.ics").write_text(
        wrapped(day("NO SCHOOL: labor day", "20270906"), day("Fall Assembly", "20271001"))
    )
    said = type_in("next", "year").err
    told = re.findall(r"(?:warning|error) ([a-z-]+): .* have no `(\w+)`", said)
    assert said.startswith("handbook: the content folder is content\n")
    assert {*told} <= {("missing-translation", "vi"), ("missing-translation", "ar")}
    text = (tmp_path / "content" / NEW).read_text()
    assert '# - name: {en: "Winter break", es: "Vacaciones de invierno", ' in text
    (tmp_path / "content" / NEW).unlink()
    # Names that last year had come with their translations, and with its bells.
    ended = type_in("next", "year", "--school-days", "x.ics")
    new = data_of(tmp_path / "content" / NEW)
    last = data_of(tmp_path / "content" / "years/2026-27.yaml")
    names = {row["name"]["en"]: row["name"] for row in (*last["closures"], *last["altered"])}
    assert names["Labor Day"]["es"] == "Día del Trabajo"
    assert new["closures"] == [{"name": names["Labor Day"], "date": "Mon 2027-09-06"}]
    assert "(the bells assembly)" in ended.out
    assert new["altered"] == [
        {
            "name": names["Fall assembly"],
            "date": "Fri 2027-10-01",
            "bells": "assembly",
        }
    ]


def test_each_field_of_a_year_is_carried_or_not_by_decision() -> None:
    """A new field must be put among one or the other, or be written anew."""
    anew = {"name", "first_day", "last_day"}
    assert set(Year.model_fields) == year.CARRIED | set(year.DATED) | anew
