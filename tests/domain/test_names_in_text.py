"""Names of pieces and passages in sentences.

Common practice, no source: each sentence is one a director would write, and beside it
stands what a reader would say it names.
"""

from __future__ import annotations

import pytest

from handbook.domain.names_in_text import meters_in, names_in

NAMES = (
    "Night Train to Marrow Point",
    "What the Harbor Kept",
    "Ferry in First Snow",
    "Uneven wheel",
    "Uneven wheel again",
    "Spark (theme)",
    "Embers",
    "Opening",
    "Canción de cuna",
)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("Run Night Train to Marrow Point", ["Night Train to Marrow Point"]),
        ("Count the 7/8 in Night Train first", ["Night Train to Marrow Point"]),
        ("Night Train, then What the Harbor", ["Night Train to Marrow Point"]),
        ("Tell the night train story", []),
        ("Night Trains", []),
        ("what the harbor kept, softly", ["What the Harbor Kept"]),
        ("Remember what the day was like", []),
        ("Read Ferry once", []),
        ("Settle the UNEVEN  wheel", ["Uneven wheel"]),
        ("Join the uneven wheel again to the end", ["Uneven wheel again"]),
        ("Uneven wheels", []),
        ("Sing the Spark from memory", ["Spark (theme)"]),
        ("Every player is a spark", []),
        ("Tune Embers, then Opening", ["Embers", "Opening"]),
        ("The opening of each piece", []),
        ("Opening night is near. Embers glow", []),
        ("“Embers” at its goal", ["Embers"]),
        ("Cantar la CANCIÓN de cuna", ["Canción de cuna"]),
        ("Embers", []),
        ("", []),
    ],
)
def test_what_a_sentence_names(text: str, named: list[str]) -> None:
    assert list(names_in(text, NAMES)) == named


def test_names_come_once_and_in_the_order_of_the_sentence() -> None:
    text = "Join Uneven wheel to Embers, and Embers to uneven wheel"
    assert names_in(text, ("Embers", "Uneven wheel")) == ("Uneven wheel", "Embers")


@pytest.mark.parametrize(
    ("text", "meters"),
    [
        ("Count and clap the 7/8 before a note is played", ["7/8"]),
        ("From 6/8 into 2/4, and 6/8 again.", ["6/8", "2/4"]),
        ("Due on 11/13/2026 at 1,200.5/8", []),
        ("12/8", ["12/8"]),
        ("and/or", []),
    ],
)
def test_what_looks_like_a_meter(text: str, meters: list[str]) -> None:
    assert list(meters_in(text)) == meters


def test_a_name_of_nothing_but_an_aside_is_never_found() -> None:
    assert names_in("Play (twice) it", ["(twice)"]) == ()
