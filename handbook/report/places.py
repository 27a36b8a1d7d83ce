"""Problems with the places their addresses lead to, in the order in which they are read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from handbook.problems import Note, Position, Problem, Severity
from handbook.records import dataclass
from handbook.source.decoding import HIDDEN
from handbook.source.source_map import SourceMap

UNSEEN = "▯"
_FILES = 5
_MOST_LETTERS = 1000  # of a sentence: one that quotes a whole paragraph is cut


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
    """Find every problem's place; errors first, sorted by file, line and column, each told once.

    `folder` is the content folder as the reader knows it; it is put in front of file names.
    """
    found = {
        (one.place.file, one.place.position, one.problem.code, one.problem.message): one
        for problem in problems
        for one in (_locate(problem, sources, folder),)
    }
    return tuple(sorted(found.values(), key=_order))


def first_of_each(found: Sequence[Located], most: int) -> tuple[Located, ...]:
    """Keep the first problems of each kind, and count the others in the last one kept before them.

    Of one kind `most` are kept in a file, and five times as many in all files.
    """
    kept: list[Located] = []
    last: dict[tuple[str, Severity], int] = {}
    of_kind: Counter[tuple[str, Severity]] = Counter()
    in_file: Counter[tuple[str, Severity, str]] = Counter()
    for one in found:
        kind = (one.problem.code, one.problem.severity)
        in_file[*kind, one.place.file] += 1
        if in_file[*kind, one.place.file] <= most and of_kind[kind] < _FILES * most:
            of_kind[kind] += 1
            last[kind] = len(kept)
            kept.append(one)
        else:
            before = kept[last[kind]].problem
            counted = replace(before, more=before.more + 1 + one.problem.more)
            kept[last[kind]] = replace(kept[last[kind]], problem=counted)
    return tuple(kept)


def _locate(problem: Problem, sources: SourceMap, folder: str) -> Located:
    position = problem.position or sources.position(problem.address, on_key=problem.on_key)
    notes = tuple(
        (
            replace(note, message=_shown(note.message)),
            _place(
                _file(note.address),
                note.position or sources.position(note.address),
                sources,
                folder,
            ),
        )
        for note in problem.notes
    )
    told = replace(problem, message=_shown(problem.message), hint=_shown(problem.hint))
    return Located(told, _place(problem.file, position, sources, folder), notes)


def _shown(sentence: str) -> str:
    """Make a sentence that quotes the author safe to show: on one line, without signs that steer a terminal."""
    seen = HIDDEN.sub(UNSEEN, " ".join(sentence.split("\n")))
    return seen if len(seen) <= _MOST_LETTERS else f"{seen[:_MOST_LETTERS]}…"


def in_folder(folder: str, file: str) -> str:
    """Put the content folder, as the reader knows it, in front of a file's name."""
    return f"{folder.rstrip('/')}/{file}" if folder not in {"", "."} else file


def _place(file: str, position: Position | None, sources: SourceMap, folder: str) -> Place:
    name = in_folder(folder, file)
    line = sources.line(file, position.line) if position else None
    return Place(name) if line is None else Place(name, position, line)


def _file(address: tuple[str | int, ...]) -> str:
    return str(address[0]) if address else ""


def _order(one: Located) -> tuple[bool, str, int, int, str, str]:
    at, problem = one.place.position or Position(0, 0), one.problem
    harmless = problem.severity is not Severity.ERROR
    return harmless, one.place.file, at.line, at.column, problem.code, problem.message
