"""`handbook plan`: what follows from the content, without making a site."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import click
from rich.console import Console, Group

from handbook.cli.care_tables import care_tables
from handbook.cli.exit_codes import Exit, Misuse, refuse_unknown
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import as_typed, tell_problems
from handbook.cli.plan_events import event_table
from handbook.cli.plan_home import home_tables
from handbook.cli.plan_json import plan_text
from handbook.cli.plan_tables import cycle_tables
from handbook.cli.plan_thanks import thanks_tables
from handbook.loader.loading import cycle_of
from handbook.pipeline import Outcome, load_plan, with_drafts
from handbook.plan.events import first_day_of, last_day_of
from handbook.plan.events_model import EventRow
from handbook.plan.model import CyclePlan, Plan
from handbook.plan.players import everyone

_WIDTH = 80


_WHAT_IFS = "--without, --without-piece, --concert-on or --goal"


@click.command("plan")
@folder_argument
@click.option(
    "--cycle", "cycles", multiple=True, metavar="ID", help="Only this cycle; may be repeated."
)
@click.option(
    "--ensemble",
    "ensembles",
    multiple=True,
    metavar="ID",
    help="Only this ensemble; may be repeated.",
)
@click.option("--json", "as_json", is_flag=True, help="As JSON for other programs.")
@click.option("--care", is_flag=True, help="Sound and lifting by published rules, for staff only.")
@click.option("--home", is_flag=True, help="What players practice at home, evening by evening.")
@click.option("--thanks", is_flag=True, help="Whom the opening thanks go to, in turn.")
@click.option(
    "--without",
    multiple=True,
    metavar="DATE[:BAND]",
    help="What if this day is lost, for all or for one band; may be repeated.",
)
@click.option(
    "--without-piece",
    "without_pieces",
    multiple=True,
    metavar="ID",
    help="What if this piece is dropped; may be repeated.",
)
@click.option(
    "--concert-on",
    "concerts",
    multiple=True,
    metavar="[ID=]DATE",
    help="What if the concert is on this day.",
)
@click.option(
    "--goal",
    "goals",
    multiple=True,
    metavar="PIECE/PASSAGE=TEMPO",
    help="What if a passage has this goal; may be repeated.",
)
@click.option(
    "--from",
    "since",
    metavar="DATE",
    help="With a what-if: known since this day, so that rehearsals before it stay.",
)
@click.option("--all", "every", is_flag=True, help="With a what-if: list all tempos and passages.")
def command(
    folder: Path | None,
    cycles: tuple[str, ...],
    ensembles: tuple[str, ...],
    as_json: bool,
    care: bool,
    home: bool,
    thanks: bool,
    without: tuple[str, ...],
    without_pieces: tuple[str, ...],
    concerts: tuple[str, ...],
    goals: tuple[str, ...],
    since: str | None,
    every: bool,
) -> int:
    """Show every rehearsal with its number, stage, minutes and tempos.

    DIR is the content folder, the nearest one if left out. Cycles that are drafts are shown as
    such. With a what-if, such as
    `--without 2026-12-07`, show what would change, what the season would lose, and the lines
    that would do it. What-ifs combine. Nothing is written.
    """
    what_if = bool(without or without_pieces or concerts or goals)
    alone = [
        name for name, given in (("--care", care), ("--home", home), ("--thanks", thanks)) if given
    ]
    if alone and (as_json or what_if or alone[1:]):
        other = "--json" if as_json else "the what-if" if what_if else alone[1]
        raise Misuse(f"{alone[0]} stands alone: leave out {other}")
    if (since or every) and not what_if:
        option = "--from" if since else "--all"
        raise Misuse(f"{option} goes with a what-if: add {_WHAT_IFS}")
    content = content_folder(folder)
    outcome = load_plan(content)
    if outcome.plan is None or outcome.handbook is None:
        tell_problems(outcome, content)
        return Exit.PROBLEMS
    plan, left_out = with_drafts(outcome.plan, outcome.handbook, () if what_if else outcome.drafts)
    lost = dict.fromkeys((*left_out, *outcome.broken_drafts))
    asked = next((name for name in cycles if name in lost), None)
    if asked:
        raise Misuse(
            f"the draft `{asked}` has errors{_where(outcome, asked)}: see {_check(content)}"
        )
    for name in lost:
        click.echo(
            f"The draft {name} has errors{_where(outcome, name)} and is left out: "
            f"see {_check(content)}",
            err=True,
        )
    chosen = _chosen(plan, cycles, ensembles)
    if what_if:
        from handbook.cli.what_if import WhatIf, tell_what_if  # noqa: PLC0415 - for this alone

        wish = WhatIf(without, without_pieces, concerts, goals, since)
        return tell_what_if(outcome, wish, cycles, ensembles, every=every, as_json=as_json)
    events = _events(plan, chosen if cycles else None, ensembles)
    if as_json:
        click.echo(plan_text(plan, chosen, events).encode())
    else:
        draw = _tables(care=care, home=home, thanks=thanks)
        _print_tables(plan, chosen, draw)
        if events and draw is cycle_tables:
            _console().print(event_table(events, plan.languages[0]))
    return Exit.CLEAN


def _check(content: Path) -> str:
    return as_typed("check", content)


def _where(outcome: Outcome, draft: str) -> str:
    """Name the first line of a draft of which something is told, if any is."""
    for problem in outcome.problems:
        if cycle_of(problem.file) == draft:
            at = problem.position or outcome.sources.position(
                problem.address, on_key=problem.on_key
            )
            return f" ({problem.file}:{at.line})" if at else f" ({problem.file})"
    return ""


def _chosen(
    plan: Plan, cycles: tuple[str, ...], ensembles: tuple[str, ...]
) -> tuple[CyclePlan, ...]:
    """Leave only what was asked for; without a wish, everything."""
    refuse_unknown("cycle", cycles, [cycle.id for cycle in plan.cycles])
    refuse_unknown("ensemble", ensembles, [one.id for one in everyone(plan.program.ensembles)])
    return tuple(
        replace(
            cycle,
            ensembles=tuple(
                one for one in cycle.ensembles if not ensembles or one.item.id in ensembles
            ),
        )
        for cycle in plan.cycles
        if not cycles or cycle.id in cycles
    )


def _events(
    plan: Plan, cycles: tuple[CyclePlan, ...] | None, ensembles: tuple[str, ...]
) -> tuple[EventRow, ...]:
    """Leave only the events of the ensembles asked for that touch the days of the cycles asked for."""
    return tuple(
        event
        for event in plan.events
        if (not ensembles or any(one.id in ensembles for one in event.ensembles))
        and (
            cycles is None
            or any(
                first_day_of(event) <= cycle.last and cycle.first <= last_day_of(event)
                for cycle in cycles
            )
        )
    )


def _tables(*, care: bool, home: bool, thanks: bool) -> Callable[[Plan, CyclePlan], Group]:
    """Give what draws the tables that were asked for, those of the season if none were."""
    asked = ((care, care_tables), (home, home_tables), (thanks, thanks_tables))
    return next((draw for wanted, draw in asked if wanted), cycle_tables)


def _print_tables(
    plan: Plan,
    cycles: tuple[CyclePlan, ...],
    draw: Callable[[Plan, CyclePlan], Group],
) -> None:
    console = _console()
    for cycle in cycles:
        console.print(draw(plan, cycle))


def _console() -> Console:
    """Give a terminal that shows texts of the content as they are: `[/b]` and `:bell:` mean nothing."""
    return Console(
        width=None if sys.stdout.isatty() else _WIDTH, highlight=False, markup=False, emoji=False
    )
