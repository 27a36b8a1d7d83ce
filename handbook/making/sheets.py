"""Printed sheets, typeset only if their words, or what is said at their foot, are new."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from zoneinfo import ZoneInfo

from handbook.domain.history import History
from handbook.making.content import ReadContent
from handbook.making.kept import KeptBatch
from handbook.outputs.model import SiteFile
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.threads import side_by_side
from handbook.outputs.sheets.typesetting import imprint_of, typeset
from handbook.records import dataclass
from handbook.store import Store, key_of


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A sheet of a batch, what stands at its foot, and the key of the digest of its bytes."""

    batch: KeptBatch
    path: str
    imprint: Imprint
    key: str


def sheet_files(
    content: ReadContent, batches: Sequence[KeptBatch], history: History
) -> list[SiteFile]:
    """Give the sheets of all pages; a sheet that says what it said is not made again.

    Nor is it read: of what stands, only the digest of its bytes is kept on the disk.
    """
    shared, store = content.shared(), content.store
    site, zone = shared.facts.address, ZoneInfo(shared.zone)
    wanted = list[_Wanted]()
    for batch in batches:
        for path, words, made_of in batch.batch.sheets:
            imprint = imprint_of(path, words, site, history, zone)
            key = key_of("sheet", content.program, made_of, imprint)
            wanted.append(_Wanted(batch, path, imprint, key))
    new = [one for one in wanted if not isinstance(store.get(one.key), str)]
    # Whoever gives the words looks into the store and speaks a language, and is asked by one thread.
    given = [(one.batch.sheet(one.path), one.imprint) for one in new]
    for one, made in zip(new, side_by_side(_typeset, given), strict=True):
        store.put(f"{one.key}.bytes", made, on_disk=False)
        store.put(one.key, hashlib.sha256(made).hexdigest())
    return [
        SiteFile(one.path, str(store.get(one.key)), partial(_read, store, one)) for one in wanted
    ]


def sheet_words(batches: Iterable[KeptBatch]) -> Mapping[str, str]:
    """Give the digest of the words of each sheet by its path."""
    return {path: words for batch in batches for path, words, _ in batch.batch.sheets}


def _typeset(given: tuple[MadeSheet, Imprint]) -> bytes:
    return typeset(*given)


def _read(store: Store, wanted: _Wanted) -> bytes:
    kept = f"{wanted.key}.bytes"
    content = store.get(kept)
    if not isinstance(content, bytes):
        content = typeset(wanted.batch.sheet(wanted.path), wanted.imprint)
        store.put(kept, content, on_disk=False)
    return content
