"""Wherever a content file may name a thing, a wrong name is told, and so is one named twice.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

import re
from pathlib import Path

from tests.checks.checking import CONCERT, CYCLE, FUNDAMENTALS, MUSIC, PROGRAM, YEAR, checked

# Each wrong name is `no-<what it should be>-<number>`, and stands at one place alone.
MISNAMED = {
    PROGRAM: """\
        name: Quillhaven Bands
        school: Quillhaven Middle School
        time_zone: America/Chicago
        contact: {role: the band office}
        ensembles:
          - id: lantern
            name: Lantern Band
            room: no-room-1
            instruments: {flute: 6}
            shares_players_with: [no-ensemble-1]
            led_by: [no-role-of-the-staff-1]
            strands_start_at: {no-strand-1: 2}
        venues:
          - {id: hall, name: Great Hall, address: 12 Quill Street, stage: no-room-2}
        """,
    YEAR: """\
        first_day: Mon 2026-08-24
        last_day: Fri 2027-06-04
        day_labels: [A, B]
        bells:
          - {id: regular, periods: [{id: p3, start: 10:05, end: 10:50}]}
        altered:
          - {date: Fri 2026-10-02, name: Early release, bells: no-bell-schedule-1, label: no-day-label-1}
          - {from: Mon 2026-10-05, to: Thu 2026-10-08, name: Testing, labels: [A, no-day-label-3]}
        make_up:
          - {date: Sat 2026-10-10, name: Made up, like: Mon, bells: no-bell-schedule-2, label: no-day-label-4}
        new_players: [no-ensemble-2]
        meetings:
          - {ensemble: no-ensemble-3, weekdays: [Mon], period: p3, room: no-room-11, led_by: [no-role-of-the-staff-2]}
          - {ensemble: lantern, labels: [no-day-label-2], period: no-period-1}
        """,
    FUNDAMENTALS: """\
        order: [no-strand-2]
        strands:
          - id: tone
            name: Tone
            why: It is what people hear
            who: [no-instrument-1]
            home: [{who: [no-instrument-2], text: Play long tones}]
            exercises:
              - id: long-tones
                name: Long tones
                level: 1
                who: [no-instrument-3]
                how: [{who: [no-instrument-4], text: Breathe low}]
                media: no-file-1.mp3
        warm_ups:
          - {level: 1, name: First, steps: [Breathe], media: no-file-2.mp3}
        """,
    CYCLE: """\
        name: Winter cycle
        year: no-year-1
        starts: Mon 2026-10-19
        ensembles: [lantern, no-ensemble-4]
        stages:
          - id: build
            name: Build
            purpose: Join the passages
            tempo: 50-100
            minutes: {fundamentals: 1, music: 2}
            goals: [Play each passage in rhythm]
            home: [{who: [no-instrument-5], text: Hum it}]
            home_minutes: {lantern: 10, no-ensemble-19: 15}
        days:
          - ensemble: no-ensemble-5
            date: Mon 2026-10-26
          - ensemble: lantern
            date: Mon 2026-11-02
            room: no-room-12
            led_by: [no-role-of-the-staff-6]
            habit: no-habit-1
            run: [no-piece-1]
            passages: [no-passage-1]
            sections:
              reeds: {who: [no-instrument-6], room: no-room-3, led_by: [no-role-of-the-staff-3], passages: [no-passage-2]}
        extra:
          - {ensemble: no-ensemble-6, date: Tue 2026-11-03, start: 6:00 pm, end: 7:00 pm, name: Evening}
          - ensemble: lantern
            date: Tue 2026-11-10
            start: 6:00 pm
            end: 7:00 pm
            name: Evening
            room: no-room-4
            led_by: [no-role-of-the-staff-4]
            habit: no-habit-2
            run: [no-piece-2]
            passages: [no-passage-3]
            sections:
              reeds: {who: [no-instrument-7], room: no-room-5, led_by: [no-role-of-the-staff-5], passages: [no-passage-4]}
        cancelled:
          - {ensemble: no-ensemble-7, date: Mon 2026-11-16, why: Assembly}
        """,
    MUSIC: """\
        pieces:
          - id: button-comets
            title: Button Comets
            ensemble: lantern
            terms: [no-term-1]
            recording: no-file-3.mp3
            form: [{name: Whole, measures: 1-16, meter: 4/4, tempo: quarter = 96}]
            watch: [{text: Breathe, who: [no-instrument-8]}]
            rhythms: [{pattern: q q q q, who: [no-instrument-9]}]
            passages:
              - id: opening
                name: Opening
                measures: 1-16
                goal: quarter = 96
                lock_by: no-stage-1
                who: [no-instrument-10]
                home: [{who: [no-instrument-11], text: Play it slowly}]
                watch: [{text: Breathe, who: [no-instrument-12]}]
          - id: tweed-kites
            title: Tweed Kites
            ensemble: no-ensemble-8
            form: [{name: Whole, measures: 1-16, meter: 4/4, tempo: quarter = 96}]
            passages: [{id: round, name: The round, measures: 1-16, goal: quarter = 96}]
        """,
    CONCERT: """\
        name: Winter concert
        date: Thu 2026-12-10
        downbeat: 7:00 pm
        venue: no-venue-1
        program:
          - {ensemble: no-ensemble-9, joined_by: [no-ensemble-10], led_by: [no-role-of-the-staff-7], pieces: [no-piece-3]}
        not_playing: [{ensemble: no-ensemble-11, why: Away}]
        attire_for: {no-ensemble-12: [Black shoes]}
        bring_for: {no-ensemble-13: [A stand]}
        calls:
          - {ensemble: no-ensemble-14, room: no-room-6, led_by: [no-role-of-the-staff-8]}
          - {role: no-role-1}
        after:
          - {name: Photo, minutes: 5, ensembles: [no-ensemble-15], room: no-room-7}
        bookings:
          - {room: no-room-8, start: 4:00 pm, end: 5:00 pm, what: Supper, ensembles: [no-ensemble-16], who: no-role-3}
        travel:
          meet: The bus loop
          load: 10
          drive: 10
          rides: [{ensembles: [no-ensemble-17], buses: [{id: bus-1, seats: 50}]}]
        seating:
          extra: [{ensemble: no-ensemble-18, thing: riser, count: 2}]
        crew: [{id: stage-crew, name: Stage crew, ensemble: no-ensemble-20}]
        equipment:
          - {id: timpani, name: Timpani, from: no-room-9, to: no-room-10, who: no-role-2, carrier: no-carrier-1, then: [{to: no-room-13, who: no-role-4, carrier: no-carrier-2}]}
        care:
          lifts:
            - what: Into the truck
              equipment: no-equipment-1
              start: {reach: 15 in, height: 20 in}
              end: {reach: 15 in, height: 40 in}
              per_minute: 0.2
        """,
}
CODES = {
    "file": "media",
    "role-of-the-staff": "staff",
    "bell-schedule": "bells",
    "day-label": "label",
}

# Each thing that stands twice is `twice-<number>`.
TWICE = {
    PROGRAM: """\
        name: Quillhaven Bands
        school: Quillhaven Middle School
        time_zone: America/Chicago
        contact: {role: the band office}
        ensembles:
          - {id: twice-1, name: Lantern Band, led_by: [twice-30, twice-30]}
          - {id: twice-1, name: Harbor Band}
        staff:
          - {id: twice-31, name: the band director}
          - {id: twice-31, name: the assistant director}
          - {id: twice-30, name: the drum instructor}
        rooms:
          - {id: twice-2, name: Band room}
          - {id: twice-2, name: Small band room}
          - {id: twice-3, name: Stage}
        venues:
          - {id: twice-4, name: Great Hall, address: 12 Quill Street, rooms: [{id: twice-3, name: Stage}]}
          - {id: twice-4, name: Small Hall, address: 14 Quill Street}
        """,
    YEAR: """\
        first_day: Mon 2026-08-24
        last_day: Fri 2027-06-04
        bells:
          - {id: twice-5, periods: [{id: p3, start: 10:05, end: 10:50}]}
          - id: twice-5
            periods:
              - {id: twice-6, start: 10:05, end: 10:50}
              - {id: twice-6, start: 11:05, end: 11:50}
        meetings:
          - {ensemble: twice-1, weekdays: [Mon], period: p3}
        """,
    FUNDAMENTALS: """\
        order: [twice-7, twice-7]
        strands:
          - id: twice-8
            name: Tone
            why: It is what people hear
            who: [twice-9, twice-9]
            home: [{who: [twice-10, twice-10], text: Play long tones}]
            exercises: [{id: twice-11, name: Long tones, level: 1, who: [twice-12, twice-12]}]
          - id: twice-8
            name: Scales
            why: They lie under the fingers
            exercises:
              - id: twice-11
                name: Scale
                level: 1
                how: [{who: [twice-13, twice-13], text: Breathe low}]
        habits:
          - {id: twice-14, name: Posture, text: Sit tall}
          - {id: twice-14, name: Case, text: Close the case}
        warm_ups:
          - {level: 1, name: First, steps: [Breathe]}
        """,
    CYCLE: """\
        name: Winter cycle
        year: 2026-27
        starts: Mon 2026-10-19
        ensembles: [twice-1, twice-1]
        stages:
          - id: twice-15
            name: Build
            purpose: Join the passages
            tempo: 50-100
            minutes: {fundamentals: 1, music: 2}
            goals: [Play each passage in rhythm]
            home: [{who: [twice-16, twice-16], text: Hum it}]
          - id: twice-15
            name: Polish
            purpose: Play it
            tempo: 50-100
            minutes: {fundamentals: 1, music: 2}
            goals: [Play each passage in rhythm]
        days:
          - ensemble: twice-1
            date: Mon 2026-11-02
            sections: {reeds: {who: [twice-17, twice-17]}}
        """,
    MUSIC: """\
        pieces:
          - id: twice-18
            title: Button Comets
            ensemble: twice-1
            form: [{name: Whole, measures: 1-16, meter: 4/4, tempo: quarter = 96}]
            watch: [{text: Breathe, who: [twice-19, twice-19]}]
            rhythms: [{pattern: q q q q, who: [twice-20, twice-20]}]
            passages:
              - id: twice-21
                name: Opening
                measures: 1-8
                goal: quarter = 96
                who: [twice-22, twice-22]
                home: [{who: [twice-23, twice-23], text: Play it slowly}]
                watch: [{text: Breathe, who: [twice-24, twice-24]}]
              - {id: twice-21, name: End, measures: 9-16, goal: quarter = 96}
          - id: twice-18
            title: Tweed Kites
            ensemble: twice-1
            form: [{name: Whole, measures: 1-16, meter: 4/4, tempo: quarter = 96}]
            passages: [{id: round, name: The round, measures: 1-16, goal: quarter = 96}]
        """,
    CONCERT: """\
        name: Winter concert
        date: Thu 2026-12-10
        downbeat: 7:00 pm
        venue: twice-4
        program: [{ensemble: twice-1, pieces: [twice-18]}]
        travel:
          meet: The bus loop
          load: 10
          drive: 10
          rides:
            - {ensembles: [twice-1], buses: [{id: twice-25, seats: 50}]}
            - {ensembles: [other], buses: [{id: twice-25, seats: 50}]}
        carriers:
          - {id: twice-27, name: Cart}
          - {id: twice-27, name: Truck}
        equipment:
          - {id: twice-28, name: Timpani, from: twice-2, to: twice-3}
          - {id: twice-28, name: Chimes, from: twice-2, to: twice-3}
        crew:
          - {id: twice-26, name: Stage crew}
          - {id: twice-26, name: Truck crew}
        """,
}
IDS = {1, 2, 3, 4, 5, 6, 8, 11, 14, 15, 18, 21, 25, 26, 27, 28, 31}
LISTS = {1, 7, 9, 10, 12, 13, 16, 17, 19, 20, 22, 23, 24, 30}


def told_of(folder: Path, files: dict[str, str]) -> list[tuple[str, str]]:
    """Give each problem's code and the name that it quotes, which stands where it points."""
    texts = {name: dedented(text) for name, text in files.items()}
    found = []
    for line in checked(folder, *((name, "", text) for name, text in texts.items())):
        parts = re.match(r"(\S+):(\d+):(\d+) (?:warning )?([a-z-]+): .*?`([^`]+)`", line)
        if parts:
            file, row, column, code, name = parts.groups()
            found.append((code, name))
            if name.startswith(("no-", "twice-")):
                assert texts[file].splitlines()[int(row) - 1][int(column) - 1 :].startswith(name)
    return found


def dedented(text: str) -> str:
    return text.replace("\n        ", "\n").removeprefix("        ").rstrip(" ")


def test_a_wrong_name_is_told_wherever_it_stands(tmp_path: Path) -> None:
    names = re.findall(r"no-[a-z-]+-\d+(?:\.mp3)?", "".join(MISNAMED.values()))
    told = [one for one in told_of(tmp_path, MISNAMED) if one[0].startswith("unknown-")]
    assert sorted(told) == sorted((code_of(name), name) for name in names)


def code_of(name: str) -> str:
    what = name.removeprefix("no-").rpartition("-")[0]
    return f"unknown-{CODES.get(what, what)}"


def test_what_is_named_twice_is_told_wherever_it_stands(tmp_path: Path) -> None:
    told = told_of(tmp_path, TWICE)
    for code, numbers in (("duplicate-id", IDS), ("repeated-item", LISTS)):
        twice = [name for found, name in told if found == code]
        assert sorted(twice) == sorted(f"twice-{number}" for number in numbers)
