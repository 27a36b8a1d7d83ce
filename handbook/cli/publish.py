"""`handbook publish`: what readers see, with all that became new for them, and the way back."""

from __future__ import annotations

from pathlib import Path

import click

from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_findings
from handbook.cli.sites import answered_yes, as_seen_from_here, told_moment
from handbook.publishing import NotPublishedError, RefusedTargetError
from handbook.publishing.publication import known_history, mend, put_back, to_put_back
from handbook.publishing.zip_copy import refuse_zip

USUAL_TARGET = "published"


@click.command("publish")
@folder_argument
@click.option(
    "--to",
    "target",
    metavar="FOLDER",
    type=click.Path(path_type=Path),
    help="Where the site is put; `published` beside the content if left out.",
)
@click.option(
    "--zip",
    "zip_file",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Make a copy too that opens by a double click, without a web host.",
)
@click.option("--yes", is_flag=True, help="Do not ask.")
@click.option("--all", "every", is_flag=True, help="List every tempo that changes.")
@click.option(
    "--undo", is_flag=True, help="Put the site back that stood before the last publication."
)
@click.option(
    "--anyway",
    is_flag=True,
    help="Go on though the published folder or the clock is not as it was left.",
)
@click.option(
    "--json", "as_json", is_flag=True, help="Tell what was published as JSON for other programs."
)
def command(
    folder: Path | None,
    target: Path | None,
    zip_file: Path | None,
    *,
    yes: bool,
    every: bool,
    undo: bool,
    anyway: bool,
    as_json: bool,
) -> int:
    """Publish the site, after a look at what it changes for students and families.

    Checks the content, makes the site, looks through it for what should not be public, shows
    what is new since the last publication, and asks. Only then the new site takes the place of
    the old one, which is kept: --undo puts it back. The folder .published in the content
    remembers what was published: keep it.

    DIR is the content folder, the nearest one if left out.
    """
    content = content_folder(folder)
    place = target or as_seen_from_here(content.resolve().parent / USUAL_TARGET)
    if undo and (zip_file or as_json):
        raise Misuse("--undo makes no zip and no JSON: leave out --zip and --json")
    try:
        mend(content, place)
        if undo:
            return _undo(content, place, yes=yes, anyway=anyway)
        if zip_file:
            refuse_zip(zip_file, content, place)
        from handbook.cli.publish_site import Wish, publish_site  # noqa: PLC0415 - to go back is quick

        wish = Wish(place, zip_file, yes=yes, every=every, anyway=anyway, as_json=as_json)
        return publish_site(content, wish)
    except RefusedTargetError as refusal:
        raise Misuse(str(refusal)) from None
    except NotPublishedError as error:
        tell_findings(str(error), error.findings)
        return Exit.PROBLEMS


def _undo(content: Path, place: Path, *, yes: bool, anyway: bool) -> int:
    undone = to_put_back(place, content=content, anyway=anyway)
    zone = known_history(content, place).zone
    question = (
        f"Take publication {undone.number} of {told_moment(undone.instant, zone)} back, and put"
        f" the site before it to {place}?"
    )
    if not yes and not answered_yes(question, "Nothing was changed."):
        return Exit.CLEAN
    done = put_back(place, content=content, anyway=anyway)
    click.echo(f"Publication {done.undone.number} is taken back.")
    standing = done.standing
    if standing:
        click.echo(
            f"{place} is as publication {standing.number} of {told_moment(standing.instant, zone)} left it."
        )
    else:
        click.echo(f"{place} is as it was before publication {done.undone.number}.")
    click.echo("The content is as it is: change it before you publish again.")
    return Exit.CLEAN
