"""Which content folder a command is about."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from handbook.cli.exit_codes import Misuse

PROGRAM_FILE = "program.yaml"
USUAL_FOLDER = "content"

folder_argument: Callable[[Callable[..., Any]], Callable[..., Any]] = click.argument(
    "folder", metavar="[DIR]", required=False, type=click.Path(path_type=Path)
)
"""The argument that every command about content takes."""


def content_folder(given: Path | None) -> Path:
    """Find the content: the folder given, else `content`, else here if program.yaml is here.

    A project folder, one with the content in its folder `content`, may be given too.
    Raises Misuse if there is no such folder.
    """
    if given is None:
        return _usual_folder()
    if _is_file(given):
        raise Misuse(f"{given} is a file: give the folder that it is in")
    if not _is_folder(given):
        raise Misuse(f"there is no folder {given}")
    inside = given / USUAL_FOLDER
    if not _is_file(given / PROGRAM_FILE) and _is_file(inside / PROGRAM_FILE):
        return inside
    return given


def _usual_folder() -> Path:
    for folder in (Path(USUAL_FOLDER), Path()):
        if _is_file(folder / PROGRAM_FILE):
            return folder
    if _is_folder(Path(USUAL_FOLDER)):
        return Path(USUAL_FOLDER)
    raise Misuse(
        f"there is no folder `{USUAL_FOLDER}` here, and no {PROGRAM_FILE}: name the content folder,"
        f" or begin one with `handbook new {USUAL_FOLDER}`"
    )


def _is_file(path: Path) -> bool:
    """Whether a file is there and may be seen: a closed folder above it hides it."""
    try:
        return path.is_file()
    except OSError:
        return False


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:
        return False
