"""Stickings and rudiments: common practice, no source."""

from __future__ import annotations

import pytest

from handbook.domain.rudiments import (
    Hand,
    Stroke,
    alternates_lead,
    longest_run,
    parse_sticking,
    recognised,
    rudiment,
)
from handbook.domain.tables.rudiments import RUDIMENTS, Rudiment
from handbook.domain.values.unreadable import UnreadableError

# Widely printed stickings; spaces are ours.
PRINTED = [
    ("single stroke roll", "RLRL"),
    ("double stroke roll", "RRLL"),
    ("single paradiddle", "RLRR LRLL"),
    ("double paradiddle", "RLRLRR LRLRLL"),
    ("triple paradiddle", "RLRLRLRR LRLRLRLL"),
    ("paradiddle-diddle", "RLRRLL"),
    ("flam", "lR rL"),
    ("drag", "llR rrL"),
    ("five-stroke roll", "RRLLR LLRRL"),
    ("nine-stroke roll", "RRLLRRLLR LLRRLLRRL"),
    ("six-stroke roll", "RLLRRL"),
    ("ten-stroke roll", "RRLLRRLLRL"),
    ("lesson 25", "llR L R"),
]


@pytest.mark.parametrize(("name", "sticking"), PRINTED)
def test_printed_stickings(name: str, sticking: str) -> None:
    assert rudiment(name).sticking == sticking


def test_the_usual_list_has_forty() -> None:
    assert len(RUDIMENTS) == len({row.id for row in RUDIMENTS}) == 40


@pytest.mark.parametrize("row", RUDIMENTS, ids=lambda row: str(row.id))
def test_rows_are_sound(row: Rudiment) -> None:
    strokes = parse_sticking(row.sticking)
    assert row in recognised(strokes)
    assert row in recognised(parse_sticking(row.left))
    assert rudiment(row.id) is rudiment(row.name) is row
    assert longest_run(parse_sticking(row.right)) <= 3


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
        ("RLRR LRLL", ["Single paradiddle"]),
        ("LRLL RLRR", ["Single paradiddle"]),
        ("RLRR", ["Single paradiddle"]),
        ("RLRL", ["Single stroke roll", "Single stroke four"]),
        ("RRLR", []),
        ("lR R", ["Flam tap"]),
    ],
)
def test_sticking_is_recognised(sticking: str, names: list[str]) -> None:
    assert [row.name for row in recognised(parse_sticking(sticking))] == names


def test_unknown_rudiment_offers_the_nearest() -> None:
    with pytest.raises(UnreadableError, match="is no rudiment that is known here") as refused:
        rudiment("paradidle")
    assert "Single paradiddle" in refused.value.suggestions


@pytest.mark.parametrize(
    ("sticking", "run"), [("RLRL", 1), ("RRLL", 2), ("RRRLLL", 3), ("RLRR", 2)]
)
def test_longest_run_of_one_hand(sticking: str, run: int) -> None:
    assert longest_run(parse_sticking(sticking)) == run


@pytest.mark.parametrize(
    ("sticking", "alternates"),
    [
        ("RLRR LRLL", True),
        ("RLRR RLRR", False),
        ("lR rL", True),
        ("lR L", False),
        ("RLR", False),
        ("RRLLR LLRRL", True),
    ],
)
def test_lead_changes_hands(sticking: str, alternates: bool) -> None:
    assert alternates_lead(parse_sticking(sticking)) is alternates
