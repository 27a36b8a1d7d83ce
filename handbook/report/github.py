"""Problems as GitHub's workflow commands, which it shows beside the lines of a change.

The form is that of "Workflow commands for GitHub Actions": `::error file=,line=,col=,
endColumn=,title=::message`; the escapes are from memory.
"""

from __future__ import annotations

from collections.abc import Iterable

from handbook.problems import Problem
from handbook.report.counting import more_of
from handbook.report.places import Located, first_of_each, located
from handbook.report.withheld import without_private
from handbook.source.source_map import SourceMap

_MOST = 10
_IN_MESSAGE = {"%": "%25", "\r": "%0D", "\n": "%0A"}
_IN_PROPERTY = {**_IN_MESSAGE, ":": "%3A", ",": "%2C"}


def report_github(problems: Iterable[Problem], sources: SourceMap, *, folder: str = "") -> str:
    """Write one command a problem, ten of each kind in a file; empty if there is none, else ends with a line end.

    More would not be shown: GitHub takes ten of each severity from a step (from memory).
    """
    found = first_of_each(without_private(located(problems, sources, folder), sources), _MOST)
    return "".join(f"{_command(one)}\n" for one in found)


def _command(one: Located) -> str:
    problem, at = one.problem, one.place.position
    properties = {"file": one.place.file}
    if at is not None:
        properties |= {
            "line": str(at.line),
            "endLine": str(at.line),
            "col": str(at.column),
            "endColumn": str(at.column + at.length),
        }
    properties["title"] = problem.code
    listed = ",".join(f"{name}={_escaped(text, _IN_PROPERTY)}" for name, text in properties.items())
    message = f"{problem.message}\nhelp: {problem.hint}" if problem.hint else problem.message
    message += f"\n({more_of(problem)})" if problem.more else ""
    return f"::{problem.severity} {listed}::{_escaped(message, _IN_MESSAGE)}"


def _escaped(text: str, escapes: dict[str, str]) -> str:
    return "".join(escapes.get(letter, letter) for letter in text)
