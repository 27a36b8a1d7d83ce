"""What is to be called on the day can be dialed.

Numbers: those kept for examples in North America (555-01xx) and in the United Kingdom
(020 7946 0xxx); at most 15 digits by ITU-T E.164, an extension apart. What people write in
place of a number is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import CONCERT, checked

DOWNBEAT = "downbeat: 7:00 pm"
HINT = "write all of its digits, such as 555-0142 or (555) 555-0142"


def concert_with(folder: Path, phone: str) -> list[str]:
    whom = f"{DOWNBEAT}\non_the_day: {{role: The lead parent, phone: {phone}}}"
    return checked(folder, (CONCERT, DOWNBEAT, whom))


@pytest.mark.parametrize(
    "phone",
    [
        "555-0142", "(555) 555-0142", "+1 555 555 0142", "555.555.0142", "5555550142",
        "+44 20 7946 0018", "555-0142 ext. 14", "555-0142 x14", '"555-0142 #14"',
    ],
)  # fmt: skip
def test_a_number_is_taken_as_people_write_it(tmp_path: Path, phone: str) -> None:
    assert concert_with(tmp_path, phone) == []


@pytest.mark.parametrize(
    "phone",
    [
        "ask at the office", "ext. 14", "911", "555-01", "555-0142 or 555-0143",
        "lead parent 555-0142", "+1 555 555 0142 555 555 0142", "band@school.example",
    ],
)  # fmt: skip
def test_what_nobody_can_dial_is_told(tmp_path: Path, phone: str) -> None:
    assert concert_with(tmp_path, phone) == [
        f"{CONCERT}:4:44 unreadable-phone: `{phone}` is no telephone number | {HINT}"
    ]


def test_that_of_an_event_and_of_one_of_its_dates_is_looked_at(tmp_path: Path) -> None:
    events = """events:
  - id: parade
    name: Parade
    on_the_day: {role: The lead parent, phone: none}
    on:
      - {date: Sat 2026-11-28, on_the_day: {role: The lead parent, phone: 555-01}}
"""
    told = checked(tmp_path, ("events.yaml", "", events))
    assert [line.partition(" |")[0] for line in told] == [
        "events.yaml:4:48 unreadable-phone: `none` is no telephone number",
        "events.yaml:6:75 unreadable-phone: `555-01` is no telephone number",
    ]


def test_a_deadline_has_nobody_to_call(tmp_path: Path) -> None:
    events = """events:
  - {id: forms, name: Forms, due: Tue 2026-12-01, on_the_day: {role: The office, phone: 555-0142}}
"""
    (told,) = checked(tmp_path, ("events.yaml", "", events))
    assert "deadline-with-times: this is a deadline, which has no `on_the_day`" in told
