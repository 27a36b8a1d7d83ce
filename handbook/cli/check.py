"""`handbook check`: everything that is to be mended, at once."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import click

from handbook.checks.texts import LACKING
from handbook.cli.editor_help import is_of_another_version
from handbook.cli.exit_codes import Exit
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.lacking_lines import lacking_lines
from handbook.cli.messages import as_typed, wants_colour
from handbook.ledger.places import LEDGER
from handbook.pipeline import has_errors, load_problems
from handbook.report import report_github, report_json, report_text


@click.command("check")
@folder_argument
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "github"]),
    default="text",
    show_default=True,
    help="For people, for programs, or for the lines of a change on GitHub.",
)
@click.option(
    "--translations",
    is_flag=True,
    help="List by file what the languages lack, in place of one line a language.",
)
def command(folder: Path | None, form: str, translations: bool) -> int:
    """Read and reckon everything, and say what is wrong; writes nothing.

    DIR is the content folder, the nearest one if left out.
    """
    content = content_folder(folder)
    outcome = load_problems(content)
    found, sources, name = outcome.problems, outcome.sources, content.as_posix()
    if form != "json" and not translations:
        found = tuple(one for one in found if one.code != LACKING)
    if form == "json":
        click.echo(
            report_json(found, sources, folder=name).encode(errors="backslashreplace"), nl=False
        )
    elif form == "github":
        click.echo(report_github(found, sources, folder=name).encode(errors="replace"), nl=False)
    else:
        colour = wants_colour(sys.stdout.isatty())
        click.echo(report_text(found, sources, folder=name, colour=colour), nl=False)
        if outcome.read:
            for line in lacking_lines(outcome.read, sources.homes, content):
                click.echo(line)
        if mendable := sum(problem.fix is not None for problem in found):
            what = "one of these" if mendable == 1 else f"{mendable} of these"
            click.echo(f"`{as_typed('fix', content)}` can mend {what} for you.")
        if is_of_another_version(content):
            renew = as_typed("fix", content)
            click.echo(f"What your editor knows of the fields is of another version: `{renew}`.")
        for line in _lost_ledger(content):
            click.echo(line)
    return Exit.PROBLEMS if has_errors(found) else Exit.CLEAN


def _lost_ledger(content: Path) -> Iterator[str]:
    """Tell that the list of publications is gone, where its copy still lies beside the usual place of the site."""
    if (content / LEDGER).exists():
        return
    from handbook.cli.publish import USUAL_TARGET  # noqa: PLC0415 - most need nothing of it
    from handbook.domain.history import NO_HISTORY  # noqa: PLC0415
    from handbook.publishing.forgotten import forgotten  # noqa: PLC0415
    from handbook.publishing.workplace import work_folder  # noqa: PLC0415

    lost = forgotten(work_folder(content.resolve().parent / USUAL_TARGET), NO_HISTORY)
    if lost:
        yield f"`{as_typed('publish', content)}` will stop: {lost.sentence()}."
        yield lost.way_back(content)
