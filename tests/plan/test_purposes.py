"""A stage's goals spread over its rehearsals."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.plan.model import StageSpan
from handbook.plan.stages import joined, purposes
from handbook.schema.cycle import Stage


def span(goals: list[str], count: int) -> StageSpan:
    stage = Stage.model_validate(
        {
            "id": "build",
            "name": "Build",
            "purpose": "Join",
            "tempo": "50-90",
            "minutes": {"fundamentals": "1", "music": "1"},
            "goals": goals,
        }
    )
    return StageSpan(stage, 0, 0, count - 1, date(2026, 9, 1), date(2026, 10, 1))


def test_goals_come_in_order_and_evenly() -> None:
    found = [text.read() for text in purposes(span(["notes", "rhythm"], 5))]
    assert found == ["notes", "notes", "notes", "rhythm", "rhythm"]


def test_goals_share_a_rehearsal_where_there_are_too_few() -> None:
    found = [text.read() for text in purposes(span(["notes", "rhythm", "tone"], 2))]
    assert found == ["notes", "rhythm; tone"]


@pytest.mark.parametrize(
    ("texts", "expected"),
    [
        # English as taught in school: a stop ends a sentence, and no semicolon follows it
        (["Know the notes.", "Clap the rhythm."], "Know the notes. Clap the rhythm."),
        (["Know the notes", "clap the rhythm."], "Know the notes; clap the rhythm."),
        (["Who leads?", "listen", "tune"], "Who leads? listen; tune"),
        (["Play it “softly.”", "Tune."], "Play it “softly.” Tune."),
        (["**Listen.**", "Tune."], "**Listen.** Tune."),
        (["هل نسمعها؟", "نعزف معًا."], "هل نسمعها؟ نعزف معًا."),
        # Requirements for Chinese Text Layout (W3C), 3.1: a full stop takes the width of a letter
        (["听一听。", "一起演奏。"], "听一听。一起演奏。"),
        (["notes"], "notes"),
    ],
)
def test_sentences_are_joined_as_sentences(texts: list[str], expected: str) -> None:
    assert joined(texts) == expected


@given(goals=st.integers(1, 12), count=st.integers(1, 40))
def test_each_rehearsal_has_a_purpose_and_each_goal_its_turn(goals: int, count: int) -> None:
    names = [f"goal {number}" for number in range(goals)]
    found = [text.read() for text in purposes(span(names, count))]
    assert len(found) == count
    turns = [name for text in found for name in text.split("; ")]
    assert list(dict.fromkeys(turns)) == names
    assert turns == sorted(turns, key=names.index)
