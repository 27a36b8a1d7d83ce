"""`handbook fix`: writes what can be mended in one way alone, after asking."""

from __future__ import annotations

import difflib
import json
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from handbook.cli.editor_help import SCHEMA_FOLDER, outdated
from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import agrees_to_write, wants_colour
from handbook.fixing.rounds import FixedFile, find_fixes
from handbook.fixing.writing import NotWrittenError, write_fix, write_own
from handbook.pipeline import Outcome, has_errors, load_problems
from handbook.report import in_folder, report_json, report_text, rows


@click.command("fix")
@folder_argument
@click.option("--yes", is_flag=True, help="Write without asking, for scripts.")
@click.option("--show", is_flag=True, help="Show what would be written, and write nothing.")
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="For people or for programs; json asks nothing, and writes only with --yes.",
)
def command(folder: Path | None, yes: bool, show: bool, form: str) -> int:
    """Mend what can be mended in one way alone, such as `7.00 pm`; the rest is told as by `check`.

    Shows each change and asks before anything is written. Only the places that are shown
    change: remarks, order and blank lines stay. DIR is the content folder, the nearest one
    if left out.
    """
    if yes and show:
        raise Misuse("--yes writes and --show does not: give one of the two")
    content = content_folder(folder)
    name = content.as_posix()
    fixes = find_fixes(content, name)
    if form == "json":
        return _json(content, fixes, written=yes)
    for line in _shown(fixes, name):
        click.echo(line)
    _renew_editor_help(content, name, wanted=not show)
    if not fixes:
        click.echo("Nothing here can be mended in one way alone.\n")
    elif show or not (yes or agrees_to_write(len(fixes))):
        click.echo("Nothing was written.")
        return Exit.PROBLEMS
    else:
        _write(content, fixes)
    outcome = load_problems(content)
    colour = wants_colour(sys.stdout.isatty())
    click.echo(report_text(outcome.problems, outcome.sources, folder=name, colour=colour), nl=False)
    return _ended(outcome)


def _renew_editor_help(content: Path, folder: str, *, wanted: bool) -> None:
    """Renew the schemas that editors read, which are ours and hold nothing of the author's."""
    old = outdated(content)
    if not old:
        return
    shown = in_folder(folder, SCHEMA_FOLDER)
    if not wanted:
        click.echo(f"{shown} is of another version: `fix` renews it for your editor.\n")
        return
    for name, (before, after) in old.items():
        try:
            write_own(content, name, before, after)
        except NotWrittenError as refusal:
            click.echo(f"handbook: {refusal}", err=True)
    click.echo(f"{shown} is renewed: your editor knows the fields of this version.\n")


def _ended(outcome: Outcome) -> int:
    return Exit.PROBLEMS if has_errors(outcome.problems) else Exit.CLEAN


def _write(content: Path, fixes: Sequence[FixedFile]) -> tuple[FixedFile, ...]:
    """Write the files and say what was left alone; gives those that were written."""
    written = []
    for file in fixes:
        try:
            write_fix(content, file)
        except NotWrittenError as refusal:
            click.echo(f"handbook: {refusal}", err=True)
        else:
            written.append(file)
    noun = "file" if len(written) == 1 else "files"
    click.echo(f"{len(written)} {noun} written.\n", err=True)
    return tuple(written)


def _shown(fixes: Sequence[FixedFile], folder: str) -> Iterator[str]:
    """Give each file's mends in words, then the lines that change."""
    for file in fixes:
        name = in_folder(folder, file.name)
        yield click.style(name, bold=True) if _colour() else name
        for one in file.mended:
            at = one.place.position
            where = f"line {at.line}: " if at and file.before != file.after else ""
            yield f"  {where}{one.problem.message}"
        if file.renamed != file.name:
            yield f"  its new name: {in_folder(folder, file.renamed)}"
        yield from _difference(file, folder)
        yield ""


def _difference(file: FixedFile, folder: str) -> Iterator[str]:
    before, after = (raw.decode().splitlines() for raw in (file.before, file.after))
    names = in_folder(folder, file.name), in_folder(folder, file.renamed)
    for line in difflib.unified_diff(before, after, *names, n=1, lineterm=""):
        colour = {"+": "green", "-": "red"}.get(line[:1]) if _colour() else None
        yield click.style(line, fg=colour) if colour else line


def _colour() -> bool:
    return wants_colour(sys.stdout.isatty())


def _json(content: Path, fixes: Sequence[FixedFile], *, written: bool) -> int:
    """Print what is mended and what is left; `written` lists the files that were written."""
    done = _write(content, fixes) if written and fixes else ()
    outcome = load_problems(content)
    left = json.loads(report_json(outcome.problems, outcome.sources, folder=content.as_posix()))
    told = {
        "fixes": [
            {"file": file.name, "renamed": file.renamed, "mended": rows(file.mended)}
            for file in fixes
        ],
        "written": [file.renamed for file in done],
        "left": left,
    }
    text = json.dumps(told, indent=2, ensure_ascii=False) + "\n"
    click.echo(text.encode(errors="backslashreplace"), nl=False)
    return _ended(outcome)
