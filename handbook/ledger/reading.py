"""Reading the ledger; what cannot be read is told, and never stops a plain build."""

from __future__ import annotations

import hashlib
import os
import stat
from pathlib import Path
from typing import TYPE_CHECKING

from handbook.domain.history import NO_HISTORY, History
from handbook.ledger.places import COMING, FOLDER, LEDGER
from handbook.problems import Code, Position, Problem, Severity
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.ledger.codec import Coming

DAMAGED_LEDGER = Code(
    "damaged-ledger",
    "The file that remembers what was published cannot be read.",
    "Without it nobody is told what changed, and pages do not say when. `handbook publish` writes it and names the copy that it keeps beside the published site. Put that copy in its place. Or remove the file: then the next publication counts from one again.",
    bad="(a .published/ledger.json that was changed by hand)",
    good="(the .published/ledger.json that `handbook publish` wrote)",
)
NEWER_LEDGER = Code(
    "newer-ledger",
    "The file that remembers what was published was written by a newer handbook than this one.",
    "Another computer publishes the same content with a newer handbook, which writes down more than this one knows.",
    bad='(a .published/ledger.json with `"format": 2`)',
    good="(the handbook of the same version on both computers)",
)
LINKED_LEDGER = Code(
    "linked-ledger",
    "A link stands in place of the folder or file that remembers what was published.",
    "A publication would write where the link leads, perhaps over the memory of another handbook. It is kept in the content folder itself.",
    bad=".published -> ../../other/content/.published",
    good=".published/ledger.json",
)

MOST_BYTES = 64_000_000
"""Of a ledger; a season of fifty publications takes about one million."""

_OPEN = os.O_RDONLY | sum(
    getattr(os, flag, 0) for flag in ("O_NONBLOCK", "O_NOFOLLOW", "O_CLOEXEC", "O_BINARY")
)
_CLOSED = "the computer does not allow it to be opened"
_AGAIN = (
    "put back a copy of it, which `handbook publish` names, or remove it: the next"
    " publication then counts from 1 again"
)


@dataclass(frozen=True, slots=True)
class ReadLedger:
    """What the ledger says; nothing if it could not be read, which `problems` tell."""

    history: History = NO_HISTORY
    problems: tuple[Problem, ...] = ()


def read_ledger(content: Path) -> ReadLedger:
    """Read the ledger of a content folder; without one there is no history, and no problem.

    If the last publication was cut off between the site and the ledger, what was to be
    written is read in its place. Problems are warnings.
    """
    folder = content / FOLDER
    try:
        found = folder.lstat()
    except OSError:
        return ReadLedger()
    if not stat.S_ISDIR(found.st_mode) or _is_junction(found):
        return _refused(_linked(FOLDER))
    done = _done(content)
    if done:
        return ReadLedger(done)
    read = _read(content, LEDGER)
    if isinstance(read, Problem):
        return _refused(read)
    return ReadLedger(read[0]) if read else ReadLedger()


def coming_of(content: Path) -> tuple[History, Coming] | None:
    """Give the ledger of a publication that is being made or was cut off, if there is one."""
    read = _read(content, COMING)
    if read is None or isinstance(read, Problem) or read[1] is None:
        return None
    return read[0], read[1]


def is_done(content: Path, coming: Coming) -> bool:
    """Whether the site of a publication that was being made stands in its place."""
    sign = _bytes(content / coming.sign)
    return sign is not None and hashlib.sha256(sign).hexdigest() == coming.digest


def _done(content: Path) -> History | None:
    """Give the ledger of a publication that was cut off when its site stood already."""
    found = coming_of(content)
    return found[0] if found and is_done(content, found[1]) else None


def _read(content: Path, name: str) -> tuple[History, Coming | None] | Problem | None:
    raw = _raw(content / name, name)
    if not isinstance(raw, bytes):
        return raw
    from handbook.ledger.codec import DamagedError, NewerError, decode  # noqa: PLC0415 - few have one

    try:
        return decode(raw)
    except DamagedError as error:
        return _damaged(name, str(error), error.line)
    except NewerError:
        return Problem(
            NEWER_LEDGER,
            "what was published is written down here by a newer handbook than this one",
            (name,),
            "use that newer handbook on this computer too",
            severity=Severity.WARNING,
            position=Position(1, 1),
        )


def _raw(path: Path, name: str) -> bytes | Problem | None:
    """Give what stands in a file, None if it is not there."""
    try:
        found = path.lstat()
    except FileNotFoundError:
        return None
    except OSError:
        return _damaged(name, _CLOSED)
    if not stat.S_ISREG(found.st_mode):
        return _linked(name)
    if found.st_size > MOST_BYTES:
        return _damaged(name, "it is larger than any ledger")
    raw = _bytes(path)
    return _damaged(name, _CLOSED) if raw is None else raw


def _bytes(path: Path) -> bytes | None:
    """Read an ordinary file, never a link or a pipe, and never much more than is accepted."""
    try:
        with os.fdopen(os.open(path, _OPEN), "rb") as opened:
            if not stat.S_ISREG(os.fstat(opened.fileno()).st_mode):
                return None
            return opened.read(MOST_BYTES + 1)
    except OSError:
        return None


def _is_junction(found: os.stat_result) -> bool:
    """Whether Windows links a folder here."""
    return getattr(found, "st_reparse_tag", 0) == getattr(stat, "IO_REPARSE_TAG_MOUNT_POINT", -1)


def _refused(problem: Problem) -> ReadLedger:
    return ReadLedger(problems=(problem,))


def _damaged(name: str, why: str, line: int = 1) -> Problem:
    return Problem(
        DAMAGED_LEDGER,
        f"what was published is written down here, and it cannot be read: {why}",
        (name,),
        _AGAIN,
        severity=Severity.WARNING,
        position=Position(line, 1),
    )


def _linked(name: str) -> Problem:
    return Problem(
        LINKED_LEDGER,
        "this is no folder or file of its own, but leads elsewhere: what was published is not read from there",
        (name,),
        "put the folder or file itself here, or remove the link",
        severity=Severity.WARNING,
        position=Position(1, 1),
    )
