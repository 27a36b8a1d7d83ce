"""Rhythms, stickings, scales and notes are checked where they stand.

What fills a measure and which scales have forms is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import FUNDAMENTALS, MUSIC, PROGRAM, Change, checked

AFTER = "goal: quarter = 108"


def rhythm(row: str) -> Change:
    return MUSIC, AFTER, f"{AFTER}\n    rhythms:\n      - {row}"


def watch(row: str) -> Change:
    return MUSIC, AFTER, f"{AFTER}\n        watch:\n          - {row}"


def exercise(more: str) -> Change:
    text = f"strands:\n  - id: rhythm\n    name: Rhythm\n    why: To play together\n    exercises:\n      - {{id: first, name: First, level: 1, {more}}}\n"
    return FUNDAMENTALS, "", text


def codes(problems: list[str]) -> list[str]:
    return [" ".join(problem.split(" | ")[0].split(" ")[1:]) for problem in problems]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        # The piece is in 3/4.
        (rhythm("{pattern: q q q | h q}"), []),
        (rhythm("{pattern: pickup q | h q | h}"), []),
        (rhythm("{pattern: q q q q}"), ["measure-not-filled: measure 1 is a quarter note too long for 3/4"]),
        (rhythm("{pattern: q q q | h}"), ["measure-not-filled: measure 2 is a quarter note too short for 3/4"]),
        (rhythm("{pattern: q q q q, meter: 4/4}"), []),
        (rhythm("{pattern: e e e e e e e, meter: 7/8 (2+2+3)}"), []),
        (rhythm("{pattern: pickup h. | h q}"), ["measure-not-filled: the pickup is as long as a measure or longer for 3/4"]),
        (exercise("rhythm: q q q q"), []),
        (exercise("rhythm: q q q"), ["measure-not-filled: measure 1 is a quarter note too short for 4/4"]),
        (exercise("rhythm: q q q, meter: 3/4"), []),
        (rhythm("{pattern: e e e e e e, sticking: RLRLRL}"), []),
        (rhythm("{pattern: e e e e e e, sticking: RL}"), []),
        (rhythm("{pattern: e e e e q, sticking: RLRLRL}"), ["sticking-does-not-fit: the sticking has 6 strokes, but 5 notes are struck"]),
        (rhythm("{pattern: q -q q_ | h q, sticking: RLRL}"), ["sticking-does-not-fit: the sticking has 4 strokes, but 3 notes are struck"]),
        (rhythm("{pattern: h., sticking: RL}"), ["sticking-does-not-fit: the sticking has 2 strokes, but 1 note is struck"]),
        (rhythm("{pattern: q/R q/L q/R, rudiment: flam}"), ["hands-said-twice: the hands stand among the notes, and a rudiment beside them"]),
        (rhythm("{pattern: q/R q/L q/R, sticking: RLR}"), ["hands-said-twice: the hands stand among the notes, and a sticking beside them"]),
        (rhythm("{pattern: q/R q q/R | q/L q/R q}"), ["hand-missing: a note in measure 1 has no hand, though others do", "hand-missing: a note in measure 2 has no hand, though others do"]),
        (rhythm("{pattern: pickup q | q/R q/L q/R}"), ["hand-missing: a note in the pickup has no hand, though others do"]),
        (rhythm("{pattern: q+ q+ q}"), []),
        (rhythm("{pattern: e+ -e q q+ | -q q q}"), ["slur-leads-to-no-note: the slur after the eighth note in measure 1 leads to a rest", "slur-leads-to-no-note: the slur after the quarter note in measure 1 leads to a rest"]),
        (rhythm("{pattern: pickup q+ | -q q q}"), ["slur-leads-to-no-note: the slur after the quarter note in the pickup leads to a rest"]),
        (rhythm("{pattern: q q 3(e e e+)}"), ["slur-leads-to-no-note: the slur after the triplet eighth note in measure 1 leads to no note: the rhythm ends there"]),
        (exercise("rhythm: h h+"), ["slur-leads-to-no-note: the slur after the half note in measure 1 leads to no note: the rhythm ends there"]),
        (rhythm("{pattern: q/R q_ q}"), ["hand-missing: a note in measure 1 has no hand, though others do"]),
        (exercise("scale: G minor, scale_form: harmonic"), []),
        (exercise("scale: A aeolian, scale_form: melodic"), []),
        (exercise("scale: Bb major, scale_form: chromatic"), []),
        (exercise("scale: D dorian, scale_form: melodic"), ["scale-form-needs-minor: only a minor scale has a melodic form, and D dorian has none"]),
        (exercise("scale_form: harmonic"), ["scale-form-needs-minor: only a minor scale has a harmonic form, and no key is given"]),
        # Harbor has flutes (C4 to F6 written) and trumpets (F sharp 3 to A5, sounding a tone lower).
        (watch("{text: Low, notes: [Bb]}"), []),
        (watch("{text: Low, notes: [Bb4]}"), []),
        (watch("{text: Low, notes: [Bb3]}"), ["warning note-out-of-range: `Bb3` lies outside the usual range of `flute`"]),
        (watch("{text: Low, notes: [Bb3], who: [trumpet]}"), []),
        (watch("{text: Low, notes: [C6], who: [trumpet]}"), ["warning note-out-of-range: `C6` lies outside the usual range of `trumpet`"]),
        (watch("{text: Low, notes: [Eb2]}"), ["warning note-out-of-range: `Eb2` lies outside the usual range of `flute` and `trumpet`"]),
    ],
)  # fmt: skip
def test_what_cannot_be_played_is_told(change: Change, told: list[str], tmp_path: Path) -> None:
    assert codes(checked(tmp_path, change)) == told


def test_an_instrument_reads_like_the_one_it_is_said_to(tmp_path: Path) -> None:
    changes = [
        (PROGRAM, "trumpet: 5", "low-part: 5"),
        (PROGRAM, "rooms:", "reads_like: {low-part: tuba}\nrooms:"),
        watch("{text: Low, notes: [Bb1], who: [low-part]}"),
    ]
    assert checked(tmp_path, *changes) == []


def test_the_place_is_that_of_the_note_and_a_way_out_is_given(tmp_path: Path) -> None:
    told = checked(tmp_path, watch("{text: Low, notes: [Bb, Bb3]}"))
    assert told == [
        "cycles/winter/music.yaml:37:37 warning note-out-of-range: `Bb3` lies outside the usual range of `flute` | write `Bb` so that each player sees it in their own octave, or name under `who` those who play it there"
    ]


@pytest.mark.parametrize(
    ("level", "told"),
    [
        ("", []),
        ("experience: developing", []),
        ("experience: beginner", ["warning note-out-of-range: `Eb5` lies outside the usual range of `trumpet`"]),
    ],
)  # fmt: skip
def test_the_range_is_that_of_the_players(level: str, told: list[str], tmp_path: Path) -> None:
    """Trumpets read F5: within a second year's range, above a first year's D5."""
    band = PROGRAM, "flute: 4, trumpet: 5}\n", f"flute: 4, trumpet: 5}}\n    {level}\n"
    high = watch("{text: High, notes: [Eb5], who: [brass]}")
    assert codes(checked(tmp_path, band, high)) == told


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("{note: Bb, to: C, measures: 12, who: [flute]}", []),
        ("{note: Bb, measures: 12}", ["trill-without-upper-note: the trill on `Bb` has no upper note, since `tweed-kites` has no key"]),
        ("{note: Bb, to: D}", ["trill-not-a-step: the trill from `Bb` to `D` is not a step"]),
        ("{note: Bb, to: C, measures: 33}", ["measures-outside-form: measure 33 is not in the form of `tweed-kites`, which has 1–32"]),
        ("{note: Bb1, to: C}", ["warning note-out-of-range: `Bb1` lies outside the usual range of `flute` and `trumpet`"]),
        ("{note: Bb, to: C, who: [tuba]}", ["unknown-instrument: no instrument of harbor is called `tuba`"]),
        ("{note: Bb, to: C, fingering: [{who: [tuba], text: Second valve}]}", ["unknown-instrument: no instrument of harbor is called `tuba`"]),
    ],
)  # fmt: skip
def test_trills_have_two_notes_a_step_apart_and_players(
    row: str, told: list[str], tmp_path: Path
) -> None:
    change = MUSIC, AFTER, f"{AFTER}\n        trills:\n          - {row}"
    assert codes(checked(tmp_path, change)) == told
