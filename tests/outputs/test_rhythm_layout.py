"""Rhythms as they are set: notes as far apart as they last, words and signs clear of each other.

Measured on the drawing. That spacing in proportion to time shows a beginner the beat is common
practice, no source.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from fractions import Fraction
from itertools import pairwise

import pytest

from handbook.domain.counting import counts
from handbook.domain.rhythm import placed
from handbook.domain.rhythm_notation import parse_rhythm
from handbook.domain.rudiments import parse_sticking
from handbook.domain.sticking import with_hands
from handbook.domain.tables.counting_systems import COUNTING_SYSTEMS
from handbook.domain.values.meter import parse_meter
from handbook.outputs.engraving.engraver import engraved
from handbook.outputs.engraving.flat_svg import FlatSvg
from handbook.outputs.engraving.rhythm_layout import (
    _BAR,
    _GRACE,
    _GRACES_APART,
    _LINE,
    _SIGNS,
    RhythmExample,
    _graces_width,
    _width,
    lines,
    quarter_width,
)

# SMuFL 1.4, tables "Noteheads", "Rests", "Time signatures", "Articulation".
HEADS_AND_RESTS = re.compile("E0A[234]|E4E[3-8]")
STACCATO_BELOW, TENUTO_BELOW, ACCENT_BELOW = "E4A3", "E4A5", "E4A1"
FIGURE_HALF_HEIGHT = 180  # a figure of a meter is two spaces high, 90 units each way a space
FULL_SIZE = 0.72
WIDTHS = {"E082": 318, "E083": 296, "E08D": 182}  # of 2, 3 and a small plus in the music font

RHYTHMS = [
    ("s s s s q -q q | s s s s s s s s h", "4/4", "numbers", ""),
    ("s s s s s s s s s s s s s s s s", "4/4", "numbers-ta-te", "RLRR LRLL"),
    ("q. e h | 3(e e e) q -h", "4/4", "numbers-trip-let", ""),
    ("s s s s q | e s s e -e | q q", "2/4", "ta-ti", ""),
    ("q q q q | q q q q", "4/4", "numbers", "lR rL R L"),
    ("e e q e. s h | q q q q", "5/4", "numbers", ""),
    ("pickup e | e e e q. | q. q", "6/8", "numbers-la-li", ""),
    ("e e e e e e e | q q e e e", "7/8 (2+2+3)", "numbers", ""),
    ("t t t t q e e | q. q", "5/8 (3+2)", "numbers", ""),
    ("q.. s h | -e e -e e e e -q", "4/4", "numbers", ""),
    ("w | h. q", "4/4", "ta-ti", ""),
]


def example(pattern: str, meter: str, system: str = "numbers", hands: str = "") -> RhythmExample:
    rhythm, beat = parse_rhythm(pattern), parse_meter(meter)
    laid = with_hands(rhythm, parse_sticking(hands)) if hands else rhythm
    return RhythmExample(laid, beat, counts(laid, beat, COUNTING_SYSTEMS[system]))


def signs(drawing: FlatSvg) -> list[tuple[str, int, int]]:
    """Give code point, x and y of every full-size sign, in the order of the drawing."""
    found = []
    for use in ET.fromstring(f"<svg>{drawing.shapes}</svg>").iter("use"):
        x, y, size = re.findall(r"-?\d*\.?\d+", use.get("transform", ""))
        if float(size) == FULL_SIZE:  # grace notes are smaller
            found.append((use.get("href", "").removeprefix("#m-"), int(x), int(y)))
    return found


def words(drawing: FlatSvg) -> list[tuple[str, int, int]]:
    root = ET.fromstring(f"<svg>{drawing.shapes}</svg>")
    return [
        (text.text or "", int(text.get("x", 0)), int(text.get("y", 0)))
        for text in root.iter("text")
    ]


@pytest.mark.parametrize(("pattern", "meter", "system", "hands"), RHYTHMS)
def test_notes_stand_as_far_apart_as_they_last(
    pattern: str, meter: str, system: str, hands: str
) -> None:
    written = example(pattern, meter, system, hands)
    places = [x for code, x, _ in signs(engraved(written)) if HEADS_AND_RESTS.fullmatch(code)]
    for measure in written.rhythm.measures:
        here, places = places[: len(measure)], places[len(measure) :]
        for (one, a), (_, b) in pairwise(zip(placed(measure), here, strict=True)):
            wanted = float(one.note.quarters) * quarter_width(written)
            assert b - a == pytest.approx(wanted, abs=25)  # half a space is 90
    assert not places


@pytest.mark.parametrize(("pattern", "meter", "system", "hands"), RHYTHMS)
def test_every_count_stands_at_its_time(pattern: str, meter: str, system: str, hands: str) -> None:
    written = example(pattern, meter, system, hands)
    said = words(engraved(written))
    for line in written.counts:
        row = [said.pop(0) for _ in line]
        assert [word for word, _, _ in row] == [str(count) for count in line]
        for (one, a), (two, b) in pairwise(zip(line, row, strict=True)):
            wanted = float(two.start - one.start) * quarter_width(written)
            assert b[1] - a[1] == pytest.approx(wanted, abs=25)
        while said and hands and re.fullmatch("[lr]*[LR]z?", said[0][0]):
            said.pop(0)


@pytest.mark.parametrize(
    ("pattern", "system"),
    [("3(e e e) 3(e e e) h", "numbers-trip-let"), ("s s s s s s s s h", "numbers-ta-te")],
)
def test_words_stand_apart(pattern: str, system: str) -> None:
    """By half of each, and by some air between: they are centered under their notes."""
    said = words(engraved(example(pattern, "4/4", system)))
    for (one, x, _), (two, following, _) in pairwise(said):
        assert following - x >= (_width(one) + _width(two)) / 2 + 60


def test_a_line_holds_what_a_phone_shows() -> None:
    quarters, sixteenths = "q q q q", " ".join(["s"] * 16)
    four = example(" | ".join([quarters] * 4), "4/4")
    assert lines(four, quarter_width(four)) == (0, 2)
    two = example(f"{sixteenths} | {sixteenths}", "4/4")
    assert lines(two, quarter_width(two)) == (0, 1)
    assert engraved(four).width < 7900


@pytest.mark.parametrize(
    ("meter", "pattern", "above"),
    [
        ("7/8 (2+2+3)", "e e e e e e e", 5),
        ("5/8 (3+2)", "e e e e e", 3),
        ("4/4", "w", 1),
        ("12/8", "h. h.", 2),
    ],
)
def test_figures_of_a_meter_are_clear_of_the_line_and_of_plus_signs(
    meter: str, pattern: str, above: int
) -> None:
    drawing = engraved(example(pattern, meter))
    (line,) = {y for code, _, y in signs(drawing) if code.startswith("E0A")}
    figures = [sign for sign in signs(drawing) if "E080" <= sign[0] <= "E08D"]
    tops = [sign for sign in figures if sign[2] < line]
    assert len(tops) == above
    for _, _, y in figures:
        assert abs(y - line) >= FIGURE_HALF_HEIGHT + 40
    for (code, x, _), (_, following, _) in pairwise(tops):
        if "+" in meter:
            assert following - x >= WIDTHS[code] + 40
    first_head = min(x for code, x, _ in signs(drawing) if code.startswith("E0A"))
    assert first_head - tops[-1][1] >= 318 + 100


@pytest.mark.parametrize("groups", ["3+2", "2+2+3", "2+2+2+3", "2+2+2+2+3", "3+2+2+2+2+2"])
def test_the_last_figure_of_groups_is_clear_of_the_notes_and_none_touch(groups: str) -> None:
    eighths = sum(map(int, groups.split("+")))
    drawing = engraved(example(" ".join(["e"] * eighths), f"{eighths}/8 ({groups})"))
    first_head = min(x for code, x, _ in signs(drawing) if code.startswith("E0A"))
    tops = sorted((x, code) for code, x, _ in signs(drawing) if code in WIDTHS)
    assert len(tops) == len(groups)
    assert first_head - max(x + WIDTHS[code] for x, code in tops) >= 60
    for (x, code), (following, _) in pairwise(tops):
        assert x + WIDTHS[code] <= following


def test_slurs_and_signs_lie_between_the_heads_and_the_words() -> None:
    drawing = engraved(example("e* e* e+ e q= q>", "4/4"))
    codes = [code for code, _, _ in signs(drawing)]
    assert codes.count(STACCATO_BELOW) == 2
    assert codes.count(TENUTO_BELOW) == codes.count(ACCENT_BELOW) == 1
    plain = engraved(example("e e e e q q", "4/4"))
    (slur,) = set(curves(drawing)) - set(curves(plain))
    ys = [int(float(y)) for y in re.findall(r"-?\d+(?:\.\d+)?", slur)[1::2]]
    heads = {y for code, _, y in signs(drawing) if code.startswith("E0A")}
    tops_of_words = min(y for _, _, y in words(drawing)) - 250  # a capital of 340 is 230 high
    assert max(heads) < min(ys) <= max(ys) < tops_of_words


def test_a_slur_over_a_line_break_keeps_clear_of_the_words() -> None:
    drawing = engraved(example("s s s s q q q+ | q s s s s h", "4/4"))
    plain = engraved(example("s s s s q q q | q s s s s h", "4/4"))
    halves = sorted(set(curves(drawing)) - set(curves(plain)))
    assert len(halves) == 2
    rows = sorted({y for _, _, y in words(drawing)})
    heads = sorted({y for code, _, y in signs(drawing) if code.startswith("E0A")})
    lowest = sorted(
        max(int(float(y)) for y in re.findall(r"-?\d+(?:\.\d+)?", half)[1::2]) for half in halves
    )
    for bottom, head, row in zip(lowest, heads, rows, strict=True):
        assert head < bottom < row - 250


def test_the_halves_of_a_slur_lead_out_of_a_line_and_into_the_next() -> None:
    drawing = engraved(example("s s s s q q q+ | q s s s s h", "4/4"))
    plain = engraved(example("s s s s q q q | q s s s s h", "4/4"))
    heads = sorted({(y, x) for code, x, y in signs(drawing) if code.startswith("E0A")})
    first_line = [x for y, x in heads if y == heads[0][0]]
    second_line = [x for y, x in heads if y == heads[-1][0]]
    halves = {}
    for half in set(curves(drawing)) - set(curves(plain)):
        numbers = [int(float(number)) for number in re.findall(r"-?\d+(?:\.\d+)?", half)]
        xs, ys = numbers[0::2], numbers[1::2]
        near, one, two, far, three, four, back = xs
        leads_out = far > near
        halves[leads_out] = near
        # there and back without a loop, each half on the far side of its own note
        assert back == near
        assert [near, one, two, far] == sorted([near, one, two, far], reverse=not leads_out)
        assert (three, four) == (two, one)
        # it hangs: deeper than where it begins, with some thickness, less of it at the open end
        top, out, _, end, inner_end, inner, _ = ys
        assert top < inner < out
        assert top < end <= inner_end < out
    assert abs(halves[True] - first_line[-1]) < 318
    assert abs(halves[False] - second_line[0]) < 318


def curves(drawing: FlatSvg) -> list[str]:
    root = ET.fromstring(f"<svg>{drawing.shapes}</svg>")
    return [
        curve
        for path in root.iter("path")
        for curve in re.findall(r"M[^MZz]*C[^MZz]*", path.get("d", ""))
    ]


def test_the_room_of_a_quarter_is_what_its_narrowest_place_needs() -> None:
    assert quarter_width(example("q q q q", "4/4")) < quarter_width(example("e e e e h", "4/4"))
    wide = quarter_width(example("3(e e e) q h", "4/4", "numbers-trip-let"))
    assert wide > quarter_width(example("3(e e e) q h", "4/4", "numbers"))
    assert Fraction(quarter_width(example("s s s s q h", "4/4"))) >= 4 * 320


@pytest.mark.parametrize(
    ("pattern", "meter", "starts"),
    [
        ("q q q q | q q q q", "4/4", (0,)),
        ("e e e e e e e | e e e e e e e", "7/8 (2+2+3)", (0, 1)),
    ],
)
def test_the_figures_of_an_added_meter_take_room_from_the_line(
    pattern: str, meter: str, starts: tuple[int, ...]
) -> None:
    """Two measures fill a line to its end, if the meter has one figure only."""
    two = example(pattern, meter)
    quarter = int(((_LINE - _SIGNS) / 2 - _BAR) / two.meter.quarters)
    assert lines(two, quarter) == starts


def test_each_grace_note_takes_as_much_more_room() -> None:
    measure = example("q q q q", "4/4", hands="R lR llR R").rhythm.measures[0]
    none, flam, drag, _ = (_graces_width(note) for note in measure)
    assert none == 0
    assert flam == _GRACE + _GRACES_APART
    assert drag - flam == _GRACES_APART > 1
