"""An editor must take every spelling that the models take, and refuse what they refuse.

The grids below hold each kind's spellings in all combinations; the models' own readers,
tested against their sources elsewhere, say which are right.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from itertools import product

import pytest
from pydantic import BaseModel, ValidationError

from handbook.schema.scalars import patterns
from handbook.schema.scalars.fields import (
    Clock,
    Day,
    KeyName,
    Marks,
    Measures,
    MeterMark,
    Moment,
    OrderEntry,
    PartTempo,
    TempoMark,
    Weekday,
)


class Holder(BaseModel):
    day: Day | None = None
    weekday: Weekday | None = None
    clock: Clock | None = None
    moment: Moment | None = None
    tempo: TempoMark | None = None
    meter: MeterMark | None = None
    measures: Measures | None = None
    key: KeyName | None = None
    marks: Marks | None = None
    order: OrderEntry | None = None
    part_tempo: PartTempo | None = None


def joined(*choices: Iterable[str]) -> list[str]:
    return ["".join(parts) for parts in product(*choices)]


GRIDS: dict[str, tuple[str, list[str]]] = {
    # 2026-12-10 is a Thursday; a wrong weekday needs reckoning and is no matter of spelling.
    "day": (
        patterns.DATE,
        joined(["", "Thu ", "thurs. ", "THURSDAY, ", "Thur  ", "Donnerstag "], ["2026-12-10", "1899-12-10", "26-12-10", "2026-12-1", "2026-00-10", "2026-12-32", "2026/12/10"]),
    ),
    "weekday": (
        patterns.WEEKDAY,
        joined(["mon", "Tue", "tues", "WED", "weds", "thur", "Thurs", "fri", "saturday", "Sun", "sunda", "mo", "m"], ["", ".", "s"]),
    ),
    "clock": (
        patterns.CLOCK,
        [*joined(["0", "1", "01", "6", "12", "13", "18", "24"], ["", ":00", ":05", ":5", ":60"], ["", " am", "pm", " P.M.", " a. m.", " xm"]), "noon", "NOON", "midnight", "half six"],
    ),
    "moment": (
        patterns.MOMENT,
        joined(["", "2026-12-10", "Thu 2026-12-10", "Thu, 2026-12-10", "12/10"], ["", " ", ", ", " at ", " AT ", ","], ["2 pm", "14:00", "noon", "2:00", "2"]),
    ),
    "tempo": (
        patterns.TEMPO,
        joined(["", "quarter", "Dotted Half", "dotted-eighth", "half note", "♩", "♩.", "𝅗𝅥.", "crotchet", "dotted"], ["=", " = ", " "], ["9", "10", "96", "096", "96.5", "400", "401", "1000", "fast"], ["", " bpm", "BPM"]),
    ),
    "meter": (
        patterns.METER,
        ["C", "c", "cut", "Common", "C|", "¢", "alla breve", "D", *joined(["0", "1", "4", "06", "12", "64", "65"], ["/", " / ", "-"], ["1", "2", "3", "4", "8", "16", "32"]), "7/8 (2+2+3)", "7/8(3 + 4)", "2+2+3/8", "(2+3)/4", "7/8 ()", "7/8 (7)", "2+/8"],
    ),
    "measures": (
        patterns.MEASURES,
        joined(["", "m. ", "mm.", "Bars ", "measure ", "page "], ["1", "16", "0", "00", "016", "99999"], ["", "-20", " – 20", " to 20", " through 20", " until 20", "-0", "-"]),
    ),
    "part_tempo": (
        patterns.PART_TEMPO,
        [
            *joined(["", "quarter = ", "Dotted Half=", "♩. = ", "dotted = "], ["72", "072", "9", "72.5"], ["", "-80", " – 80", " to 080 bpm", " TO 400", "-401", "-", " bpm"]),
            *joined(["free", "FREELY", "rubato"], ["", ",", ", about", " about ", ", about "], ["", "quarter = 60", "half note=40 bpm", "60"]),
        ],
    ),
    "order": (
        patterns.ORDER,
        [
            *joined(["verse", "first-ending", "Verse", "fine", "repeat verse"], ["", " x2", " X 20", " × 3", "x2", " x0", " x21", " times 2"]),
            *joined(["D.C.", "dc", "D. S.", "d.s", "Da Capo", "dal segno", "d.f."], ["", " al Fine", " AL CODA", " al coda.", " to coda", " fine"]),
            *["Fine", "FINE.", "To Coda", "to  coda", "al Coda", "Coda"],
        ],
    ),
    "key": (
        patterns.KEY,
        joined(["", "concert ", "in "], ["C", "bb", "B-flat", "B flat", "F#", "F sharp", "F♯", "C natural", "H", "D double flat"], [" ", "-"], ["major", "Minor", "maj", "dorian", "m", "flat", ""], ["", " key"]),
    ),
    "marks": (patterns.MARKS, joined(["traditional", "EXACT", "every ", "every  ", "each "], ["", "0", "1", "04", "20", "21"])),
}  # fmt: skip

# A signature of more than seven accidentals needs reckoning, like a date that does not exist.
BEYOND_SPELLING: Callable[[str], bool] = re.compile(r"(?i).*double flat").match  # type: ignore[assignment]


def is_read(field: str, text: str) -> bool:
    try:
        Holder.model_validate({field: text})
    except ValidationError:
        return False
    return True


@pytest.mark.parametrize("field", GRIDS)
def test_patterns_and_readers_agree_on_every_spelling(field: str) -> None:
    pattern, texts = GRIDS[field]
    compiled = re.compile(pattern)
    differing = [
        text
        for text in texts
        if text.strip()
        and not BEYOND_SPELLING(text)
        and is_read(field, text) != bool(compiled.search(text))
    ]
    assert differing == []


@pytest.mark.parametrize("field", GRIDS)
def test_each_grid_holds_good_and_bad_spellings(field: str) -> None:
    assert {is_read(field, text) for text in GRIDS[field][1]} == {True, False}
