"""`handbook new`: a small content folder to begin with."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from handbook.cli.editor_help import schema_files
from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.messages import as_typed
from handbook.cli.starter_dates import StarterCycle, StarterYear, starter_dates
from handbook.resources import templates_folder

_ENDING = ".j2"
_SCHOOL = "Your School"


@click.command("new")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def command(folder: Path) -> int:
    """Write a small example into the new folder DIR, to be overwritten step by step.

    Its dates are current, it checks clean, and it can be built at once.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Misuse(f"{folder} is there already and not empty: choose a new name")
    year, cycle = starter_dates(date.today())  # noqa: DTZ011 - the day on the director's calendar
    try:
        count = write_starter(folder, year, cycle)
    except OSError as error:
        raise Misuse(f"{folder} cannot be written: {error.strerror}") from None
    click.echo(
        f"{folder}: {count} files, a {cycle.name.lower()} from {cycle.starts:%b} {cycle.starts.day}"
        f" to a concert on {cycle.concert:%b} {cycle.concert.day}, {cycle.concert.year}.\n"
        f"Next: `{as_typed('serve', folder)}`, then open {folder / 'program.yaml'} and make it yours."
    )
    return Exit.CLEAN


def write_starter(folder: Path, year: StarterYear, cycle: StarterCycle) -> int:
    """Write all files of the example and say how many the director has to look at."""
    texts = dict(starter_texts(year, cycle))
    for name, text in (*texts.items(), *schema_files()):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return len(texts)


def starter_texts(year: StarterYear, cycle: StarterCycle) -> Iterator[tuple[str, str]]:
    """Give each file's name and text."""
    root = templates_folder() / "starter"
    environment = Environment(
        loader=FileSystemLoader(root),
        autoescape=False,  # noqa: S701 - YAML and Markdown, no HTML
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["day"] = lambda day: f"{day:%a %Y-%m-%d}"
    for template in environment.list_templates(extensions=[_ENDING.lstrip(".")]):
        name = template.removesuffix(_ENDING).replace("years/year", f"years/{year.id}")
        text = environment.get_template(template).render(school=_SCHOOL, year=year, cycle=cycle)
        yield name.replace("cycles/first", f"cycles/{cycle.id}"), text
