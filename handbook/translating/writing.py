"""Writing translated files into the content: all of them, or none."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from handbook.disk import is_there
from handbook.fixing.rounds import FixedFile
from handbook.fixing.writing import NotWrittenError, write_fix, write_own
from handbook.translating.taking_back import Taken


def write_taken(folder: Path, found: Taken) -> None:
    """Put the files in their places.

    Raises NotWrittenError at the first that cannot be written; those before it are put back
    as they were.
    """
    done: list[FixedFile] = []
    made: list[Path] = []
    try:
        for file in found.files:
            if file.before is None:
                made += _folders(folder / file.name)
                _not_there(folder, file.name)
                write_own(folder, file.name, None, file.after)
                made.append(folder / file.name)
            else:
                fixed = FixedFile(file.name, file.name, file.before, file.after, ())
                write_fix(folder, fixed)
                done.append(fixed)
    except NotWrittenError:
        for one in reversed(done):
            with suppress(NotWrittenError):
                write_fix(folder, FixedFile(one.name, one.name, one.after, one.before, ()))
        for path in reversed(made):
            with suppress(OSError):
                path.unlink() if path.is_file() else path.rmdir()
        raise


def _not_there(folder: Path, name: str) -> None:
    if is_there(folder / name):
        raise NotWrittenError(f"{name} is there already, and is left as it is")


def _folders(path: Path) -> list[Path]:
    """Make the folders above a file that are not there; give those, the outer ones first."""
    missing = [one for one in path.parents if not one.exists()]
    for one in reversed(missing):
        one.mkdir()
    return missing[::-1]
