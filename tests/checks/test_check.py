"""A check of absurd content ends, and loses no error behind its warnings."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count

from handbook.checks.check import check, finding, once_a_name
from handbook.problems import Problem, Severity


@check
def endless(_subject: object) -> Iterator[Problem]:
    """Find errors without end."""
    yield from (finding(f"error {n}", ("f.yaml",)) for n in count())


@check
def late_error(_subject: object) -> Iterator[Problem]:
    """Find one error behind many warnings."""
    for n in range(1000):
        yield finding(f"warning {n}", ("f.yaml",), severity=Severity.WARNING)
    yield finding("error", ("f.yaml",))


@check
@once_a_name
def endless_names(_subject: object) -> Iterator[Problem]:
    """Find names without end."""
    yield from (finding(f"error {n}", ("f.yaml",)) for n in count())


def test_errors_without_end_are_told_up_to_a_number_and_counted_as_more() -> None:
    for found in (endless(None), endless_names(None)):
        assert len(found) == 300
        assert [problem.more for problem in found[-2:]] == [0, 300]


def test_an_error_behind_any_number_of_warnings_is_kept() -> None:
    found = late_error(None)
    assert len(found) == 1001
    assert found[-1].severity is Severity.ERROR
