"""The names of all files below the content folder, and what cannot be looked into.

Nothing is passed over in silence: a site made of half a folder would take the place of a
whole one.
"""

from __future__ import annotations

import os
import re
import stat
import unicodedata
from collections.abc import Iterator
from pathlib import Path

from handbook import disk
from handbook.problems import Code, Note, Position, Problem
from handbook.records import dataclass
from handbook.source.decoding import MOST_BYTES, has_hidden

UNREADABLE_FILE = Code(
    "unreadable-file",
    "The computer does not let a file or folder be opened, or it is no ordinary file.",
    "Its permissions forbid it, or another program holds it. Nothing is published without what may stand in it.",
    bad="(a file only its owner may read)",
    good="(a file that you may read)",
)
LINKED_FILE = Code(
    "linked-file",
    "A link stands in the content folder in place of a file or folder.",
    "What is published is what lies in the folder itself. A link may lead to what was never meant for the site, or to nothing on another computer.",
    bad="cycles/winter -> ../../shared/winter",
    good="cycles/winter/cycle.yaml",
)
ODD_FILE_NAME = Code(
    "odd-file-name",
    "A file or folder has a name that cannot be part of an address.",
    "The names of cycles, years and pages become addresses on the site: small letters, digits and hyphens, 60 letters at most. Names that Windows keeps for devices, such as con, and `index` cannot be used, nor in media the signs # % ? and those that Windows forbids.",
    bad="cycles/Winter Cycle/cycle.yaml",
    good="cycles/winter-cycle/cycle.yaml",
)
FILE_NAMES_ALIKE = Code(
    "file-names-alike",
    "Two names in one folder differ only in capital letters or in how an accent is stored.",
    "Windows and Macs take them for one name and keep one of the files.",
    bad="media/Song.mp3\nmedia/song.mp3",
    good="media/song-1.mp3\nmedia/song-2.mp3",
)
TOO_MANY_FILES = Code(
    "too-many-files",
    "The content folder holds more files than any handbook needs.",
    "It is probably another folder: a whole home folder, or one with other projects in it.",
    bad="handbook check /home",
    good="handbook check content",
)

MOST_NAME = 100  # letters of one name: our own limit; most systems take 255 bytes
MOST_PATH = 200  # of a whole path; some systems take 260, with the folders above the content
MOST_FILES = 20_000

_LEFT_BEHIND = re.compile(
    r"(?i)readme\.md|mkdocs\.ya?ml|thumbs\.db|desktop\.ini|.*~|~\$.*|.*\.(bak|swp|tmp)"
)
_AT = Position(1, 1)


@dataclass(frozen=True, slots=True)
class Walk:
    """The paths of the files from the content folder, sorted, the folders in which nothing lies, and what stood in the way."""

    names: tuple[str, ...]
    empty: tuple[str, ...]
    problems: tuple[Problem, ...]


def walk(folder: Path) -> Walk:
    """Find all files below a folder, but for hidden ones, READMEs, a mkdocs.yml and what editors leave.

    Problems: a folder that cannot be opened, a link (never followed, wherever it leads), a
    pipe or the like, a name that cannot be shown or is too long, two names that some
    systems cannot tell apart, and more than 20,000 files.
    """
    names: list[str] = []
    empty: list[str] = []
    problems: list[Problem] = []
    waiting = [""]
    while waiting and len(names) <= MOST_FILES:
        here = waiting.pop()
        told = len(problems)
        entries = _entries(folder / here, here, problems)
        if not entries and len(problems) == told:
            empty.append(here.rstrip("/"))
        problems += _alike(entries, here)
        for entry in entries:
            name = f"{here}{entry.name}"
            problem = _odd_entry(entry, name)
            if problem is not None:
                problems.append(problem)
            elif entry.is_dir():
                waiting.append(f"{name}/")
            else:
                names.append(name)
    if len(names) > MOST_FILES:
        problems = [_too_many()]
    return Walk(tuple(sorted(names)), tuple(sorted(empty)), tuple(problems))


