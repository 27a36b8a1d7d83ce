"""Reading the ledger; what cannot be read is told, and never stops a plain build."""

from __future__ import annotations

import hashlib
import stat
from pathlib import Path
from typing import TYPE_CHECKING

from handbook.disk import is_own_folder, read_bytes
from handbook.domain.history import NO_HISTORY, History
from handbook.ledger.places import COMING, FOLDER, LEDGER
from handbook.problems import Code, Position, Problem, Severity
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.ledger.codec import Proof

DAMAGED_LEDGER = Code(
    "damaged-ledger",
    "The file that remembers what was published cannot be read.",
    "Without it nobody is told what changed, and pages do not say when. `handbook publish` writes it and names the copy that it keeps beside the published site. Put that copy in its place. Without a copy, remove the file: `handbook publish --anyway` then counts from one again.",
    bad="(a .published/ledger.json that was changed by hand)",
    good="(the .published/ledger.json that `handbook publish` wrote)",
)
NEWER_LEDGER = Code(
    "newer-ledger",
    "The file that remembers what was published was written by a newer handbook than this one.",
    "Another computer publishes the same content with a newer handbook, which writes down more than this one knows.",
    bad='(a .published/ledger.json with `"format": 3`)',
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

_CLOSED = "the computer does not allow it to be opened"
_AGAIN = (
    "put back a copy of it, which `handbook publish` names; without one remove it, and"
    " `handbook publish --anyway` counts from 1 again"
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
    if not is_own_folder(found):
        return _refused(_linked(FOLDER))
    read = _read(content, COMING if coming_is_done(content) else LEDGER)
    if isinstance(read, Problem):
        return _refused(read)
    return ReadLedger(read[0]) if read else ReadLedger()


def coming_is_done(content: Path) -> bool:
    """Whether a publication was cut off when its site stood already, but before its ledger did."""
    read = _read(content, COMING)
    if read is None or isinstance(read, Problem) or read[1] is None:
        return False
    shown = read_bytes(content / read[1].file, MOST_BYTES)
    return shown is not None and hashlib.sha256(shown).hexdigest() == read[1].digest


def _read(content: Path, name: str) -> tuple[History, Proof | None] | Problem | None:
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
    raw = read_bytes(path, MOST_BYTES)
    return _damaged(name, _CLOSED) if raw is None else raw


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
