"""What a screen reader is told of slurs and signs: by the definitions of these, no source."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handbook.domain.counting import counts
from handbook.domain.rhythm_notation import parse_rhythm
from handbook.domain.tables.counting_systems import COUNTING_SYSTEMS
from handbook.domain.values.meter import parse_meter
from handbook.outputs.components.articulation_words import articulation_words
from handbook.outputs.components.notation import Reader, rhythm_figure
from handbook.plan.parts_model import RhythmRow

CONTENT = Path(__file__).resolve().parents[2] / "content"


@pytest.mark.parametrize(
    ("pattern", "said"),
    [
        ("q q h", []),
        ("e e e+ e q q", ["Measure 1: slur notes 3 to 4."]),
        ("e+ e e+ e h | w", ["Measure 1: slur notes 1 to 2 and 3 to 4."]),
        ("w | q* -q q* q*", ["Measure 2: staccato on notes 1, 2 and 3."]),  # the rest has no number
        ("q= q* q> q^", ["Measure 1: staccato on note 2, tenuto on note 1, accent on note 3, strong accent on note 4."]),
        ("pickup e+ | e* e", ["Pickup: slur note 1 to note 1 of measure 1.", "Measure 1: staccato on note 1."]),
        ("h_ | q q", []),
    ],
)  # fmt: skip
def test_signs_in_words(pattern: str, said: list[str]) -> None:
    assert list(articulation_words(parse_rhythm(pattern))) == said


@pytest.mark.parametrize(
    ("pattern", "meter", "label"),
    [
        ("q q h", "4/4", "Rhythm in 4/4, 1 measure, counted 1 2 3 (4)"),
        ("q. q. | q. q.", "6/8", "Rhythm in 6/8, 2 measures, counted 1 2 | 1 2"),
        ("pickup q | h. | h.", "3/4", "Rhythm in 3/4, 2 measures after a pickup of a quarter note, counted 3 | 1 (2) (3) | 1 (2) (3)"),
        ("pickup e e e | w", "4/4", "Rhythm in 4/4, 1 measure after a pickup of a dotted quarter note, counted & 4 & | 1 (2) (3) (4)"),
        ("pickup e | q/R q/L", "2/4", "Rhythm in 2/4, 1 measure after a pickup of an eighth note, counted & | 1 2, sticking R L"),
        ("q+ q* q*", "3/4", "Rhythm in 3/4, 1 measure, counted 1 2 3. Measure 1: slur notes 1 to 2, staccato on notes 2 and 3."),
    ],
)  # fmt: skip
def test_a_rhythm_is_told_by_its_length_and_its_counts(
    pattern: str, meter: str, label: str
) -> None:
    rhythm, of = parse_rhythm(pattern), parse_meter(meter)
    row = RhythmRow(rhythm, of, counts(rhythm, of, COUNTING_SYSTEMS["numbers"]))
    assert rhythm_figure(row).notation.label == label


@pytest.mark.parametrize(
    ("reader", "hands", "slurred"),
    [
        (Reader.ANYONE, "R L R L", True),
        (Reader.BLOWS, "", True),
        (Reader.STRIKES, "R L R L", False),
    ],
)
def test_who_blows_sees_slurs_and_who_strikes_hands(
    reader: Reader, hands: str, slurred: bool
) -> None:
    rhythm, meter = parse_rhythm("q/R+ q/L q*/R q/L"), parse_meter("4/4")
    row = RhythmRow(rhythm, meter, counts(rhythm, meter, COUNTING_SYSTEMS["numbers"]))
    figure = rhythm_figure(row, reader)
    staccato, slur = "staccato on note 3.", "slur notes 1 to 2, "
    assert figure.sticking == hands
    assert figure.played == (f"Measure 1: {slur if slurred else ''}{staccato}",)
    assert figure.notation.label.endswith(figure.played[0])  # what a screen reader is told


def test_two_tongued_two_slurred_of_the_demo_shows_it() -> None:
    text = (CONTENT / "cycles/winter-2026/music/lantern.yaml").read_text(encoding="utf-8")
    (pattern,) = re.findall(r"Two tongued, two slurred.*\n.*\n\s+pattern: (.*)", text)
    assert articulation_words(parse_rhythm(pattern)) == (
        "Measure 1: slur notes 3 to 4.",
        "Measure 2: slur notes 3 to 4.",
    )
