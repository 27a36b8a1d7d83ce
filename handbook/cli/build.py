"""`handbook build`: the site in a folder."""

from __future__ import annotations

import time
from pathlib import Path

import click

from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_findings, tell_problems, warning_count
from handbook.engines.making import make_site
from handbook.engines.mkdocs import MkDocsEngine
from handbook.pipeline import load_plan
from handbook.publishing import NotPublishedError, RefusedTargetError, put_right

USUAL_SITE = "site"


@click.command("build")
@folder_argument
@click.option(
    "--site",
    "target",
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    help="Where the site is put; `site` beside the content if left out.",
)
def command(folder: Path | None, target: Path | None) -> int:
    """Check the content and make the site.

    The old site is replaced only when the new one is whole. DIR is the content folder,
    `content` if left out.
    """
    begun = time.perf_counter()
    content = content_folder(folder)
    place = target or content.resolve().parent / USUAL_SITE
    put_right(place)
    outcome = load_plan(content)
    if outcome.plan is None:
        tell_problems(outcome, content)
        return Exit.PROBLEMS
    try:
        done = make_site(outcome.plan, content, place, engine=MkDocsEngine())
    except RefusedTargetError as refusal:
        raise Misuse(str(refusal)) from None
    except NotPublishedError as error:
        tell_findings(str(error), error.findings)
        return Exit.PROBLEMS
    seconds = time.perf_counter() - begun
    shown = target or _as_seen_from_here(place)
    for kept in done.kept:
        click.echo(
            f"handbook: {kept} is left of the old site: no build put it there, or it cannot be"
            " deleted; move it away",
            err=True,
        )
    click.echo(f"{done.pages} pages in {seconds:.1f} s: {shown}{_warnings(warning_count(outcome))}")
    return Exit.CLEAN


def _as_seen_from_here(place: Path) -> Path:
    here = Path.cwd()
    return place.relative_to(here) if place.is_relative_to(here) else place


def _warnings(count: int) -> str:
    if not count:
        return ""
    noun = "warning" if count == 1 else "warnings"
    return f" ({count} {noun}: `handbook check` shows them)"
