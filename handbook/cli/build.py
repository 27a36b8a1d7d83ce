"""`handbook build`: the site in a folder."""

from __future__ import annotations

import time
from pathlib import Path

import click

from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_findings, tell_problems
from handbook.cli.sites import as_seen_from_here, mkdocs, tell_left
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.publishing import NotPublishedError, Published, RefusedTargetError, publish, put_right
from handbook.store import user_store

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

    Only what changed since the last build is made anew. The old site is replaced only when
    the new one is whole. DIR is the content folder, the nearest one if left out.
    """
    begun = time.perf_counter()
    content = content_folder(folder)
    place = target or content.resolve().parent / USUAL_SITE

    def put(site: FinishedSite) -> tuple[Published, int]:
        return publish(site.files, place, content=content, hosts=site.hosts), site.warnings

    put_right(place)
    try:
        done = build(content, user_store(content), mkdocs, put)
    except RefusedTargetError as refusal:
        raise Misuse(str(refusal)) from None
    except NotPublishedError as error:
        tell_findings(str(error), error.findings)
        return Exit.PROBLEMS
    if not isinstance(done, tuple):
        tell_problems(done, content)
        return Exit.PROBLEMS
    published, warnings = done
    seconds = time.perf_counter() - begun
    shown = target or as_seen_from_here(place)
    tell_left(published)
    click.echo(f"{published.pages} pages in {seconds:.1f} s: {shown}{_warnings(warnings)}")
    return Exit.CLEAN


def _warnings(count: int) -> str:
    if not count:
        return ""
    noun = "warning" if count == 1 else "warnings"
    return f" ({count} {noun}: `handbook check` shows them)"
