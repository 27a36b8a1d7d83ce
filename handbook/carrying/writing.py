"""Putting new files into the content folder: all of them or none, and none over another."""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path

from handbook.carrying.model import CannotCarryError, NewFile
from handbook.disk import is_folder, is_there, make_names_last, write_new
from handbook.loader.contents import Contents, with_texts
from handbook.loader.discover import sort_files
from handbook.loader.folder_walk import walk


def with_files(contents: Contents, files: tuple[NewFile, ...]) -> Contents:
    """Give the contents as they would be with new files, of which nothing is written yet."""
    walked = walk(contents.folder)
    names = tuple(sorted({*walked.names, *(file.name for file in files)}))
    found = sort_files(type(walked)(names, walked.empty, walked.problems))
    raw = {**contents.raw, **{file.name: file.text.encode() for file in files}}
    return with_texts(contents.folder, found, raw)


def write_files(folder: Path, place: str, files: tuple[NewFile, ...]) -> None:
    """Write the files of a new folder, `place`, or the one file of that name, in one step.

    Raises CannotCarryError, with nothing written.
    """
    try:
        _write(folder, folder / place, {file.name[len(place) :]: file.text for file in files})
    except OSError as error:
        raise CannotCarryError(f"{place} cannot be written: {error.strerror}") from None


def _write(folder: Path, place: Path, texts: dict[str, str]) -> None:
    for above in place.relative_to(folder).parents:
        if not is_folder(folder / above):
            raise CannotCarryError(f"{above} in {folder} is no folder of its own")
    beside = place.with_name(f".{place.name}.{os.getpid()}.tmp")
    try:
        if "" in texts:
            write_new(beside, texts[""].encode(), lasting=True)
        else:
            beside.mkdir()
            for name, text in texts.items():
                write_new(beside / name.lstrip("/"), text.encode(), lasting=True)
            make_names_last(beside)
        if is_there(place):
            raise CannotCarryError(f"{place} is there already, and is left as it is")
        beside.rename(place)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
        with suppress(OSError):
            beside.unlink()
    make_names_last(place.parent)
