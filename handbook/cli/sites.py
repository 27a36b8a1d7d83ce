"""What commands that put a site somewhere have in common."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import click

from handbook.cli.exit_codes import Misuse
from handbook.publishing import Published

if TYPE_CHECKING:
    from handbook.engines.model import Engine

_NOON = 12


def mkdocs() -> Engine:
    """Give the engine that finishes pages; it is loaded only if there is one to finish."""
    from handbook.engines.mkdocs import MkDocsEngine  # noqa: PLC0415

    return MkDocsEngine()


def answered_yes(question: str, otherwise: str) -> bool:
    """Ask, and say what a no means; raises Misuse where nobody can answer."""
    if not (sys.stdin and sys.stdin.isatty()):
        raise Misuse(f"{question} Nobody is here to answer: say --yes if it is to be done")
    if click.confirm(question):
        return True
    click.echo(otherwise)
    return False


def as_seen_from_here(place: Path) -> Path:
    """Shorten a path to one that counts from the current folder, if it lies in it."""
    here = Path.cwd()
    return place.relative_to(here) if place.is_relative_to(here) else place


def told_moment(moment: datetime, zone: str) -> str:
    """Tell a moment as `Nov 20, 2026, 6:03 pm`, by the school's clocks; by this computer's where no such zone is known."""
    try:
        local = moment.astimezone(ZoneInfo(zone))
    except (ValueError, OSError, ZoneInfoNotFoundError):
        local = moment.astimezone()
    half = "am" if local.hour < _NOON else "pm"
    return f"{local:%b} {local.day}, {local.year}, {local.hour % _NOON or _NOON}:{local:%M} {half}"


def tell_left(published: Published, what: str = "site") -> None:
    """Tell of what stays of the old site, or of `what` else was replaced."""
    for kept in published.kept:
        click.echo(
            f"handbook: {kept} is left of the old {what}: no build put it there, or it cannot be"
            " deleted; move it away",
            err=True,
        )
    for before, now in published.aside:
        click.echo(
            f"handbook: {before} was changed since it was written; as you left it, it is now {now}",
            err=True,
        )
