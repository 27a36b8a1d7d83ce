"""`handbook compare`: what readers would learn anew since the last publication, or since another content folder."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from handbook.cli.change_lines import change_lines, change_values, how_many, reader_names
from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_problems
from handbook.cli.untold_lines import untold_lines
from handbook.domain.facts import Fact, compare
from handbook.domain.history import History, Publication
from handbook.ledger import read_ledger
from handbook.outputs.facts import facts_of
from handbook.pipeline import Outcome, load_plan
from handbook.plan.model import Plan

FORMAT = 1


@click.command("compare")
@click.argument("old", metavar="[OLD]", required=False, type=click.Path(path_type=Path))
@folder_argument
@click.option("--all", "every", is_flag=True, help="List every tempo that changes.")
@click.option("--json", "as_json", is_flag=True, help="As JSON for other programs.")
def command(old: Path | None, folder: Path | None, every: bool, as_json: bool) -> int:
    """Say what students and families would learn anew.

    OLD is the content folder as it was, such as a copy; without it the last publication
    counts. DIR is the content folder as it is, the nearest one if left out. One folder alone
    that is the nearest one itself is DIR. Nothing is written.
    """
    before, now = _folders(old, folder)
    outcome = _planned(now)
    plan = outcome.plan
    if plan is None:
        return Exit.PROBLEMS
    if before is None:
        history = _history(now)
        if history is None:
            return Exit.PROBLEMS
        last = history.standing[0] if history.standing else None
        names = reader_names(plan)
        ended = _tell(plan, history.facts, names, every, as_json, last, published=True)
        if last:
            changes = compare(history.facts, _facts(plan))
            day = last.instant.astimezone(plan.zone).date()
            for line in untold_lines(outcome, history.facts, changes, day):
                click.echo(line, err=as_json)
        return ended
    earlier = _planned(before).plan
    if earlier is None:
        return Exit.PROBLEMS
    return _tell(plan, _facts(earlier), reader_names(earlier, plan), every, as_json)


def _folders(old: Path | None, folder: Path | None) -> tuple[Path | None, Path]:
    """Give the folder as it was, None for the last publication, and the folder as it is."""
    if old is None:
        return None, content_folder(None)
    given = content_folder(old)
    if folder is not None:
        return given, content_folder(folder)
    try:
        nearest = content_folder(None)
    except Misuse:
        return None, given
    return (None, given) if given.samefile(nearest) else (given, nearest)


def _planned(content: Path) -> Outcome:
    outcome = load_plan(content)
    if outcome.plan is None:
        tell_problems(outcome, content)
    return outcome


def _history(content: Path) -> History | None:
    """Read what was published; what is wrong with it is told."""
    ledger = read_ledger(content)
    if ledger.problems:
        outcome = replace(load_plan(content), problems=ledger.problems)
        tell_problems(outcome, content)
        return None
    return ledger.history


def _facts(plan: Plan) -> tuple[Fact, ...]:
    return facts_of(plan)


def _tell(
    plan: Plan,
    before: tuple[Fact, ...],
    names: Mapping[str, str],
    every: bool,
    as_json: bool,
    last: Publication | None = None,
    *,
    published: bool = False,
) -> int:
    changes = compare(before, _facts(plan))
    if as_json:
        document: dict[str, Any] = {"format": FORMAT}
        if published:
            document["since"] = _since(last) if last else None
        document["changes"] = change_values(changes)
        click.echo(json.dumps(document, indent=2, ensure_ascii=False).encode())
        return Exit.CLEAN
    if published and last is None:
        click.echo(
            "Nothing has been published yet, so all of it would be new. Publish it with\n"
            "`handbook publish`, or compare with an older copy: `handbook compare OLD`."
        )
        return Exit.CLEAN
    if last:
        day = last.instant.astimezone(plan.zone)
        click.echo(f"Since publication {last.number}, of {day:%b} {day.day}, {day.year}:\n")
    for line in change_lines(changes, names, every=every, all_by="--all lists them"):
        click.echo(line)
    if changes:
        click.echo(f"{how_many(changes)}. Nothing was written.")
    return Exit.CLEAN


def _since(last: Publication) -> dict[str, Any]:
    return {"number": last.number, "instant": f"{last.instant:%Y-%m-%dT%H:%M:%SZ}"}
