"""`handbook binder`: what the director holds in the hand, in a folder that no reader sees."""

from __future__ import annotations

from pathlib import Path

import click

from handbook.cli.exit_codes import Exit, Misuse, refuse_unknown
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_findings, tell_problems
from handbook.pipeline import load_plan
from handbook.publishing import NotPublishedError, RefusedTargetError

USUAL_BINDER = "handbook-binder"


@click.command("binder")
@folder_argument
@click.option(
    "--to",
    "target",
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    help=f"Where the binder is put; `{USUAL_BINDER}` in your home folder if left out.",
)
@click.option(
    "--cycle", "cycles", multiple=True, metavar="ID", help="Only this cycle; may be repeated."
)
def command(folder: Path | None, target: Path | None, cycles: tuple[str, ...]) -> int:
    """Write the director's binder: what to hold in the hand at a rehearsal.

    It is private: a folder for the director alone, never in a site or beside one. Open its
    index.html; nothing in it needs a network. The old binder is replaced only when the new one
    is whole. DIR is the content folder, the nearest one if left out.
    """
    content = content_folder(folder)
    place = target or _usual_place(content)
    outcome = load_plan(content)
    if outcome.plan is None:
        tell_problems(outcome, content)
        return Exit.PROBLEMS
    refuse_unknown("cycle", cycles, [cycle.id for cycle in outcome.plan.cycles])
    from handbook.binder.assemble import binder_files, new_binder  # noqa: PLC0415 - needs templates
    from handbook.binder.writing import write_binder  # noqa: PLC0415

    binder = new_binder(outcome, content, cycles)
    assert binder is not None
    try:
        files = binder_files(binder)
        written = write_binder(files, place, content=content)
    except RefusedTargetError as refusal:
        raise Misuse(str(refusal)) from None
    except NotPublishedError as error:
        tell_findings(str(error), error.findings, "the old binder")
        return Exit.PROBLEMS
    pages = f"{written.pages} page{'s'[: written.pages != 1]}"
    click.echo(f"{pages}, for the director alone: {place / 'index.html'}")
    return Exit.CLEAN


def _usual_place(content: Path) -> Path:
    """Give the place for a binder that was not given one: far from where sites are put."""
    try:
        home = Path.home()
    except RuntimeError:
        raise Misuse("this computer knows no home folder: say where with --to") from None
    return home / USUAL_BINDER / content.resolve().parent.name
