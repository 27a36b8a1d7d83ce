"""Writing the ledger: beside the old one before a site changes places, in its place afterwards.

Between the two the site itself shows which of them is true, wherever a publication is cut
off, so that a ledger never tells of a site that was not put in place, nor misses one that was.
"""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from handbook.disk import make_names_last, write_over
from handbook.domain.history import History
from handbook.ledger.codec import Proof, encode
from handbook.ledger.places import COMING, FOLDER, LEDGER
from handbook.ledger.reading import coming_is_done


def lay_ready(content: Path, history: History, shown_by: Path, digest: str) -> None:
    """Write what the ledger will be once the file `shown_by` has the `digest`; raises OSError."""
    with suppress(FileExistsError):
        os.mkdir(content / FOLDER)  # noqa: PTH102 - patched in tests by this name
    write_over(content / COMING, encode(history, Proof(_seen_from(content, shown_by), digest)))


def settle(content: Path) -> None:
    """Put a ledger that was laid ready in its place if its publication was done, else drop it; raises OSError."""
    coming = content / COMING
    if coming_is_done(content):
        os.replace(coming, content / LEDGER)  # noqa: PTH105 - patched in tests by this name
        make_names_last(coming.parent)
    for left in (coming, coming.with_name(f"{coming.name}.part")):
        with suppress(FileNotFoundError):
            os.unlink(left)  # noqa: PTH108


def _seen_from(content: Path, file: Path) -> str:
    here = content.resolve()
    try:
        return Path(os.path.relpath(file, here)).as_posix()
    except ValueError:  # on another drive of Windows
        return file.as_posix()
