"""Passages against the music they are of, and against the season they are rehearsed in."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from handbook.checks.check import check, finding
from handbook.checks.wording import day, first_few
from handbook.domain.stretches import gaps
from handbook.domain.values.measures import MeasureSpan
from handbook.plan.model import EnsemblePlan, PassageRow, PieceRow, Plan
from handbook.plan.season_need import lock_place
from handbook.problems import Address, Problem, Severity

_SECTION = 8  # measures of a part that is worth practicing: common practice, no source
_LONG = (
    32  # measures in a row that are too many without a passage, whatever the form: our own choice
)


@check
def measures_without_passage(plan: Plan) -> Iterator[Problem]:
    """A section of a piece belongs to no passage.

    It has no tempos on the way to its goal, no minutes of its own and no line on how to
    practice it: only joins and runs play it. Told are parts of the form of 8 measures or
    more in which no passage has a measure, and any 32 measures in a row without one. The
    rest of a part beside a passage is left to joins and runs.

    Bad:

        form:
          - {name: Platform, measures: 1-8, meter: 4/4, tempo: quarter = 88}
          - {name: Wheel, measures: 9-32, meter: 7/8 (2+2+3), tempo: quarter = 132}
        passages:
          - {id: platform, name: Platform, measures: 1-8, goal: quarter = 88}

    Good:

        passages:
          - {id: platform, name: Platform, measures: 1-8, goal: quarter = 88}
          - {id: wheel, name: Wheel, measures: 9-32, goal: quarter = 132}
    """
    for cycle in plan.cycles:
        pieces = {piece.address: piece for band in cycle.ensembles for piece in band.pieces}
        for piece in pieces.values():
            found = _worth_practicing(piece)
            if found:
                told = first_few([str(span) for span in found])
                yield finding(
                    f"no passage of `{piece.item.id}` has measures {told}",
                    (*piece.address, "passages"),
                    "name a passage there, with the goal that it has to reach",
                    Severity.WARNING,
                    on_key=True,
                )


def _worth_practicing(piece: PieceRow) -> list[MeasureSpan]:
    """List the gaps that are long, or hold a whole part of the form that is long enough."""
    form = [part.measures for part in piece.item.form]
    between = gaps(form, [passage.measures for passage in piece.item.passages])
    return [
        gap
        for gap in between
        if gap.count >= _LONG
        or any(
            part.count >= _SECTION and gap.first <= part.first and part.last <= gap.last
            for part in form
        )
    ]


@check
def lock_changes_nothing(plan: Plan) -> Iterator[Problem]:
    """A passage is to be at its goal by a date at which it is there anyway.

    Without `lock_by` passages are at their goals by the middle of the last stage, or
    `at_goal` rehearsals before the concert. A lock brings one forward; it
    never puts one off.

    Bad:

        lock_by: polish   # the last stage

    Good:

        lock_by: build
    """
    for cycle in plan.cycles:
        anyway: dict[Address, tuple[PassageRow, date]] = {}
        needed: set[Address] = set()  # by one of the bands that play it
        for ensemble in cycle.ensembles:
            dates = [row.rehearsal.day for row in ensemble.rehearsals]
            for passage, usual in _usual_places(ensemble):
                if lock_place(passage.item, ensemble.stages, dates, usual) > usual:
                    anyway[passage.address] = passage, dates[usual]
                else:
                    needed.add(passage.address)
        for address, (passage, there) in anyway.items():
            if address not in needed:
                yield finding(
                    f"`{passage.item.id}` is to be at its goal by {day(there)} in any case, "
                    "so this lock changes nothing",
                    (*address, "lock_by"),
                    "leave it out, or name an earlier date or stage",
                    Severity.WARNING,
                )


def _usual_places(ensemble: EnsemblePlan) -> Iterator[tuple[PassageRow, int]]:
    """Give the passages that state a lock, each with the place at which it is at its goal without."""
    if ensemble.season is None:
        return
    for piece in ensemble.pieces:
        for passage in piece.passages:
            if passage.item.lock_by is not None:
                yield passage, ensemble.season.usual[piece.item.id, passage.item.id]
