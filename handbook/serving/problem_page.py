"""The page that the preview shows instead of the site while something is to be mended."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup, escape

from handbook.problems import Problem
from handbook.records import dataclass
from handbook.report.counting import count, more_of
from handbook.report.places import Located, Place, first_of_each, located
from handbook.report.snippet import parted
from handbook.report.text import MOST_SHOWN_OF_A_KIND
from handbook.report.withheld import without_private
from handbook.resources import templates_folder
from handbook.source.privacy import without_remark
from handbook.source.source_map import SourceMap

_TEMPLATE = "problems.html.j2"
_QUOTED = re.compile(r"`([^`]+)`")


@dataclass(frozen=True, slots=True)
class SnippetView:
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
    snippet: SnippetView | None


@dataclass(frozen=True, slots=True)
class ProblemView:
    """One problem as the page shows it; `severity` is `error` or `warning`."""

    file: str
    severity: str
    code: str
    message: str
    hint: str
    snippet: SnippetView | None
    notes: tuple[NoteView, ...]
    more: str


def problem_page(folder: str, problems: Iterable[Problem], sources: SourceMap) -> bytes:
    """Show the problems, 20 of a kind in a file, errors first, with their lines and what to do.

    `folder` is put in front of the files' names. What is under `private` is left out,
    and what stands behind `#`.
    """
    found = first_of_each(
        without_private(located(problems, sources, folder), sources), MOST_SHOWN_OF_A_KIND
    )
    views = [_problem_view(one) for one in found]
    views.sort(key=lambda view: view.severity)  # `error` comes before `warning`
    errors, _ = count(found)
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
        more=more_of(problem) if problem.more else "",
    )


def _snippet(place: Place) -> SnippetView | None:
    if place.position is None:
        return None
    line = without_remark(place.line) if place.file.endswith(".yaml") else place.line
    return SnippetView(place.position.line, *parted(line, place.position))


def _with_quotes_as_code(text: str) -> Markup:
    """Write what stands in backticks as code."""
    return Markup(_QUOTED.sub(r"<code>\1</code>", str(escape(text))))  # noqa: S704 - escaped one step before
