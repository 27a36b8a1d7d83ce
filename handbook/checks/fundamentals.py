"""Fundamentals that leave a step or a strand out."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.problems import Address, Problem, Severity
from handbook.schema.handbook import Handbook


@check
def skipped_level(handbook: Handbook) -> Iterator[Problem]:
    """The levels of a strand, or of the warm-up, leave one out.

    Players go from level to level; a number that is missing is most often a slip.

    Bad:

        exercises:
          - {id: long-tones, name: Long tones, level: 1}
          - {id: swells, name: Swells, level: 3}

    Good:

        exercises:
          - {id: long-tones, name: Long tones, level: 1}
          - {id: swells, name: Swells, level: 2}
    """
    for address, strand in traversal.strands(handbook):
        levels = [
            ((*address, "exercises", place, "level"), exercise.level)
            for place, exercise in enumerate(strand.exercises)
        ]
        yield from _skipped(f"the strand `{strand.id}`", levels)
    warm_ups: list[tuple[Address, int]] = [
        ((sourced.file, "warm_ups", place, "level"), warm_up.level)
        for sourced in handbook.fundamentals
        for place, warm_up in enumerate(sourced.item.warm_ups)
    ]
    yield from _skipped("the warm-up", warm_ups)


def _skipped(what: str, levels: Sequence[tuple[Address, int]]) -> Iterator[Problem]:
    before = 0
    for address, level in sorted(levels, key=lambda pair: pair[1]):
        if level > before + 1:
            missing = before + 1
            yield finding(
                f"{what} has a level {level}, but no level {missing}",
                address,
                f"number it {missing}, or add what comes before it",
                Severity.WARNING,
            )
        before = level


@check
def strand_not_in_order(handbook: Handbook) -> Iterator[Problem]:
    """An order of fundamentals is given, but leaves a strand out.

    Bad:

        order: [breathing]   # tone is a strand too

    Good:

        order: [breathing, tone]
    """
    ordered = {name for sourced in handbook.fundamentals for name in sourced.item.order}
    if not ordered or not ordered <= {strand.id for _, strand in traversal.strands(handbook)}:
        return  # a name that is unknown is told as unknown-strand
    for address, strand in traversal.strands(handbook):
        if strand.id not in ordered:
            yield finding(
                f"the strand `{strand.id}` is not in `order`",
                (*address, "id"),
                "add it where it comes in a rehearsal",
                Severity.WARNING,
            )


@check
def minutes_over_most(handbook: Handbook) -> Iterator[Problem]:
    """An exercise takes longer than it may.

    `most_minutes` is never passed in one rehearsal: deep breathing makes dizzy, and
    lips tire. `minutes` is how long the exercise takes.

    Bad:

        - {id: long-hiss, name: Long hiss, level: 1, minutes: 5, most_minutes: 3}

    Good:

        - {id: long-hiss, name: Long hiss, level: 1, minutes: 2, most_minutes: 3}
    """
    for address, exercise in traversal.exercises(handbook):
        minutes, most = exercise.minutes, exercise.most_minutes
        if minutes is not None and most is not None and minutes > most:
            yield finding(
                f"`{exercise.id}` takes {minutes} minutes, but may have at most {most}",
                (*address, "minutes"),
                f"write `minutes: {most}` or less, or allow more under most_minutes",
            )


@check
def starts_past_levels(handbook: Handbook) -> Iterator[Problem]:
    """An ensemble starts its fundamentals at a level that they do not have.

    It begins at the last level there is instead.

    Bad:

        starts_at: 7   # no strand has more than 6 levels

    Good:

        starts_at: 3
    """
    highest = {
        strand.id: max(exercise.level for exercise in strand.exercises)
        for _, strand in traversal.strands(handbook)
    }
    top = max(highest.values(), default=None)
    for address, ensemble in traversal.ensembles(handbook):
        if top is not None and ensemble.starts_at is not None and ensemble.starts_at > top:
            where = (*address, "starts_at")
            yield _past("the fundamentals end", ensemble.starts_at, top, where)
        for name, level in ensemble.strands_start_at.items():
            if name in highest and level > highest[name]:
                where = (*address, "strands_start_at", name)
                yield _past(f"the strand `{name}` ends", level, highest[name], where)


def _past(what: str, level: int, highest: int, address: Address) -> Problem:
    return finding(
        f"level {level} is wanted at the start, but {what} at level {highest}",
        address,
        f"write {highest} or less, or add the levels between",
        Severity.WARNING,
    )
