"""`handbook compare`: what readers would learn anew, from one content folder to another."""

from __future__ import annotations

import json
from pathlib import Path

import click

from handbook.cli.change_lines import change_lines, change_values, how_many, reader_names
from handbook.cli.exit_codes import Exit
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_problems
from handbook.domain.facts import compare
from handbook.outputs.facts import facts_of
from handbook.outputs.page import Context
from handbook.pipeline import load_plan

FORMAT = 1


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
        document = {"format": FORMAT, "changes": change_values(changes)}
        click.echo(json.dumps(document, indent=2, ensure_ascii=False).encode())
    else:
        names = reader_names(*plans)
        for line in change_lines(changes, names, every=every, all_by="--all lists them"):
            click.echo(line)
        if changes:
            click.echo(f"{how_many(changes)}. Nothing was written.")
    return Exit.CLEAN
