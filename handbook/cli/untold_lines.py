"""What is said of lost rehearsals without a date of when that became known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from handbook.domain.facts import ChangeKind, Fact, FactChange, Topic
from handbook.pipeline import Outcome
from handbook.plan.untold import LostRehearsal, untold

_LOST = {ChangeKind.GONE, ChangeKind.CANCELLED, ChangeKind.MOVED}
_REHEARSAL, _STEPS = "rehearsal", 4  # of a key: cycle, ensemble, this word, anchor


def untold_lines(
    outcome: Outcome, before: Iterable[Fact], changes: Iterable[FactChange], last: date
) -> Iterator[str]:
    """Name each line because of which rehearsals before the `last` publication's day are planned anew.

    `before` are the facts that were published. Where nothing was rehearsed before a loss and
    before that day, nothing that was said can change.
    """
    if outcome.handbook is None:
        return
    first: dict[tuple[str, str], date] = {}
    for fact in before:
        if (one := _rehearsal(fact)) is not None:
            key = (one.cycle, one.ensemble)
            first[key] = min(first.get(key, one.day), one.day)
    lost = [
        one
        for change in changes
        if change.kind in _LOST and change.old and (one := _rehearsal(change.old))
        if first[one.cycle, one.ensemble] < min(one.day, last)
    ]
    for address in untold(outcome.handbook, lost):
        at = outcome.sources.position(address)
        place = f"{address[0]}:{at.line}" if at else str(address[0])
        yield (
            f"{place}: `told:` with the day on which this became known keeps the rehearsals "
            "before that day as they were; without it they are planned anew."
        )


def _rehearsal(fact: Fact) -> LostRehearsal | None:
    steps = fact.key.split("/")
    if fact.topic is not Topic.DAY or fact.day is None or len(steps) != _STEPS:
        return None
    return LostRehearsal(steps[0], steps[1], fact.day) if steps[2] == _REHEARSAL else None
