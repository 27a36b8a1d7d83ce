"""Stickings (common practice, no source) and the rudiments of the published list."""

from __future__ import annotations

import pytest

from handbook.domain.rudiments import Hand, Stroke, parse_sticking, rudiment
from handbook.domain.tables.rudiments import RUDIMENTS, Rudiment
from handbook.domain.values.unreadable import UnreadableError
from tests.oracles.rudiments import longest_run, recognised

# Percussive Arts Society, International Drum Rudiments: the list of forty (1984), by its own
# order and names. The sheet itself could not be read; each row was compared with two public
# transcriptions of it. Where those differ (2, 34, 35) the row is from memory of the sheet;
# that Lesson 25 does not change hands is also what drum teachers print (40drumrudiments.com).
# Each row: name: led by the right hand | led by the left; `alternates` if the hands change
# when it is repeated.
PUBLISHED = """
Single Stroke Roll: R L R L | L R L R
Single Stroke Four: R L R L | L R L R
Single Stroke Seven: R L R L R L R | L R L R L R L alternates
Multiple Bounce Roll: Rz Lz | Lz Rz
Triple Stroke Roll: R R R L L L | L L L R R R
Double Stroke Open Roll: R R L L | L L R R
Five Stroke Roll: R R L L R | L L R R L alternates
Six Stroke Roll: R L L R R L | L R R L L R
Seven Stroke Roll: R R L L R R L | L L R R L L R
Nine Stroke Roll: R R L L R R L L R | L L R R L L R R L alternates
Ten Stroke Roll: R R L L R R L L R L | L L R R L L R R L R
Eleven Stroke Roll: R R L L R R L L R R L | L L R R L L R R L L R
Thirteen Stroke Roll: R R L L R R L L R R L L R | L L R R L L R R L L R R L alternates
Fifteen Stroke Roll: R R L L R R L L R R L L R R L | L L R R L L R R L L R R L L R
Seventeen Stroke Roll: R R L L R R L L R R L L R R L L R | L L R R L L R R L L R R L L R R L alternates
Single Paradiddle: R L R R | L R L L alternates
Double Paradiddle: R L R L R R | L R L R L L alternates
Triple Paradiddle: R L R L R L R R | L R L R L R L L alternates
Single Paradiddle-Diddle: R L R R L L | L R L L R R
Flam: lR | rL alternates
Flam Accent: lR L R | rL R L alternates
Flam Tap: lR R | rL L alternates
Flamacue: lR L R L lR | rL R L R rL alternates
Flam Paradiddle: lR L R R | rL R L L alternates
Single Flammed Mill: lR R L R | rL L R L alternates
Flam Paradiddle-Diddle: lR L R R L L | rL R L L R R alternates
Pataflafla: lR L R rL | rL R L lR
Swiss Army Triplet: lR R L | rL L R
Inverted Flam Tap: lR L | rL R alternates
Flam Drag: lR L L R | rL R R L alternates
Drag: llR | rrL alternates
Single Drag Tap: llR L | rrL R alternates
Double Drag Tap: llR llR L | rrL rrL R alternates
Lesson 25: llR L R | rrL R L
Single Dragadiddle: R R L R R | L L R L L alternates
Drag Paradiddle #1: R llR L R R | L rrL R L L alternates
Drag Paradiddle #2: R llR llR L R R | L rrL rrL R L L alternates
Single Ratamacue: llR L R L | rrL R L R alternates
Double Ratamacue: llR llR L R L | rrL rrL R L R alternates
Triple Ratamacue: llR llR llR L R L | rrL rrL rrL R L R alternates
"""


def published() -> dict[str, tuple[list[str], list[str], bool]]:
    """Give each name its strokes led by the right hand and by the left, and if they alternate."""
    rows = {}
    for line in PUBLISHED.strip().splitlines():
        name, strokes = line.split(": ")
        right, left = strokes.removesuffix(" alternates").split(" | ")
        rows[name] = right.split(), left.split(), strokes.endswith("alternates")
    return rows


def test_the_list_has_its_forty_names_in_their_order() -> None:
    assert [row.name for row in RUDIMENTS] == list(published())
    assert len(RUDIMENTS) == len({row.id for row in RUDIMENTS}) == 40


@pytest.mark.parametrize("name", published())
def test_every_stroke_is_that_of_the_list(name: str) -> None:
    right, left, alternates = published()[name]
    row = rudiment(name)
    assert [str(stroke) for stroke in parse_sticking(row.right)] == right
    assert [str(stroke) for stroke in parse_sticking(row.left)] == left
    assert row.alternates is alternates
    cycle = [*right, *left] if alternates else right
    assert [str(stroke) for stroke in parse_sticking(row.sticking)] == cycle


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("paradiddle", "Single Paradiddle"),
        ("5 stroke roll", "Five Stroke Roll"),
        ("buzz roll", "Multiple Bounce Roll"),
        ("drag paradiddle 2", "Drag Paradiddle #2"),  # unquoted, ` #2` would be a comment
        ("Single paradiddle-diddle", "Single Paradiddle-Diddle"),
    ],
)
def test_a_rudiment_is_found_as_it_may_be_typed(typed: str, name: str) -> None:
    assert rudiment(typed).name == name
    assert rudiment(rudiment(typed).typed).name == name


