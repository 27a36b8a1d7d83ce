"""Changes in a terminal of 80 columns, by who reads them, and as values for JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any

from handbook.domain.facts import FactChange, Topic, without_parts
from handbook.outputs.facts.telling import change_words, told_together
from handbook.outputs.html.formatting import listed
from handbook.plan.model import Plan
from handbook.plan.players import everyone

_WIDTH = 80
_MOST_TEMPOS = 6  # of one band


def change_lines(
    changes: Sequence[FactChange], names: Mapping[str, str], *, every: bool, all_by: str
) -> Iterator[str]:
    """List changes by their readers, an empty line after each; parts of what is new or gone go without saying.

    `names` are those of ensembles by their ids, in their order (`reader_names`); one that is
    no longer among them goes by its id. Of many tempos for one band only the first are
    listed unless `every`; the line on the others ends with `all_by`, which says how to see them.
    """
    shown = without_parts(changes)
    if not shown:
        yield "Nothing changes for anyone."
        return
    order = {name: place for place, name in enumerate(names)}
    by_readers = sorted(
        shown, key=lambda change: [order.get(one, len(order)) for one in change.readers]
    )
    for readers, group in groupby(by_readers, key=lambda change: change.readers):
        yield f"For {listed([names.get(one, one) for one in readers]) if readers else 'everyone'}"
        yield from _group(list(group), names, every=every, all_by=all_by)
        yield ""


def how_many(changes: Sequence[FactChange]) -> str:
    """Say how many changes `change_lines` lists."""
    number = len(without_parts(changes))
    return f"{number} {'change' if number == 1 else 'changes'}"


def change_values(changes: Sequence[FactChange]) -> list[dict[str, Any]]:
    """Give every change as a JSON object; days are `2026-12-10`, None for all of a cycle."""
    return [
        {
            "key": change.key,
            "kind": change.kind.value,
            "topic": change.fact.topic.name.lower(),
            "day": change.fact.day.isoformat() if change.fact.day else None,
            "readers": list(change.readers),
            "before": change.old.value if change.old else None,
            "after": change.new.value if change.new else None,
            "sentence": change_words(change),
        }
        for change in changes
    ]


def reader_names(*plans: Plan) -> Mapping[str, str]:
    """Give the names of all ensembles and groups of plans by their ids, each in its plan's first language."""
    return {
        one.id: one.name.read(plan.languages[0])
        for plan in plans
        for one in everyone(plan.program.ensembles)
    }


def _group(
    changes: Sequence[FactChange], names: Mapping[str, str], *, every: bool, all_by: str
) -> Iterator[str]:
    """List the changes for some readers, tempos last; of many tempos only the first."""
    tempos = [change for change in changes if change.fact.topic is Topic.TEMPO]
    left_out = set() if every else set(map(id, tempos[_MOST_TEMPOS:]))
    in_order = sorted(changes, key=lambda change: change.fact.topic is Topic.TEMPO)
    shown = [change for change in in_order if id(change) not in left_out]
    for one in told_together(shown, names, headed=True):
        yield textwrap.fill(one.sentence, _WIDTH, initial_indent="  ", subsequent_indent="      ")
    if left_out:
        more = "tempo" if len(left_out) == 1 else "tempos"
        yield f"  and {len(left_out)} more {more} to practice: {all_by}"