def read_bytes(path: Path) -> bytes | None:
    """Read a file, but never much more than is accepted; None if the system will not let us.

    Only an ordinary file is read: a link is not followed, and a pipe is not waited for.
    """
    return disk.read_bytes(path, MOST_BYTES)


def unreadable(name: str, what: str = "file") -> Problem:
    """Say that the system does not open a file or folder."""
    return Problem(
        UNREADABLE_FILE,
        f"the computer does not allow this {what} to be opened",
        (name,),
        "check its permissions, and that no other program holds it",
        position=_AT,
    )


def _entries(path: Path, here: str, problems: list[Problem]) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(path) as found:
            entries = [entry for entry in found if not _passed_over(entry.name)]
    except OSError:
        problems.append(unreadable(here.rstrip("/") or ".", "folder"))
        return []
    return sorted(entries, key=lambda entry: entry.name)


def _passed_over(name: str) -> bool:
    return name.startswith(".") or _LEFT_BEHIND.fullmatch(name) is not None


def _odd_entry(entry: os.DirEntry[str], name: str) -> Problem | None:
    if not _can_be_shown(entry.name):
        return _odd_name(name, "has characters in its name that cannot be shown")
    if len(entry.name) > MOST_NAME or len(name) > MOST_PATH:
        at_most = f"a name may have {MOST_NAME} characters, with its folders {MOST_PATH}"
        return _odd_name(name, f"has too long a name: {at_most}")
    if _is_link(entry):
        return Problem(
            LINKED_FILE,
            "this is a link to another place, and links are not followed",
            (name,),
            "put the file or folder itself here: what is published is what lies in the content folder",
            position=_AT,
        )
    if not entry.is_dir() and not entry.is_file():
        return Problem(
            UNREADABLE_FILE,
            "this is no ordinary file, but a pipe, a socket or a device",
            (name,),
            "remove it from the content folder",
            position=_AT,
        )
    return None


def _is_link(entry: os.DirEntry[str]) -> bool:
    """Whether an entry leads elsewhere: a link, or a junction of Windows."""
    if entry.is_symlink():
        return True
    attributes = getattr(entry.stat(follow_symlinks=False), "st_reparse_tag", 0)
    return attributes == getattr(stat, "IO_REPARSE_TAG_MOUNT_POINT", -1)


def _can_be_shown(name: str) -> bool:
    return not has_hidden(name) and name.isprintable()


def _odd_name(name: str, what: str) -> Problem:
    shown = "".join(letter if _can_be_shown(letter) else "�" for letter in name)
    if len(shown) > MOST_PATH:
        shown = f"{shown[:MOST_PATH]}…"
    return Problem(
        ODD_FILE_NAME, f"this file or folder {what}", (shown,), "rename it", position=_AT
    )


def _alike(entries: list[os.DirEntry[str]], here: str) -> Iterator[Problem]:
    """Find names that are one name to a system that is blind to capitals or to kinds of accents."""
    first: dict[str, str] = {}
    for entry in entries:
        plain = unicodedata.normalize("NFC", entry.name).casefold()
        other = first.setdefault(plain, entry.name)
        if other != entry.name and _can_be_shown(entry.name) and _can_be_shown(other):
            yield Problem(
                FILE_NAMES_ALIKE,
                f"{entry.name} and {other} are one name to some computers, which would keep only one of them",
                (f"{here}{entry.name}",),
                "rename one of them",
                notes=(Note("the other one is this", (f"{here}{other}",), _AT),),
                position=_AT,
            )


def _too_many() -> Problem:
    return Problem(
        TOO_MANY_FILES,
        f"the content folder holds more than {MOST_FILES:,} files, and so many cannot be meant",
        (".",),
        "check that it is the right folder",
        position=_AT,
    )
