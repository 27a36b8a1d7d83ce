"""The page that the preview shows instead of the site while something is to be mended."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup, escape

from handbook.problems import Problem, Severity
from handbook.report.places import Located, Place, located
from handbook.report.withheld import without_private
from handbook.resources import templates_folder
from handbook.source.source_map import SourceMap

_TEMPLATE = "problems.html.j2"
_QUOTED = re.compile(r"`([^`]+)`")


@dataclass(frozen=True, slots=True)
class Snippet:
    """A line of a file with its wrong part apart."""

    line: int
    before: str
    marked: str
    after: str


@dataclass(frozen=True, slots=True)
class NoteView:
    """A second place that a problem is about."""

    file: str
    message: str
    snippet: Snippet | None


@dataclass(frozen=True, slots=True)
class ProblemView:
    """One problem as the page shows it; `severity` is `error` or `warning`."""

    file: str
    severity: str
    code: str
    message: str
    hint: str
    snippet: Snippet | None
    notes: tuple[NoteView, ...]


def problem_page(folder: str, problems: Iterable[Problem], sources: SourceMap) -> bytes:
    """Show every problem, errors first, with its line and what to do.

    `folder` is put in front of the files' names. What is under `private` is left out.
    """
    found = without_private(located(problems, sources, folder), sources)
    views = [_problem_view(one) for one in found]
    views.sort(key=lambda view: view.severity)  # `error` comes before `warning`
    errors = sum(view.severity == Severity.ERROR for view in views)
    return _page(problems=views, errors=errors, heading="", sentence="", findings=())


def sentence_page(heading: str, sentence: str, findings: tuple[str, ...] = ()) -> bytes:
    """Show one sentence, and what it is about."""
    return _page(problems=(), errors=0, heading=heading, sentence=sentence, findings=findings)


def _page(**shown: object) -> bytes:
    """Render the page; a sign that UTF-8 has not, as in some file names, becomes `?`."""
    return _template().render(**shown).encode(errors="replace")


@cache
def _template() -> Template:
    environment = Environment(
        loader=FileSystemLoader(templates_folder() / "problems"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["quoted"] = _with_quotes_as_code
    return environment.get_template(_TEMPLATE)


def _problem_view(one: Located) -> ProblemView:
    problem = one.problem
    return ProblemView(
        file=one.place.file,
        severity=problem.severity.value,
        code=problem.code,
        message=problem.message,
        hint=problem.hint,
        snippet=_snippet(one.place),
        notes=tuple(
            NoteView(place.file, note.message, _snippet(place)) for note, place in one.notes
        ),
    )


def _snippet(place: Place) -> Snippet | None:
    if place.position is None:
        return None
    if not place.line:  # an empty one, or one that is private
        return Snippet(place.position.line, "", "", "")
    begin = place.position.column - 1
    end = begin + max(place.position.length, 1)
    line = place.line
    return Snippet(place.position.line, line[:begin], line[begin:end], line[end:])


def _with_quotes_as_code(text: str) -> Markup:
    """Write what stands in backticks as code."""
    return Markup(_QUOTED.sub(r"<code>\1</code>", str(escape(text))))  # noqa: S704 - escaped one step before
