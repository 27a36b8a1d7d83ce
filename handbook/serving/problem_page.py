"""The page that the preview shows instead of the site while something is to be mended."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from handbook.problems import Problem, Severity
from handbook.report import Located, located
from handbook.report.places import Place
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

    `folder` is put in front of the files' names.
    """
    views = [_problem_view(one) for one in located(problems, sources, folder)]
    views.sort(key=lambda view: view.severity)  # `error` comes before `warning`
    errors = sum(view.severity == Severity.ERROR for view in views)
    return _page(problems=views, errors=errors, sentence="", findings=())


def findings_page(sentence: str, findings: tuple[str, ...] = ()) -> bytes:
    """Show why a site could not be made though the files are in order."""
    return _page(problems=[], errors=0, sentence=sentence, findings=findings)


def _page(**shown: object) -> bytes:
    environment = Environment(
        loader=FileSystemLoader(templates_folder() / "problems"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["quoted"] = _with_quotes_as_code
    return environment.get_template(_TEMPLATE).render(**shown).encode()


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
    begin = place.position.column - 1
    end = begin + max(place.position.length, 1)
    line = place.line
    return Snippet(place.position.line, line[:begin], line[begin:end], line[end:])


def _with_quotes_as_code(text: str) -> Markup:
    """Write what stands in backticks as code."""
    return Markup(_QUOTED.sub(r"<code>\1</code>", str(escape(text))))  # noqa: S704 - escaped one step before
