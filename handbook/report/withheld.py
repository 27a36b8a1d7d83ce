"""Problems for eyes other than the director's: without a word of what is under `private`."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache

from handbook.problems import Problem
from handbook.report.places import Located, Place
from handbook.source.privacy import means_private, private_lines
from handbook.source.source_map import SourceMap

_MESSAGE = "something is to be mended under `private`, which is not shown here"
_HINT = "`handbook check` tells it in the terminal"


def without_private(found: Iterable[Located], sources: SourceMap) -> tuple[Located, ...]:
    """Leave out private lines, and what is said of them; the places stay.

    What is said of the name `private` itself stays too, since it repeats nothing else.
    """

    @cache
    def lines(file: str) -> frozenset[int]:
        known = sources.files.get(file)
        return private_lines(known.lines) if known else frozenset()

    def hidden(file: str, place: Place) -> bool:
        return place.position is not None and place.position.line in lines(file)

    def shown(one: Located) -> Located:
        own = hidden(one.problem.file, one.place)
        notes = tuple(
            (note, replace(place, line="") if hidden(str(note.address[0]), place) else place)
            for note, place in one.notes
        )
        place = replace(one.place, line="") if own else one.place
        return Located(_silenced(one.problem) if own else one.problem, place, notes)

    return tuple(map(shown, found))


def _silenced(problem: Problem) -> Problem:
    if problem.on_key and means_private(str(problem.address[-1])):
        return problem
    return replace(problem, message=_MESSAGE, hint=_HINT)
