"""What a check is: a function from the handbook to problems, named for the bad thing."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable
from functools import wraps
from typing import TypeVar

from handbook.problems import Problem

SubjectT = TypeVar("SubjectT")
Check = Callable[[SubjectT], tuple[Problem, ...]]


def check(find: Callable[[SubjectT], Iterable[Problem]]) -> Check[SubjectT]:
    """Make a check of a function that yields problems.

    Its name is the code of its problems, with hyphens; its docstring is what
    `handbook explain` prints: the rule, why, a bad snippet and a good one.
    """

    @wraps(find)
    def run(subject: SubjectT) -> tuple[Problem, ...]:
        return tuple(find(subject))

    return run


def code_of(one: Check[SubjectT]) -> str:
    """Give the code of a check's problems."""
    return one.__name__.replace("_", "-")


def explanation_of(one: Check[SubjectT]) -> str:
    """Give a check's explanation, without the indent of its source."""
    return inspect.getdoc(one) or ""
