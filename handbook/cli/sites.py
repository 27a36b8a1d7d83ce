"""What commands that put a site somewhere have in common."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from handbook.publishing import Published

if TYPE_CHECKING:
    from handbook.engines.model import Engine


def mkdocs() -> Engine:
    """Give the engine that finishes pages; it is loaded only if there is one to finish."""
    from handbook.engines.mkdocs import MkDocsEngine  # noqa: PLC0415

    return MkDocsEngine()


def as_seen_from_here(place: Path) -> Path:
    """Shorten a path to one that counts from the current folder, if it lies in it."""
    here = Path.cwd()
    return place.relative_to(here) if place.is_relative_to(here) else place


def told_moment(moment: datetime) -> str:
    """Tell a moment as `Nov 20, 2026, 6:03 pm`, in the zone that it has."""
    hour = moment.hour % 12 or 12
    return f"{moment:%b} {moment.day}, {moment.year}, {hour}:{moment:%M} {'ap'[moment.hour >= 12]}m"  # noqa: PLR2004


def tell_left(published: Published) -> None:
    """Tell of what stays of the old site."""
    for kept in published.kept:
        click.echo(
            f"handbook: {kept} is left of the old site: no build put it there, or it cannot be"
            " deleted; move it away",
            err=True,
        )
