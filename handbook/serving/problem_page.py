"""The page that the preview shows instead of the site while something is to be mended."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from handbook.problems import Address, Position, Problem, Severity
from handbook.resources import templates_folder
from handbook.source.source_map import SourceMap

_TEMPLATE = "problems.html.j2"
_QUOTED = re.compile(r"`([^`]+)`")
_LAST = 1_000_000  # a line number past any file: problems without a place come last in theirs


@dataclass(frozen=True, slots=True)
class Snippet:
    """A line of a file with its wrong part apart."""

    line: int
    column: int
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
    """Show every problem with its line, and what to do; `folder` is what the files lie in."""
    views = sorted(
        (_problem_view(problem, sources) for problem in problems),
        key=lambda view: (view.severity, view.file, *_place(view.snippet)),
    )
    errors = sum(view.severity == Severity.ERROR for view in views)
    return _page(folder=folder, problems=views, errors=errors, sentence="", findings=())


def findings_page(folder: str, sentence: str, findings: tuple[str, ...] = ()) -> bytes:
    """Show why a site could not be made though the files are in order."""
    return _page(folder=folder, problems=[], errors=0, sentence=sentence, findings=findings)


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


def _problem_view(problem: Problem, sources: SourceMap) -> ProblemView:
    place = problem.position or sources.position(problem.address, on_key=problem.on_key)
    return ProblemView(
        file=problem.file,
        severity=problem.severity.value,
        code=problem.code,
        message=problem.message,
        hint=problem.hint,
        snippet=_snippet(problem.file, place, sources),
        notes=tuple(
            NoteView(
                _file(note.address),
                note.message,
                _snippet(
                    _file(note.address), note.position or sources.position(note.address), sources
                ),
            )
            for note in problem.notes
        ),
    )


def _snippet(file: str, place: Position | None, sources: SourceMap) -> Snippet | None:
    text = sources.line(file, place.line) if place else None
    if place is None or text is None:
        return None
    begin, end = place.column - 1, place.column - 1 + max(place.length, 1)
    return Snippet(place.line, place.column, text[:begin], text[begin:end], text[end:])


def _file(address: Address) -> str:
    return str(address[0]) if address else ""


def _place(snippet: Snippet | None) -> tuple[int, int]:
    return (snippet.line, snippet.column) if snippet else (_LAST, 0)


def _with_quotes_as_code(text: str) -> Markup:
    """Write what stands in backticks as code."""
    return Markup(_QUOTED.sub(r"<code>\1</code>", str(escape(text))))  # noqa: S704 - escaped one step before
