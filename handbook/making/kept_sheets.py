"""Sheets as files, typeset only if nothing of the kind is kept: those of the site and of the binder alike.

Of a sheet the digest of its bytes alone is kept on the disk. Where it has letters that only
fonts of the machine could have, a digest of these stands beside it: with other fonts on the
machine the sheet is typeset anew.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from functools import partial

from handbook.outputs.model import SiteFile
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.threads import side_by_side
from handbook.outputs.sheets.typesetting import Printed, machine_fonts, printed
from handbook.records import dataclass
from handbook.store import Store


@dataclass(frozen=True, slots=True)
class WantedSheet:
    """A sheet by its path, the key of all that it is made of, and how its words are had."""

    path: str
    key: str
    words: Callable[[], tuple[MadeSheet, Imprint]]


def sheets_as_files(wanted: Sequence[WantedSheet], store: Store) -> list[SiteFile]:
    """Give sheets as files, in their order; those of which nothing is kept are typeset."""
    new = [one for one in wanted if not _digest(store, one.key)]
    # Whoever gives the words looks into the store and speaks a language, and is asked by one thread.
    given = [one.words() for one in new]
    for one, made in zip(new, side_by_side(_print, given), strict=True):
        _keep(store, one.key, made)
    return [
        SiteFile(one.path, _digest(store, one.key), partial(_read, store, one)) for one in wanted
    ]


def fonts_of(wanted: Sequence[WantedSheet], store: Store) -> str:
    """Give the digest of the machine's fonts if any of these sheets, all of them kept, hangs on them."""
    return next((fonts for one in wanted if (fonts := _parts(store, one.key)[1])), "")


def _print(given: tuple[MadeSheet, Imprint]) -> Printed:
    return printed(*given)


def _parts(store: Store, key: str) -> tuple[str, str]:
    kept = store.get(key)
    digest, _, fonts = kept.partition(" ") if isinstance(kept, str) else ("", "", "")
    return digest, fonts


def _digest(store: Store, key: str) -> str:
    digest, fonts = _parts(store, key)
    return digest if not fonts or fonts == machine_fonts() else ""


def _keep(store: Store, key: str, made: Printed) -> None:
    store.put(f"{key}.bytes", made.content, on_disk=False)
    digest = hashlib.sha256(made.content).hexdigest()
    store.put(key, f"{digest} {machine_fonts()}" if made.lent else digest)


def _read(store: Store, wanted: WantedSheet) -> bytes:
    content = store.get(f"{wanted.key}.bytes")
    if not isinstance(content, bytes):
        made = printed(*wanted.words())
        _keep(store, wanted.key, made)  # its digest, too, lest another one be wanted for ever
        content = made.content
    return content
