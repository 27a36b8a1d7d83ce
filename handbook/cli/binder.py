"""`handbook binder`: what the director holds in the hand, in a folder that no reader sees."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from handbook.cli.asked_day import asked_day
from handbook.cli.exit_codes import Exit, Misuse, refuse_unknown
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_findings, tell_problems
from handbook.cli.sites import tell_left
from handbook.domain.values.dates import dated
from handbook.pipeline import load_plan
from handbook.plan.players import everyone
from handbook.publishing import NotPublishedError, RefusedTargetError
from handbook.store import user_store

if TYPE_CHECKING:
    from handbook.binder.model import Binder, BinderFile

USUAL_BINDER = "handbook-binder"
_MOST_LETTERS = 60  # of the name of a folder


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
@click.option(
    "--take",
    metavar="DATE[:BAND]",
    help="Only that day's rehearsals, as a folder to take along: stand view, sheets, recordings.",
)
def command(
    folder: Path | None, target: Path | None, cycles: tuple[str, ...], take: str | None
) -> int:
    """Write the director's binder: what to hold in the hand at a rehearsal.

    It is private: a folder for the director alone, never in a site or beside one. Open its
    index.html; nothing in it needs a network. The old binder is replaced only when the new one
    is whole. DIR is the content folder, the nearest one if left out.
    """
    if take and cycles:
        raise Misuse("--take is of one day: leave out --cycle")
    content = content_folder(folder)
    place = target or _usual_place(content, take)
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
        files = _of_one_day(binder, take) if take else binder_files(binder)
        store = user_store(content, "binder")
        written = write_binder(files, place, content=content, store=store)
        if not (take or cycles):
            store.tidy()
    except RefusedTargetError as refusal:
        raise Misuse(str(refusal)) from None
    except NotPublishedError as error:
        tell_findings(str(error), error.findings, "the old binder")
        return Exit.PROBLEMS
    tell_left(written, "binder")
    sheets = sum(file.path.endswith(".pdf") for file in files)
    counts = ((written.pages, "page"), (sheets, "sheet"))
    told = ", ".join(f"{count} {noun}{'s'[: count != 1]}" for count, noun in counts if count)
    click.echo(f"{told}, for the director alone: {place / 'index.html'}")
    return Exit.CLEAN


def _of_one_day(binder: Binder, take: str) -> Sequence[BinderFile]:
    """Make the files of the day that is asked for; Misuse for one without a rehearsal."""
    from handbook.binder.taken import rehearsal_days, taken_files  # noqa: PLC0415 - as above

    text, _, band = take.partition(":")
    day = asked_day(text, "--take")
    known = [one.id for one in everyone(binder.plan.program.ensembles)]
    refuse_unknown("ensemble", [band] if band else [], known)
    days = rehearsal_days(binder.plan, band or None)
    if day not in days:
        later = [one for one in days if one > day] or list(days[-1:])
        nearest = f": there is one on {dated(later[0])}" if later else ""
        raise Misuse(f"there is no rehearsal on {dated(day)}{nearest}")
    return taken_files(binder, day, band or None)


def _usual_place(content: Path, take: str | None = None) -> Path:
    """Give the place for a binder that was not given one: far from where sites are put."""
    try:
        home = Path.home()
    except RuntimeError:
        raise Misuse("this computer knows no home folder: say where with --to") from None
    day = f"-{take.replace(':', '-')}" if take else ""
    return home / USUAL_BINDER / f"{own_name(content.resolve(), home.resolve())}{day}"


def own_name(content: Path, home: Path) -> str:
    """Name a content folder by its way from the home folder, unlike that of any other: `bands-content`.

    Of a long way the end is kept, with a digest of the whole.
    """
    way = content.relative_to(home) if home in content.parents else content
    name = "-".join(part for part in way.parts if part != way.anchor)
    if len(name) <= _MOST_LETTERS:
        return name
    digest = hashlib.sha256(name.encode()).hexdigest()[:8]
    return f"{name[-_MOST_LETTERS:].strip('-')}-{digest}"
