"""Printed sheets, typeset only if their words, or what is said at their foot, are new."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from zoneinfo import ZoneInfo

from handbook.domain.history import History
from handbook.making.content import ReadContent
from handbook.making.kept import KeptBatch
from handbook.outputs.model import SiteFile
from handbook.outputs.sheets.model import Imprint
from handbook.outputs.sheets.typesetting import imprint_of, typeset
from handbook.store import Store, key_of


def sheet_files(
    content: ReadContent, batches: Sequence[KeptBatch], history: History
) -> list[SiteFile]:
    """Give the sheets of all pages; a sheet that says what it said is not made again.

    Nor is it read: of what stands, only the digest of its bytes is kept on the disk.
    """
    shared = content.shared()
    site, zone = shared.facts.address, ZoneInfo(shared.zone)
    found = list[SiteFile]()
    for batch in batches:
        for path, words, made_of in batch.batch.sheets:
            imprint = imprint_of(path, words, site, history, zone)
            key = key_of("sheet", content.program, made_of, imprint)
            read = partial(_read, content.store, key, batch, path, imprint)
            digest = content.store.kept(key, str, partial(_digest_of, read))
            found.append(SiteFile(path, digest, read))
    return found


def sheet_words(batches: Iterable[KeptBatch]) -> Mapping[str, str]:
    """Give the digest of the words of each sheet by its path."""
    return {path: words for batch in batches for path, words, _ in batch.batch.sheets}


def _read(store: Store, key: str, batch: KeptBatch, path: str, imprint: Imprint) -> bytes:
    kept = f"{key}.bytes"
    content = store.get(kept)
    if not isinstance(content, bytes):
        content = typeset(batch.sheet(path), imprint)
        store.put(kept, content, on_disk=False)
    return content


def _digest_of(read: Callable[[], bytes]) -> str:
    return hashlib.sha256(read()).hexdigest()
