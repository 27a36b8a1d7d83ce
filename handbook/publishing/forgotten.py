"""Publications of which only what lies beside a site knows, since the content's ledger was lost or is an old one."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from handbook.disk import is_there, read_bytes
from handbook.domain.history import History, Publication
from handbook.ledger.codec import DamagedError, NewerError, decode
from handbook.ledger.places import FOLDER, LEDGER
from handbook.publishing.kept_sites import COPY, KEPT, kept_numbers
from handbook.publishing.standing import StandingSite
from handbook.records import dataclass

_MOST_BYTES = 64_000_000
_EARLIER = "earlier"
_OWN_ALONE = 0o700
_HOME = "index.html"
_NUMBER = re.compile(rb'data-since="(\d{1,9})"')


@dataclass(frozen=True, slots=True)
class Forgotten:
    """The last publication that a ledger at `copy` knows, and the content's own does not.

    `has_all` if the copy knows all that the content's ledger does, so that it may take its place.
    """

    copy: Path
    last: Publication
    has_all: bool

    def sentence(self) -> str:
        """Say what is wrong."""
        return (
            f"publication {self.last.number} was made here, and the content folder does not remember"
            f" it: {FOLDER} was lost, or is an old one"
        )

    def way_back(self, content: Path) -> str:
        """Say how the content folder gets its ledger again."""
        if self.has_all:
            return (
                f"A copy lies beside the site: put {self.copy} in the place of {content / LEDGER}."
            )
        return f"Get {FOLDER} from the computer that published last, or from a backup."


def forgotten(work: Path, known: History) -> Forgotten | None:
    """Look at the ledgers in the work folder of a site, the newest first, for what is not `known`."""
    own = _made(known)
    for copy in _copies(work):
        history = _read(copy)
        made = _made(history) if history else frozenset()
        if history and made - own:
            last = next(one for one in reversed(history.publications) if _mark(one) not in own)
            return Forgotten(copy, last, own <= made)
    return None


def told_number(site: StandingSite) -> int:
    """Give the number of the publication of which the first page of a site tells; 0 without one."""
    home = next((file for file in site.files if file.path == _HOME), None)
    found = _NUMBER.search(home.read()) if home else None
    return int(found[1]) if found else 0


def put_aside(work: Path) -> None:
    """Move the copy of the ledger, and the sites that are kept, where no publication deletes them."""
    folder = next(
        place for number in range(1, 10**6) if not is_there(place := work / _EARLIER / str(number))
    )
    for made in (folder.parent, folder):
        with suppress(FileExistsError):
            os.mkdir(made, _OWN_ALONE)  # noqa: PTH102 - patched in tests by this name
    for name in (COPY, KEPT):
        if is_there(work / name):
            os.rename(work / name, folder / name)  # noqa: PTH104 - patched in tests by this name


def _copies(work: Path) -> Iterator[Path]:
    yield work / COPY
    for number in sorted(kept_numbers(work), reverse=True):
        yield work / KEPT / str(number) / COPY


def _read(copy: Path) -> History | None:
    raw = read_bytes(copy, _MOST_BYTES)
    with suppress(DamagedError, NewerError):
        return decode(raw)[0] if raw is not None else None
    return None


def _made(history: History) -> frozenset[tuple[int, float]]:
    return frozenset(map(_mark, history.publications))


def _mark(one: Publication) -> tuple[int, float]:
    return one.number, one.instant.timestamp()
