"""Where the templates lie: beside the sources, or inside the installed package."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def templates_folder() -> Path:
    """Give the folder site_templates, from a checkout or an installed wheel."""
    installed = _PACKAGE / "_site_templates"
    return installed if installed.is_dir() else _PACKAGE.parent / "site_templates"
