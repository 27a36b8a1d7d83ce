"""The Jinja environment of all page templates: strict, escaping, with the page filters."""

from __future__ import annotations

from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from handbook.outputs.pages import formatting
from handbook.outputs.pages.prose import line, prose


def page_environment(templates: Path) -> Environment:
    """Make the environment for the folder site_templates."""
    environment = Environment(
        loader=FileSystemLoader(templates),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        keep_trailing_newline=False,
    )
    environment.filters.update(
        mark=formatting.mark,
        short_day=formatting.short_day,
        dots=formatting.joined,
        prose=prose,
        line=line,
    )
    return environment
