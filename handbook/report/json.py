"""Problems as JSON, for editors and other programs."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from handbook.problems import MOST_OF_A_KIND, Problem
from handbook.report.counting import count
from handbook.report.places import Located, Place, first_of_each, located
from handbook.report.withheld import without_private
from handbook.source.source_map import SourceMap


def report_json(problems: Iterable[Problem], sources: SourceMap, *, folder: str = "") -> str:
    """Write `{"problems": […], "errors": n, "warnings": n}`; ends with a line end.

    Lines and columns count from 1, in characters; they and `length` are null where there
    is no line to show. `more` counts others of the kind in the file that are not listed;
    300 of each kind are.
    """
    found = first_of_each(
        without_private(located(problems, sources, folder), sources), MOST_OF_A_KIND
    )
    errors, warnings = count(found)
    whole = {
        "problems": rows(found),
        "errors": errors,
        "warnings": warnings,
    }
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


def rows(found: Iterable[Located]) -> list[dict[str, Any]]:
    """Give problems as rows of the JSON report."""
    return [_row(one) for one in found]


def _row(one: Located) -> dict[str, Any]:
    problem = one.problem
    return {
        **_at(one.place),
        "severity": str(problem.severity),
        "code": problem.code,
        "message": problem.message,
        "help": problem.hint,
        "more": problem.more,
        "notes": [{**_at(place), "message": note.message} for note, place in one.notes],
    }


def _at(place: Place) -> dict[str, Any]:
    at = place.position
    return {
        "file": place.file,
        "line": at.line if at else None,
        "column": at.column if at else None,
        "length": at.length if at else None,
    }
