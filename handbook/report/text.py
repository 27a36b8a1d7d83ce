"""Problems for the terminal: place, sentence, line with a mark, second places, a way out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

import click

from handbook.problems import Problem, Severity
from handbook.report.counting import more_of, summary
from handbook.report.places import Located, Place, first_of_each, located
from handbook.report.snippet import snippet
from handbook.source.source_map import SourceMap

MOST_SHOWN_OF_A_KIND = 20
_FEW = 3  # warnings of a kind beside the first that are folded
_MOST_PLACES = 12
_COLOURS = {Severity.ERROR: "red", Severity.WARNING: "yellow"}


def report_text(
    problems: Iterable[Problem], sources: SourceMap, *, folder: str = "", colour: bool = False
) -> str:
    """Write the problems for a person: errors, then warnings, then the count; ends with a line end.

    Of a kind of error 20 are written in a file. Of a kind of warning that there are more
    than three of, the first is written, and the places of the others. `colour` marks
    severities and places with the terminal's colours; without it the text is plain, for
    pipes and files.
    """
    found = located(problems, sources, folder)
    paint = _Paint(colour)
    blocks = ["\n".join(lines) for lines in _blocks(found, paint)]
    return "\n\n".join((*blocks, paint(summary(found), bold=True))) + "\n"


def _blocks(found: Sequence[Located], paint: _Paint) -> Iterator[Iterable[str]]:
    errors = [one for one in found if one.problem.severity is Severity.ERROR]
    for one in first_of_each(errors, MOST_SHOWN_OF_A_KIND):
        yield _lines(one, paint)
    kinds: dict[str, list[Located]] = {}
    for one in found:
        if one.problem.severity is Severity.WARNING:
            kinds.setdefault(one.problem.code, []).append(one)
    for first, *others in kinds.values():
        folded = others if len(others) >= _FEW else []
        yield (*_lines(first, paint), *_folded(folded, paint))
        yield from (_lines(one, paint) for one in others if not folded)


def _folded(others: Sequence[Located], paint: _Paint) -> Iterator[str]:
    """Name the places of more warnings of a kind in one line."""
    if not others:
        return
    places: dict[str, dict[str, None]] = {}
    for one in others[:_MOST_PLACES]:
        lines = places.setdefault(one.place.file, {})
        lines |= {str(one.place.position.line): None} if one.place.position else {}
    shown = "; ".join(f"{file}:{', '.join(lines)}".rstrip(":") for file, lines in places.items())
    count = sum(1 + one.problem.more for one in others)
    and_more = "; …" if count > _MOST_PLACES else ""
    yield paint(f"  and {count:,} more of {others[0].problem.code}: {shown}{and_more}", bold=True)


class _Paint:
    """Styles text, or leaves it plain."""

    def __init__(self, colour: bool) -> None:
        self._colour = colour

    def __call__(self, text: str, **style: Any) -> str:
        return click.style(text, **style) if self._colour else text


def _lines(one: Located, paint: _Paint) -> Iterator[str]:
    problem, colour = one.problem, _COLOURS[one.problem.severity]
    severity = paint(str(problem.severity), fg=colour, bold=True)
    yield f"{_where(one.place)}: {severity} {paint(problem.code, fg=colour)}: {paint(problem.message, bold=True)}"
    yield from _shown(one.place, paint, colour)
    for note, place in one.notes:
        yield f"  {paint('note', bold=True)}: {note.message}: {_where(place)}"
        yield from _shown(place, paint, "blue")
    if problem.hint:
        yield f"  {paint('help', fg='green', bold=True)}: {problem.hint}"
    if problem.more:
        yield paint(f"  {more_of(problem)}", bold=True)
    yield paint(f"  (handbook explain {problem.code})", dim=True)


def _where(place: Place) -> str:
    at = place.position
    return f"{place.file}:{at.line}:{at.column}" if at else place.file


def _shown(place: Place, paint: _Paint, colour: str) -> Iterator[str]:
    if place.position is None or not place.line.strip():
        return
    shown = snippet(place.line, place.position)
    gutter = " " * len(shown.number)
    yield f"  {paint(f'{shown.number} |', dim=True)} {shown.text}"
    yield f"  {paint(f'{gutter} |', dim=True)} {_marks(shown.marks, paint, colour)}"


def _marks(marks: str, paint: _Paint, colour: str) -> str:
    carets = marks.lstrip(" ")
    return marks[: len(marks) - len(carets)] + paint(carets, fg=colour, bold=True)
