"""Levels and strands should be complete.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import FUNDAMENTALS, PROGRAM, Change, checked

WHOLE = """\
order: [tone]
strands:
  - id: tone
    name: Tone
    why: It is what people hear
    exercises:
      - {id: long-tones, name: Long tones, level: 1}
      - {id: swells, name: Swells, level: 2}
warm_ups:
  - {level: 1, name: First, steps: [Breathe]}
  - {level: 2, name: Second, steps: [Play]}
"""


def fundamentals(old: str, new: str) -> Change:
    assert WHOLE.count(old) == 1
    return FUNDAMENTALS, "", WHOLE.replace(old, new)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([fundamentals("  - {level: 2, name: Second, steps: [Play]}", "  - {level: 3, name: Second, steps: [Play]}")], ["fundamentals.yaml:11:13 warning skipped-level: the warm-up has a level 3, but no level 2 | number it 2, or add what comes before it"]),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 4}")], ["fundamentals.yaml:8:43 warning skipped-level: the strand `tone` has a level 4, but no level 2 | number it 2, or add what comes before it"]),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: swells, name: Swells, level: 1}")], []),
        ([fundamentals("      - {id: long-tones, name: Long tones, level: 1}", "      - {id: long-tones, name: Long tones, level: 2}")], ["fundamentals.yaml:7:51 warning skipped-level: the strand `tone` has a level 2, but no level 1 | number it 1, or add what comes before it"]),
        ([fundamentals("order: [tone]", "order: []")], []),
        ([fundamentals("warm_ups:", "  - {id: air, name: Air, why: W, exercises: [{id: z, name: Z, level: 1}]}\nwarm_ups:")], ["fundamentals.yaml:9:10 warning strand-not-in-order: the strand `air` is not in `order` | add it where it comes in a rehearsal"]),
    ],
)  # fmt: skip
def test_fundamentals_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told


@pytest.mark.parametrize(
    ("starts", "told"),
    [
        ("starts_at: 2", ""),
        ("starts_at: 3", "program.yaml:9:16 warning starts-past-levels: level 3 is wanted at the start, but the fundamentals end at level 2 | write 2 or less, or add the levels between"),
        ("strands_start_at: {tone: 2}", ""),
        ("strands_start_at: {tone: 3}", "program.yaml:9:30 warning starts-past-levels: level 3 is wanted at the start, but the strand `tone` ends at level 2 | write 2 or less, or add the levels between"),
    ],
)  # fmt: skip
def test_a_start_past_the_last_level_is_told(starts: str, told: str, tmp_path: Path) -> None:
    name = "    room: band-room\n    instruments: {flute: 6"
    start = (PROGRAM, name, f"    {starts}\n{name}")
    whole = (FUNDAMENTALS, "", WHOLE)
    assert checked(tmp_path / "whole", start, whole) == ([told] if told else [])
    if starts.startswith("starts_at"):  # nothing is past the levels of none
        assert checked(tmp_path / "none", start) == []
