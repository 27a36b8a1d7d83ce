"""Problems for eyes other than the director's: without a word of logs and of what is under `private`."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache

from handbook.problems import Problem
from handbook.report.places import Located, Place
from handbook.source.privacy import is_log, means_private, own_lines
from handbook.source.source_map import SourceMap

_MESSAGE = "something is to be mended under `private`, which is not shown here"
_IN_LOG = "something is to be mended in this log, which is not shown here"
_BY_LOG = "this log says so"
_HINT = "`handbook check` tells it in the terminal"


def without_private(found: Iterable[Located], sources: SourceMap) -> tuple[Located, ...]:
    """Leave out logs and private lines, and what is said of them; the places stay.

    What is said of the name `private` itself stays too, since it repeats nothing else.
    """

    @cache
    def lines(file: str) -> frozenset[int]:
        known = sources.files.get(file)
        return own_lines(file, known.lines, known.root) if known else frozenset()

    def hidden(file: str, place: Place) -> bool:
        return place.position is not None and place.position.line in lines(file)

    def shown(one: Located) -> Located:
        own = hidden(one.problem.file, one.place)
        notes = tuple(
            (
                replace(note, message=_BY_LOG) if is_log(str(note.address[0])) else note,
                replace(place, line="") if hidden(str(note.address[0]), place) else place,
            )
            for note, place in one.notes
        )
        place = replace(one.place, line="") if own else one.place
        return Located(_silenced(one.problem) if own else one.problem, place, notes)

    return tuple(map(shown, found))


def _silenced(problem: Problem) -> Problem:
    if problem.on_key and means_private(str(problem.address[-1])):
        return problem
    message = _IN_LOG if is_log(problem.file) else _MESSAGE
    return replace(problem, message=message, hint=_HINT)
