"""Writing a mended file into the content folder: whole or not at all, and no other file."""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path

from handbook.disk import is_folder, is_there, make_names_last, write_new
from handbook.fixing.rounds import FixedFile
from handbook.loader.folder_walk import read_bytes


class NotWrittenError(Exception):
    """A file that is left as it is; the sentence says why."""


def write_fix(folder: Path, file: FixedFile) -> None:
    """Put the mended text in the place of the old one, with the same permissions, and the file in its new name.

    Raises NotWrittenError, and leaves the file as it is, if it is not what was looked at
    any more, if it may not be written, or if a link leads elsewhere on the way.
    """
    path = folder / file.name
    _only_folders_above(folder, file.name)
    try:
        if file.after != file.before:
            _replace(path, file)
        if file.renamed != file.name:
            _rename(path, folder / file.renamed, file.after)
    except OSError as error:
        raise NotWrittenError(f"{file.name} cannot be written: {error.strerror}") from None


def write_own(folder: Path, name: str, before: bytes | None, after: bytes) -> None:
    """Put a file of ours in place of its old version, or where there is none yet; as careful as `write_fix`."""
    if before is not None:
        write_fix(folder, FixedFile(name, name, before, after, ()))
        return
    _only_folders_above(folder, name)
    try:
        write_new(folder / name, after, lasting=True)
    except OSError as error:
        raise NotWrittenError(f"{name} cannot be written: {error.strerror}") from None


def _only_folders_above(folder: Path, name: str) -> None:
    here = folder
    for part in name.split("/")[:-1]:
        here /= part
        if not is_folder(here):
            raise NotWrittenError(f"{name} is left alone: {part} is not a folder of its own")


def _replace(path: Path, file: FixedFile) -> None:
    found = path.lstat()
    if not stat.S_ISREG(found.st_mode) or not os.access(path, os.W_OK):
        raise NotWrittenError(f"{file.name} is left alone: it may not be written")
    beside = path.with_name(f".{path.name}.{os.getpid()}.tmp")
    try:
        write_new(beside, file.after, lasting=True)
        beside.chmod(stat.S_IMODE(found.st_mode))
        _unchanged(path, file.name, file.before)
        beside.replace(path)
    finally:
        with suppress(OSError):
            beside.unlink()
    make_names_last(path.parent)


def _unchanged(path: Path, name: str, seen: bytes) -> None:
    if read_bytes(path) != seen:
        raise NotWrittenError(f"{name} is left alone: it was changed meanwhile")


def _rename(path: Path, new: Path, text: bytes) -> None:
    """Give a file another name, which nothing may have yet."""
    _unchanged(path, path.name, text)
    if is_there(new):
        raise NotWrittenError(f"{path.name} is left alone: {new.name} is there already")
    try:
        os.link(path, new, follow_symlinks=False)  # as a rename, but never over another file
    except (OSError, NotImplementedError):
        path.rename(new)  # a disk without second names
    else:
        path.unlink()
    make_names_last(new.parent)
