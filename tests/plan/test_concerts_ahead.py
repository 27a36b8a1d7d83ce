"""Which concerts come next after a cycle; dates by hand."""

from __future__ import annotations

from datetime import date, time

from handbook.domain.values.text import Text
from handbook.plan.concerts_ahead import soon
from handbook.schema.handbook import ConcertAhead


def concert(name: str, day: date, cycle: str = "other", hour: int = 19) -> ConcertAhead:
    return ConcertAhead(cycle, Text.plain(name), day, time(hour), "hall")


def test_the_next_three_of_other_cycles_are_told_in_order() -> None:
    last = date(2026, 12, 17)
    found = soon(
        [
            concert("May", date(2027, 5, 6)),
            concert("March, evening", date(2027, 3, 4)),
            concert("March, morning", date(2027, 3, 4), hour=10),
            concert("June", date(2027, 6, 3)),
            concert("own", date(2026, 12, 20), cycle="winter"),
            concert("fall", date(2026, 10, 22)),
            concert("the same day", last),
        ],
        "winter",
        last,
    )
    assert [str(one.name.read("en")) for one in found] == [
        "March, morning",
        "March, evening",
        "May",
    ]


def test_a_concert_far_ahead_is_not_told() -> None:
    assert soon([concert("next winter", date(2027, 12, 16))], "winter", date(2026, 12, 17)) == ()
