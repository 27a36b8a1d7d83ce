"""Measure spans; the first full measure is 1 (common practice, no source)."""

from __future__ import annotations

import pytest

from handbook.domain.values.measures import MeasureSpan, parse_measures
from handbook.domain.values.unreadable import UnreadableError


@pytest.mark.parametrize(
    ("text", "expected", "count"),
    [
        ("1-16", MeasureSpan(1, 16), 16),
        ("17", MeasureSpan(17, 17), 1),
        ("9 to 24", MeasureSpan(9, 24), 16),
        ("9–24", MeasureSpan(9, 24), 16),
        ("9 — 24", MeasureSpan(9, 24), 16),
        ("mm. 9-24", MeasureSpan(9, 24), 16),
        ("m.17", MeasureSpan(17, 17), 1),
        ("Measures 9 through 24", MeasureSpan(9, 24), 16),
    ],
)
def test_measures_are_read(text: str, expected: MeasureSpan, count: int) -> None:
    span = parse_measures(text)
    assert (span, span.count) == (expected, count)
    assert parse_measures(str(span)) == span


@pytest.mark.parametrize(
    ("text", "says", "suggestions"),
    [
        ("16-1", "backward", ("1-16",)),
        ("0-8", "pickup goes with it", ("1–8",)),
        ("0", "pickup goes with it", ("1",)),
        ("A", "names no measures", ("1-16", "17")),
        ("1-1000000", "which have four digits at most", ("1-16", "17")),
        ("1-", "names no measures", ("1-16", "17")),
        ("-3", "names no measures", ("1-16", "17")),
    ],
)
def test_other_text_is_refused(text: str, says: str, suggestions: tuple[str, ...]) -> None:
    with pytest.raises(UnreadableError, match=says) as refused:
        parse_measures(text)
    assert refused.value.suggestions == suggestions


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        ("1-16", "16-20", True),
        ("1-16", "17-20", False),
        ("1-16", "5", True),
        ("9-24", "1-30", True),
    ],
)
def test_spans_that_share_a_measure_overlap(one: str, other: str, expected: bool) -> None:
    assert parse_measures(one).overlaps(parse_measures(other)) is expected
    assert parse_measures(other).overlaps(parse_measures(one)) is expected


def test_spans_sort_by_where_they_begin() -> None:
    spans = sorted([MeasureSpan(9, 12), MeasureSpan(1, 16), MeasureSpan(1, 8)])
    assert [str(span) for span in spans] == ["1–8", "1–16", "9–12"]


@pytest.mark.parametrize(("first", "last"), [(0, 4), (5, 4), (-2, -1)])
def test_an_impossible_span_cannot_be_made(first: int, last: int) -> None:
    with pytest.raises(ValueError, match=str(first)):
        MeasureSpan(first, last)