@pytest.mark.parametrize(
    ("name", "strokes", "alternates"),
    [
        ("single-paradiddle", 4, True),
        ("double-paradiddle", 6, True),
        ("triple-paradiddle", 8, True),
        ("paradiddle-diddle", 6, False),  # keeps its lead hand
    ],
)
def test_paradiddles_by_length_and_lead(name: str, strokes: int, alternates: bool) -> None:
    row = rudiment(name)
    assert len(parse_sticking(row.right)) == strokes
    assert row.alternates is alternates


@pytest.mark.parametrize("strokes", [5, 7, 9, 11, 13, 15, 17])
def test_roll_of_doubles_ends_on_a_single_so_is_odd(strokes: int) -> None:
    names = {5: "five", 7: "seven", 9: "nine", 11: "eleven", 13: "thirteen", 15: "fifteen"}
    row = rudiment(f"{names.get(strokes, 'seventeen')} stroke roll")
    assert row is rudiment(f"{strokes} stroke roll")
    hands = [stroke.hand for stroke in parse_sticking(row.right)]
    assert len(hands) == strokes
    pairs, last = hands[:-1], hands[-1]
    assert all(pairs[i] is pairs[i + 1] for i in range(0, strokes - 1, 2))
    assert last is pairs[-1].other
    assert row.alternates is (last is Hand.RIGHT)  # the hand just used does not lead next


def test_six_and_ten_stroke_rolls_are_the_even_ones() -> None:
    six = [s.hand.value for s in parse_sticking(rudiment("6 stroke roll").right)]
    assert six[0] != six[1] == six[2] != six[3] == six[4] != six[5]
    ten = "".join(s.hand for s in parse_sticking(rudiment("10 stroke roll").right))
    assert ten[-2:] == "RL"
    assert ten[:8] == "RRLL" * 2


@pytest.mark.parametrize(
    ("text", "strokes"),
    [
        ("RL", (Stroke(Hand.RIGHT), Stroke(Hand.LEFT))),
        ("lR", (Stroke(Hand.RIGHT, 1),)),
        ("rrL R", (Stroke(Hand.LEFT, 2), Stroke(Hand.RIGHT))),
        ("RzLz", (Stroke(Hand.RIGHT, buzz=True), Stroke(Hand.LEFT, buzz=True))),
    ],
)
def test_sticking_is_read(text: str, strokes: tuple[Stroke, ...]) -> None:
    assert parse_sticking(text) == strokes
    assert "".join(map(str, strokes)) == text.replace(" ", "")


@pytest.mark.parametrize(
    ("text", "message", "suggestion"),
    [
        ("RLXR", "`RLXR` is no sticking", "RLRR LRLL"),
        ("", "`` is no sticking", "RLRR LRLL"),
        ("RLl", "`RLl` is no sticking", "RLRR LRLL"),
        ("rR", "the grace notes of `rR` are not all in the other hand", "lR"),
        ("rlR", "the grace notes of `rlR` are not all in the other hand", "llR"),
        ("R lllR", "`lllR` has 3 grace notes, but a drag has 2", "llR"),
    ],
)
def test_sticking_that_cannot_be_is_refused(text: str, message: str, suggestion: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_sticking(text)
    assert refused.value.message == message
    assert refused.value.suggestions[0] == suggestion
    assert parse_sticking(suggestion)


@pytest.mark.parametrize(
    ("sticking", "names"),
    [
        ("RLRR LRLL", ["Single Paradiddle"]),
        ("LRLL RLRR", ["Single Paradiddle"]),
        ("RLRR", ["Single Paradiddle"]),
        ("RLRL", ["Single Stroke Roll", "Single Stroke Four"]),
        ("RRLR", []),
        ("lR R", ["Flam Tap"]),
    ],
)
def test_sticking_is_recognised(sticking: str, names: list[str]) -> None:
    assert [row.name for row in recognised(parse_sticking(sticking))] == names


def test_unknown_rudiment_offers_the_nearest() -> None:
    with pytest.raises(UnreadableError, match="is no rudiment that is known here") as refused:
        rudiment("paradidle")
    assert "Single Paradiddle" in refused.value.suggestions


@pytest.mark.parametrize("row", RUDIMENTS, ids=lambda row: str(row.id))
def test_rows_are_sound(row: Rudiment) -> None:
    strokes = parse_sticking(row.sticking)
    assert row in recognised(strokes)
    assert row in recognised(parse_sticking(row.left))
    assert rudiment(row.id) is rudiment(row.name) is row
    assert longest_run(parse_sticking(row.right)) <= 3
