"""How many problems there are, in words."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.problems import Severity
from handbook.report.places import Located


def summary(found: Sequence[Located]) -> str:
    """Count errors, warnings and files: `3 errors and 1 warning in 2 files`."""
    errors = sum(one.problem.severity is Severity.ERROR for one in found)
    warnings = len(found) - errors
    if not found:
        return "no problems"
    counts = [_count(errors, "error")] if errors else []
    counts += [_count(warnings, "warning")] if warnings else []
    files = _count(len({one.place.file for one in found}), "file")
    return f"{' and '.join(counts)} in {files}"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
