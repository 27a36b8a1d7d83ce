"""`handbook next`: the files of the next cycle or school year, made of the last ones."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import NoReturn

import click

from handbook.carrying.cycle import NextCycle, next_cycle
from handbook.carrying.dates import in_words
from handbook.carrying.model import CannotCarryError, NewFile
from handbook.carrying.writing import write_files
from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import as_typed, tell_problems
from handbook.domain.values.dates import parse_date
from handbook.domain.values.unreadable import UnreadableError
from handbook.loader.contents import Contents, read_contents
from handbook.loader.loading import load_contents
from handbook.pipeline import Outcome, has_errors
from handbook.schema.handbook import Handbook

_WIDTH = 80


@click.group("next")
def command() -> None:
    """Begin the next cycle or the next school year from the last one.

    What stays the same is carried over, remarks and all; what had a date is not. Nothing
    that is there is changed.
    """


@command.command("cycle")
@folder_argument
@click.option("--id", "wanted", metavar="ID", help="The new cycle's folder, such as spring-2027.")
@click.option(
    "--starts", metavar="DATE", help="Its first day, such as 2027-01-11; else the next rehearsal."
)
def cycle_command(folder: Path | None, wanted: str | None, starts: str | None) -> int:
    """Write the next cycle's files, as a draft made of the last cycle's.

    Stages, their minutes, bands and numbers are carried over, and of the concert what most
    evenings share. Pieces, single days and notes with a date are not. A draft is kept out
    of the site and stops nothing.
    """
    content = content_folder(folder)
    first = _day(starts) if starts is not None else None
    contents, handbook = _read(content)
    try:
        made = next_cycle(handbook, contents, wanted_id=wanted, starts=first)
    except CannotCarryError as refusal:
        _refuse(refusal)
    _write(contents, f"cycles/{made.id}", made.files)
    click.echo("\n".join(_about_cycle(content, made)))
    return Exit.CLEAN


def _day(text: str) -> date:
    try:
        return parse_date(text)
    except UnreadableError as error:
        hint = f"; write {error.suggestions[0]}" if error.suggestions else ""
        raise Misuse(f"--starts: {error}{hint}") from None


def _read(content: Path) -> tuple[Contents, Handbook]:
    """Read the content; where it has errors, they are told and the command ends."""
    contents = read_contents(content)
    loaded = load_contents(contents)
    if loaded.handbook is None or has_errors(loaded.problems):
        tell_problems(Outcome(loaded.problems, loaded.sources), content)
        click.echo("Nothing was written: the next one is made of files without errors.", err=True)
        raise click.exceptions.Exit(Exit.PROBLEMS)
    return contents, replace(loaded.handbook, cycles=(*loaded.handbook.cycles, *loaded.drafts))


def _refuse(refusal: CannotCarryError) -> NoReturn:
    raise Misuse(f"{refusal}; nothing was written") from None


def _write(contents: Contents, place: str, files: tuple[NewFile, ...]) -> None:
    try:
        write_files(contents.folder, place, files)
    except CannotCarryError as refusal:
        _refuse(refusal)


def _about_cycle(content: Path, made: NextCycle) -> Iterator[str]:
    yield from _wrapped(
        f"{content / 'cycles' / made.id}: the next cycle as a draft, made of {made.of}, from"
        f" {in_words(made.starts)} to {in_words(made.ends)} (both are only guesses)."
    )
    yield ""
    yield "For you to write:"
    yield from _items(made.to_do)
    if made.left_out:
        yield ""
        yield "Not carried over:"
        yield from _items(made.left_out)
    yield ""
    yield from _wrapped(
        f"Next: open the files; `{as_typed('check', content)}` says what is missing."
    )


def _items(sentences: Iterable[str]) -> Iterator[str]:
    for one in sentences:
        yield textwrap.fill(one, _WIDTH, initial_indent="  ", subsequent_indent="    ")


def _wrapped(sentence: str) -> Iterator[str]:
    yield textwrap.fill(sentence, _WIDTH, break_long_words=False, break_on_hyphens=False)
