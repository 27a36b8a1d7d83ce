"""`handbook next`: the files of the next cycle or school year, made of the last ones."""

from __future__ import annotations

import stat
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import NoReturn

import click

from handbook.carrying.cycle import next_cycle
from handbook.carrying.model import CannotCarryError, NewFile
from handbook.carrying.writing import with_files, write_files
from handbook.carrying.year import calendar_span, newest_year, next_year, zone_of
from handbook.checks import REFERENCE_CHECKS
from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.folder import content_folder, folder_argument
from handbook.cli.messages import tell_problems
from handbook.cli.next_words import about_cycle, about_year, year_next
from handbook.domain.values.dates import parse_date
from handbook.domain.values.unreadable import UnreadableError
from handbook.loader.contents import Contents, read_contents
from handbook.loader.loading import load_contents
from handbook.pipeline import Outcome, checked, has_errors
from handbook.schema.handbook import Handbook
from handbook.school_calendar.model import CalendarFile, NoCalendarError


@click.group("next")
def command() -> None:
    """Begin the next cycle or the next school year from the last one.

    What stays the same is carried over, remarks and all; what had a date is not. Nothing
    that is there is changed.
    """


@command.command("cycle")
@folder_argument
@click.option("--id", "wanted", metavar="ID", help="The new cycle's folder, such as spring-2027.")
@click.option("--like", metavar="ID", help="The cycle that it is made of, if not the last one.")
@click.option(
    "--starts", metavar="DATE", help="Its first day, such as 2027-01-11; else the next rehearsal."
)
def cycle_command(
    folder: Path | None, wanted: str | None, like: str | None, starts: str | None
) -> int:
    """Write the next cycle's files, as a draft made of the last cycle's.

    Stages, their minutes, bands and numbers are carried over, and of the concert what most
    evenings share. Pieces, single days and notes with a date are not. A draft is kept out
    of the site and stops nothing.
    """
    content = content_folder(folder)
    first = _day(starts) if starts is not None else None
    contents, handbook = _read(content)
    try:
        made = next_cycle(handbook, contents, wanted_id=wanted, like=like, starts=first)
    except CannotCarryError as refusal:
        _refuse(refusal)
    _write(contents, f"cycles/{made.id}", made.files)
    click.echo("\n".join(about_cycle(content, made)))
    return Exit.CLEAN


@command.command("year")
@folder_argument
@click.option("--id", "wanted", metavar="ID", help="The new year's file, such as 2027-28.")
@click.option(
    "--school-days",
    "school_days",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="The district's calendar, a file that ends in .ics, to take the school days from.",
)
def year_command(folder: Path | None, wanted: str | None, school_days: Path | None) -> int:
    """Write the next school year's file, made of the last one's.

    Bells, meetings, day labels and rules such as `every: Wed` are carried over; days with a
    date are not. From a district's calendar come closures, early and late days, day labels,
    the first and last day and make-up days. What it leaves open is marked TO DO, and what
    was not understood is told line by line.
    """
    content = content_folder(folder)
    contents, handbook = _read(content)
    try:
        calendar = _calendar(handbook, school_days) if school_days is not None else None
        name = school_days.name if school_days is not None else ""
        made = next_year(
            handbook, contents, wanted_id=wanted, calendar=calendar, calendar_name=name
        )
    except CannotCarryError as refusal:
        _refuse(refusal)
    found = _checked(contents, made.file)
    _write(contents, made.file.name, (made.file,))
    click.echo("\n".join(about_year(content, made, calendar, name)))
    if found.problems:
        click.echo()
        tell_problems(found, content)
    click.echo("\n".join(year_next(content, made)))
    return Exit.CLEAN


def _calendar(handbook: Handbook, file: Path) -> CalendarFile:
    """Read a calendar file, which may lie anywhere. Raises CannotCarryError."""
    from handbook.school_calendar.blocks import MOST_BYTES  # noqa: PLC0415 - most runs read none
    from handbook.school_calendar.reading import read_calendar  # noqa: PLC0415

    if str(file).startswith(("http:", "https:", "webcal:")):
        raise CannotCarryError(f"{file} is an address: download the calendar, and give the file")
    try:
        kind = file.stat().st_mode
        if not stat.S_ISREG(kind):  # a pipe would be waited for
            what = "a folder" if stat.S_ISDIR(kind) else "no ordinary file"
            raise CannotCarryError(
                f"{file} is {what}: give the calendar's file, which ends in .ics"
            )
        with file.open("rb") as opened:
            raw = opened.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else "no file has such a name"
        raise CannotCarryError(f"{file} cannot be read: {why}") from None
    _, old = newest_year(handbook)
    try:
        return read_calendar(raw, zone_of(handbook), *calendar_span(old))
    except NoCalendarError as refusal:
        raise CannotCarryError(f"{file}: {refusal}") from None


def _checked(contents: Contents, file: NewFile) -> Outcome:
    """Check the new file beside the others; with an error in it, that is told and the command ends."""
    loaded = load_contents(with_files(contents, (file,)))
    found = loaded.problems
    if loaded.handbook is not None:
        found += checked(REFERENCE_CHECKS, loaded.handbook)
    own = Outcome(tuple(one for one in found if one.file == file.name), loaded.sources)
    if has_errors(own.problems):
        tell_problems(own, contents.folder)
        click.echo("Nothing was written: the new file would have these errors.", err=True)
        raise click.exceptions.Exit(Exit.PROBLEMS)
    return own


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
