"""Changes in sentences; those of several rehearsals were written by hand from a snow day with A and B days."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from handbook.domain.facts import Fact, FactChange, Topic, compare
from handbook.outputs.facts.telling import change_words, dates_in_words, told_together

NAMES = {"beacon": "Beacon Band", "harbor": "Harbor Band"}
HOURS = "1:58–2:45 pm"


def rehearsal(month: int, day: int, hours: str = HOURS, band: str = "beacon") -> Fact:
    on = date(2026, month, day)
    about = f"{NAMES[band]}, rehearsal on {on:%a, %b} {on.day}"
    return Fact(f"winter/{band}/rehearsal/{on}", (band,), Topic.DAY, about, hours, on)


def gone(*facts: Fact) -> list[FactChange]:
    return [FactChange(fact, None) for fact in facts]


def new(*facts: Fact) -> list[FactChange]:
    return [FactChange(None, fact) for fact in facts]


def sentences(changes: list[FactChange], *, headed: bool = False) -> list[str]:
    return [one.sentence for one in told_together(changes, NAMES, headed=headed)]


@pytest.mark.parametrize(
    ("days", "words"),
    [
        ([(12, 7)], "Dec 7"),
        ([(12, 7), (12, 9)], "Dec 7 and 9"),
        ([(12, 9), (11, 30), (12, 7)], "Nov 30, Dec 7 and 9"),
    ],
)
def test_each_month_is_said_once(days: list[tuple[int, int]], words: str) -> None:
    assert dates_in_words([date(2026, *day) for day in days]) == words


def test_a_year_later_a_month_is_another_one() -> None:
    assert dates_in_words([date(2026, 12, 7), date(2027, 12, 8)]) == "Dec 7 and Dec 8"


def test_rehearsals_of_a_band_are_told_in_a_sentence_each_way() -> None:
    """In the place of the first; those at another hour, of another band, or one alone, by themselves."""
    changes = [
        *gone(rehearsal(12, 4)),
        *new(rehearsal(12, 7)),
        *gone(rehearsal(12, 8), rehearsal(12, 10, "9:00–9:40 am")),
        *new(rehearsal(12, 9), rehearsal(12, 11, "9:00–9:40 am")),
        *gone(rehearsal(12, 8, band="harbor")),
    ]
    assert sentences(changes) == [
        "No longer: Beacon Band, rehearsals on Dec 4, 8 and 10",
        f"New: Beacon Band, rehearsals on Dec 7 and 9: {HOURS}",
        "New: Beacon Band, rehearsal on Fri, Dec 11: 9:00–9:40 am",
        f"No longer: Harbor Band, rehearsal on Tue, Dec 8: {HOURS}",
    ]
    assert [len(one.changes) for one in told_together(changes, NAMES)] == [3, 2, 1, 1]
    assert sentences(changes, headed=True) == [
        "No longer: rehearsals on Dec 4, 8 and 10",
        f"New: rehearsals on Dec 7 and 9: {HOURS}",
        "New: rehearsal on Fri, Dec 11: 9:00–9:40 am",
        f"No longer: rehearsal on Tue, Dec 8: {HOURS}",
    ]


def test_several_on_a_day_are_told_by_their_hours() -> None:
    evening = replace(
        rehearsal(12, 8, "6:00–7:00 pm"), key="winter/beacon/rehearsal/2026-12-08-extra"
    )
    assert sentences(gone(rehearsal(12, 4), rehearsal(12, 8), evening)) == [
        f"No longer: Beacon Band, rehearsals on Dec 4 and 8 ({HOURS} and 6:00–7:00 pm)"
    ]


def test_what_is_altered_stays_a_sentence_of_its_own() -> None:
    before, after = rehearsal(12, 4), rehearsal(12, 4, "9:00–9:40 am")
    room = Fact(f"{before.key}/room", ("beacon",), Topic.PLACE, f"{before.about}, room", "Gym")
    changes = [FactChange(before, after), *new(room), *new(rehearsal(12, 7))]
    assert sentences(changes, headed=True) == [
        f"Rehearsal on Fri, Dec 4: now 9:00–9:40 am, before {HOURS}",
        "New: rehearsal on Fri, Dec 4, room: Gym",
        f"New: rehearsal on Mon, Dec 7: {HOURS}",
    ]
    assert sentences(changes)[0].startswith("Beacon Band, rehearsal on Fri, Dec 4: now")


def test_what_is_for_everyone_keeps_its_words() -> None:
    closed = Fact(
        "school/2026-27/closed/2026-12-07", (), Topic.DAY, "Mon, Dec 7", "No school: Snow"
    )
    assert sentences(new(closed), headed=True) == ["New: Mon, Dec 7: No school: Snow"]


def test_sentences_say_what_was_and_what_is() -> None:
    day = date(2026, 11, 30)
    old = Fact("w/r", ("lantern",), Topic.DAY, "Lantern Band, Mon, Nov 30", "10:05–10:50 am", day)
    new = Fact("w/r", ("lantern",), Topic.DAY, "Lantern Band, Mon, Nov 30", "9:20–9:50 am", day)
    (changed,), (added,), (gone,) = compare([old], [new]), compare([], [new]), compare([old], [])
    assert (
        change_words(changed)
        == "Lantern Band, Mon, Nov 30: now 9:20–9:50 am, before 10:05–10:50 am"
    )
    assert change_words(added) == "New: Lantern Band, Mon, Nov 30: 9:20–9:50 am"
    assert change_words(gone) == "No longer: Lantern Band, Mon, Nov 30: 10:05–10:50 am"


def test_sentences_of_what_is_moved_cancelled_and_on_again() -> None:
    was, now = date(2026, 12, 3), date(2026, 12, 5)
    old = Fact("w/r", ("lantern",), Topic.DAY, "Lantern Band on Thu, Dec 3", "10:05 am", was)
    new = Fact("w/r", ("lantern",), Topic.DAY, "Lantern Band on Sat, Dec 5", "10:05 am", now)
    off = Fact(
        "w/r", ("lantern",), Topic.DAY, "Lantern Band", "cancelled: Ice", now, cancelled=True
    )
    (moved,), (called_off,), (on,) = (
        compare([old], [new]),
        compare([old], [off]),
        compare([off], [new]),
    )
    assert change_words(moved) == "Lantern Band on Sat, Dec 5: now 10:05 am, moved from Thu, Dec 3"
    assert change_words(called_off) == "Lantern Band on Thu, Dec 3: cancelled: Ice; it was 10:05 am"
    assert change_words(on) == "On again: Lantern Band on Sat, Dec 5: 10:05 am"


def test_sentences_run_on_without_a_full_stop_and_tell_of_other_readers() -> None:
    old = Fact("c", ("lantern",), Topic.THINGS, "Concert, wear", "White shirt.")
    new, off = replace(old, value="Black shirt."), replace(old, value="Ice.", cancelled=True)
    (changed,), (called_off,) = compare([old], [new]), compare([old], [off])
    assert change_words(changed) == "Concert, wear: now Black shirt, before White shirt"
    assert change_words(called_off) == "Concert, wear: Ice; it was White shirt."
    (other,) = compare([old], [replace(old, readers=("harbor",))])
    assert change_words(other) == "For other readers than before: Concert, wear: White shirt."
