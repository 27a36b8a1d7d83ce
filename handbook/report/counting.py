"""How many problems there are, in words."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.problems import Problem, Severity
from handbook.report.places import Located


def summary(found: Sequence[Located]) -> str:
    """Count errors, warnings and files: `3 errors and 1 warning in 2 files`."""
    errors, warnings = count(found)
    if not found:
        return "no problems"
    counts = [_count(errors, "error")] if errors else []
    counts += [_count(warnings, "warning")] if warnings else []
    files = _count(len({one.place.file for one in found}), "file")
    return f"{' and '.join(counts)} in {files}"


def count(found: Sequence[Located]) -> tuple[int, int]:
    """Count errors and warnings, those not told one by one too."""
    errors = sum(1 + one.problem.more for one in found if one.problem.severity is Severity.ERROR)
    return errors, sum(1 + one.problem.more for one in found) - errors


def more_of(problem: Problem) -> str:
    """Say how many others of its kind are not shown: `and 12 more of unknown-field`."""
    return f"and {problem.more:,} more of {problem.code}"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number:,} {noun}s"
