"""What a check is: a function from the handbook to problems, named for the bad thing."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import wraps
from itertools import islice
from typing import TypeVar

from handbook.problems import MOST_OF_A_KIND, Address, Code, Note, Problem, Severity

SubjectT = TypeVar("SubjectT")
_MOST_PLACES = 3
_MOST_NAMES = 1000  # places at which names are looked up to tell of them
Check = Callable[[SubjectT], tuple[Problem, ...]]


def check(find: Callable[[SubjectT], Iterable[Problem]]) -> Check[SubjectT]:
    """Make a check of a function that yields problems.

    Its name is the code of its problems, with hyphens; its docstring is what
    `handbook explain` prints: the rule, why, a bad snippet and a good one. What it finds
    is made by `finding`, which leaves the code to its name.
    """
    code = find.__name__.replace("_", "-")

    @wraps(find)
    def run(subject: SubjectT) -> tuple[Problem, ...]:
        return tuple(replace(problem, code=code) for problem in _first(find(subject)))

    return run


def _first(found: Iterable[Problem]) -> Iterator[Problem]:
    """Give no more errors than anyone reads: content that is absurd would have millions."""
    errors = 0
    for problem in found:
        errors += problem.severity is Severity.ERROR
        if errors >= MOST_OF_A_KIND:
            yield replace(problem, more=MOST_OF_A_KIND)
            return
        yield problem


def check_of(code: Code) -> Callable[[Callable[[SubjectT], Iterable[Problem]]], Check[SubjectT]]:
    """Make a check whose code and explanation stand where the plan raises the same problem."""

    def decorate(find: Callable[[SubjectT], Iterable[Problem]]) -> Check[SubjectT]:
        run = check(find)
        run.__doc__ = code.explanation
        return run

    return decorate


def finding(
    message: str,
    address: Address,
    hint: str = "",
    severity: Severity = Severity.ERROR,
    notes: tuple[Note, ...] = (),
    *,
    on_key: bool = False,
) -> Problem:
    """Make a problem that a check has found; its code is the name of the check."""
    return Problem("", message, address, hint, severity, notes, on_key=on_key)


def once_a_name(
    find: Callable[[SubjectT], Iterable[Problem]],
) -> Callable[[SubjectT], Iterator[Problem]]:
    """Tell problems with the same sentence once, with notes on where it holds too."""

    @wraps(find)
    def run(subject: SubjectT) -> Iterator[Problem]:
        by_sentence: dict[str, list[Problem]] = {}
        for problem in islice(find(subject), _MOST_NAMES):
            by_sentence.setdefault(problem.message, []).append(problem)
        for first, *others in by_sentence.values():
            yield replace(first, notes=(*first.notes, *_elsewhere(others)))

    return run


def _elsewhere(others: Sequence[Problem]) -> Iterator[Note]:
    for problem in others[:_MOST_PLACES]:
        yield Note("it is named here too", problem.address)
    more = len(others) - _MOST_PLACES
    if more > 0:
        places = "1 more place" if more == 1 else f"{more} more places"
        yield Note(f"it is named in {places}, the last of them here", others[-1].address)


def code_of(one: Check[SubjectT]) -> str:
    """Give the code of a check's problems."""
    return one.__name__.replace("_", "-")


def explanation_of(one: Check[SubjectT]) -> str:
    """Give a check's explanation, without the indent of its source."""
    return inspect.getdoc(one) or ""
