"""What the stage needs between two turns of a concert."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from handbook.checks.check import check, finding
from handbook.checks.concert_traversal import concerts
from handbook.plan.model import Plan
from handbook.problems import Problem, Severity
from handbook.source.names import listed


@check
def pause_shorter_than_changeover(plan: Plan) -> Iterator[Problem]:
    """Chairs, stands or percussion change before a turn, in less time than a changeover takes.

    That is 4 minutes, or what `changeover` says. What stands under `before` comes in place
    of the usual changeover. If it holds no changeover of its own, the stage is reset in its
    minutes, remarks or not. With one among them its own minutes hold, however few.

    Bad:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
          - {ensemble: harbor, pieces: [tweed-kites], before: [{what: remarks, minutes: 1}]}

    Good:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
          - {ensemble: harbor, pieces: [tweed-kites], before: [{what: changeover, minutes: 4}, {what: remarks, minutes: 1}]}
    """
    for _, concert in concerts(plan):
        for turn in concert.day.seating.turns if concert.day.seating else ():
            if not turn.short or turn.reset is None or turn.free is None:
                continue
            who = listed([one.name.read(plan.languages[0]) for one in turn.ensembles], "and")
            has = (turn.free - turn.reset) // timedelta(minutes=1)
            yield finding(
                f"the stage is to be reset for {who} in {_minutes(has)}, but a changeover takes {_minutes(concert.item.changeover)}",
                (*turn.address, "before"),
                "put `{what: changeover, minutes: …}` first under `before` with the minutes it takes, or make the pause longer",
                Severity.WARNING,
            )


def _minutes(count: int) -> str:
    return "1 minute" if count == 1 else f"{count} minutes"
