"""`handbook compare`: what readers would learn anew, from one content folder to another."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from pathlib import Path

import click

from handbook.cli.exit_codes import Exit
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_problems
from handbook.domain.facts import FactChange, Topic, compare, without_parts
from handbook.outputs.facts import facts_of
from handbook.outputs.html.formatting import listed
from handbook.outputs.page import Context
from handbook.pipeline import load_plan
from handbook.plan.model import Plan
from handbook.plan.players import everyone

FORMAT = 1
_WIDTH = 80
_MOST_TEMPOS = 6  # of one band, in the terminal; `--all` and `--json` have every one


@click.command("compare")
@click.argument("old", type=click.Path(path_type=Path))
@folder_argument
@click.option("--all", "every", is_flag=True, help="List every tempo that changes.")
@click.option("--json", "as_json", is_flag=True, help="As JSON for other programs.")
def command(old: Path, folder: Path | None, every: bool, as_json: bool) -> int:
    """Say what students and families would learn anew.

    OLD is the content folder as it was, such as a copy; DIR the content folder as it is,
    the nearest one if left out. Nothing is written.
    """
    plans = []
    for one in (content_folder(old), content_folder(folder)):
        outcome = load_plan(one)
        if outcome.plan is None:
            tell_problems(outcome, one)
            return Exit.PROBLEMS
        plans.append(outcome.plan)
    before, after = (facts_of(Context(plan, plan.languages[0])) for plan in plans)
    changes = compare(before, after)
    if as_json:
        click.echo(_json(changes).encode())
    else:
        click.echo("\n".join(_lines(changes, _names(plans), every=every)))
    return Exit.CLEAN


def _json(changes: Sequence[FactChange]) -> str:
    found = [
        {
            "key": change.key,
            "kind": change.kind.value,
            "topic": change.fact.topic.name.lower(),
            "day": change.fact.day.isoformat() if change.fact.day else None,
            "readers": list(change.readers),
            "before": change.old.value if change.old else None,
            "after": change.new.value if change.new else None,
            "sentence": change.sentence,
        }
        for change in changes
    ]
    return json.dumps({"format": FORMAT, "changes": found}, indent=2, ensure_ascii=False)


def _names(plans: Sequence[Plan]) -> Mapping[str, str]:
    return {
        one.id: one.name.read(plan.languages[0])
        for plan in plans
        for one in everyone(plan.program.ensembles)
    }


def _lines(
    changes: Sequence[FactChange], names: Mapping[str, str], *, every: bool
) -> Iterator[str]:
    shown = without_parts(changes)
    if not shown:
        yield "Nothing changes for anyone."
        return
    order = {name: place for place, name in enumerate(names)}
    by_readers = sorted(shown, key=lambda change: [order.get(one, 0) for one in change.readers])
    for readers, group in groupby(by_readers, key=lambda change: change.readers):
        yield f"For {listed([names[one] for one in readers]) if readers else 'everyone'}"
        yield from _group(list(group), every=every)
        yield ""
    number = len(shown)
    yield f"{number} {'change' if number == 1 else 'changes'}. Nothing was written."


def _group(changes: Sequence[FactChange], *, every: bool) -> Iterator[str]:
    """List the changes for some readers, tempos last; of many tempos only the first."""
    tempos = [change for change in changes if change.fact.topic is Topic.TEMPO]
    left_out = set() if every else set(map(id, tempos[_MOST_TEMPOS:]))
    for change in sorted(changes, key=lambda change: change.fact.topic is Topic.TEMPO):
        if id(change) not in left_out:
            yield textwrap.fill(
                change.sentence, _WIDTH, initial_indent="  ", subsequent_indent="      "
            )
    if left_out:
        more = "tempo" if len(left_out) == 1 else "tempos"
        yield f"  and {len(left_out)} more {more} to practice: --all lists them"
