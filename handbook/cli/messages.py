"""What commands say of problems, in the terminal."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from handbook.pipeline import Outcome


def tell_problems(outcome: Outcome, content: Path) -> None:
    """Print all problems to the error stream."""
    from handbook.report import report_text  # noqa: PLC0415 - most builds have nothing to tell

    text = report_text(
        outcome.problems,
        outcome.sources,
        folder=content.as_posix(),
        colour=wants_colour(sys.stderr.isatty()),
    )
    click.echo(text, err=True, nl=False)


def tell_findings(
    sentence: str, findings: tuple[str, ...], before: str = "what was published before"
) -> None:
    """Print why something was not put in place; what stood there `before` is as it was."""
    for finding in findings:
        click.echo(f"  {finding}", err=True)
    click.echo(f"handbook: {sentence}; {before} is untouched", err=True)


def wants_colour(terminal: bool) -> bool:
    """Whether to colour: on a terminal only, and never against the wish in NO_COLOR."""
    return terminal and not os.environ.get("NO_COLOR")


def as_typed(verb: str, folder: Path) -> str:
    """Give a command that can be copied: begun as the person at the keyboard began this one."""
    begun = "handbook"
    if Path(sys.argv[0]).name == "__main__.py":
        begun = f"{'py' if sys.platform == 'win32' else 'python3'} -m handbook"
    return f'{begun} {verb} "{folder}"' if " " in str(folder) else f"{begun} {verb} {folder}"


def agrees_to_write(files: int) -> bool:
    """Ask whether some files may be written; nobody there to answer is a no."""
    what = "this file" if files == 1 else f"these {files} files"
    try:
        return click.confirm(f"Write {what}?", default=False)
    except click.Abort:
        click.echo()
        return False
