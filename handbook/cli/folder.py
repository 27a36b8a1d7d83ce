"""Which content folder a command is about."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from handbook.cli.exit_codes import Misuse
from handbook.cli.messages import as_typed

PROGRAM_FILE = "program.yaml"
USUAL_FOLDER = "content"

folder_argument: Callable[[Callable[..., Any]], Callable[..., Any]] = click.argument(
    "folder", metavar="[DIR]", required=False, type=click.Path(path_type=Path)
)
"""The argument that every command about content takes."""


def content_folder(given: Path | None) -> Path:
    """Find the content: the folder given, else the nearest one, which is then named on the error stream.

    A project folder, one with the content in its folder `content`, may be given too.
    Raises Misuse if there is no such folder, or if several are equally near.
    """
    if given is None:
        return _nearest_folder()
    if _is_file(given):
        raise Misuse(f"{given} is a file: give the folder that it is in")
    if not _is_folder(given):
        raise Misuse(f"there is no folder {given}")
    inside = given / USUAL_FOLDER
    if not _is_file(given / PROGRAM_FILE) and _is_file(inside / PROGRAM_FILE):
        return inside
    return given


def _nearest_folder() -> Path:
    """Find the content folder that one stands in, however deep, else the one that lies here."""
    found = _around() or _below()
    if len(found) > 1:
        names = ", ".join(sorted(folder.name for folder in found))
        raise Misuse(
            f"there are several content folders here: {names}; name the one you mean, such as"
            f" `{as_typed(_verb(), min(found))}`"
        )
    if found:
        shown = found[0].resolve() if found[0].name in {"", ".."} else found[0]
        click.echo(f"handbook: the content folder is {shown}", err=True)
        return found[0]
    if _is_folder(Path(USUAL_FOLDER)):
        return Path(USUAL_FOLDER)
    raise Misuse(
        f"there is no content folder here, one with a {PROGRAM_FILE}: name it, or begin one with"
        f" `{as_typed('new', Path(USUAL_FOLDER))}`"
    )


def _around() -> list[Path]:
    """Give the folder with the program's file that one stands in, as seen from here, or none."""
    here = Path.cwd()
    for depth, folder in enumerate((here, *here.parents)):
        if _is_file(folder / PROGRAM_FILE):
            return [Path(*[".."] * depth)]
    return []


def _below() -> list[Path]:
    """Give the content folders that lie here."""
    try:
        entries = sorted(Path().iterdir())
    except OSError:
        return []
    return [entry for entry in entries if _is_file(entry / PROGRAM_FILE)]


def _verb() -> str:
    return click.get_current_context().command_path.partition(" ")[2] or "check"


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
