"""Problems with the places their addresses lead to, in the order of the files."""

from __future__ import annotations

from collections.abc import Iterable

from handbook.problems import Note, Position, Problem
from handbook.records import dataclass
from handbook.source.source_map import SourceMap


@dataclass(frozen=True, slots=True)
class Place:
    """A file with the folder in front, and the place in it if there is one to show."""

    file: str
    position: Position | None = None
    line: str = ""


@dataclass(frozen=True, slots=True)
class Located:
    """A problem, its place, and the place of each of its notes."""

    problem: Problem
    place: Place
    notes: tuple[tuple[Note, Place], ...] = ()


def located(
    problems: Iterable[Problem], sources: SourceMap, folder: str = ""
) -> tuple[Located, ...]:
    """Find every problem's place; sorted by file, line and column, each told once.

    `folder` is the content folder as the reader knows it; it is put in front of file names.
    """
    found = {
        (one.place.file, one.place.position, one.problem.code, one.problem.message): one
        for problem in problems
        for one in (_locate(problem, sources, folder),)
    }
    return tuple(sorted(found.values(), key=_order))


def _locate(problem: Problem, sources: SourceMap, folder: str) -> Located:
    position = problem.position or sources.position(problem.address, on_key=problem.on_key)
    notes = tuple(
        (
            note,
            _place(
                _file(note.address),
                note.position or sources.position(note.address),
                sources,
                folder,
            ),
        )
        for note in problem.notes
    )
    return Located(problem, _place(problem.file, position, sources, folder), notes)


def _place(file: str, position: Position | None, sources: SourceMap, folder: str) -> Place:
    name = f"{folder.rstrip('/')}/{file}" if folder not in {"", "."} else file
    line = sources.line(file, position.line) if position else None
    return Place(name) if line is None else Place(name, position, line)


def _file(address: tuple[str | int, ...]) -> str:
    return str(address[0]) if address else ""


def _order(one: Located) -> tuple[str, int, int, str, str]:
    at = one.place.position or Position(0, 0)
    return one.place.file, at.line, at.column, one.problem.code, one.problem.message
