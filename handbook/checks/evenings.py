"""Minutes at home that do not suffice for the passages."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks.check import check, finding
from handbook.plan.evenings import long_waits
from handbook.plan.model import Plan
from handbook.problems import Problem, Severity

_MOST_EVENINGS = 14  # two weeks (common practice, no source)


@check
def passage_seldom_at_home(plan: Plan) -> Iterator[Problem]:
    """A passage may wait at home for more than 14 evenings until it comes back.

    The minutes of `home_minutes` are shared out for each evening: a fifth is for an exercise, and
    a passage has about four. So ten minutes are enough for two passages, fifteen for three, twenty
    for four, and half of these places go round all passages by turns. With few minutes and many
    passages a turn comes so seldom that what was learned is forgotten.

    Bad:

        - {id: build, share: 3, home_minutes: 10}   # and twenty passages

    Good:

        - {id: build, share: 3, home_minutes: 20}
    """
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            for wait in long_waits(plan.program, ensemble, _MOST_EVENINGS):
                yield finding(
                    f"a passage of `{ensemble.item.id}` may wait for {wait.evenings} evenings at home: "
                    f"there are {wait.passages} passages, and {wait.minutes} minutes a day",
                    (*cycle.address, "stages", wait.stage.index, "home_minutes"),
                    _hint(wait.enough),
                    Severity.WARNING,
                )


def _hint(enough: int | None) -> str:
    if enough is None:
        return "make fewer passages of more measures"
    return f"give {enough} minutes a day, or make fewer passages of more measures"
