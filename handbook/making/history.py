"""The last step: what is known of earlier publications, set into pages that are finished."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from functools import partial
from itertools import chain

from handbook.domain.history import History
from handbook.making.content import ReadContent
from handbook.making.kept import KeptBatch
from handbook.outputs.history.insets import Inset, Insets, set_in
from handbook.outputs.model import SiteFile
from handbook.records import dataclass
from handbook.store import Store, key_of

_PAGE = "index.html"


@dataclass(frozen=True, slots=True)
class ToldPages:
    """Pages with all that is told of earlier publications, and the digests of their own `words`."""

    files: tuple[SiteFile, ...]
    words: Mapping[str, str] = field(default_factory=dict)


def with_history(content: ReadContent, batches: Sequence[KeptBatch], history: History) -> ToldPages:
    """Set history into batches of pages.

    A batch is read only if something else than last time is set into one of its pages.
    """
    if not history.standing:
        return ToldPages(tuple(file for batch in batches for file in batch.site_files()))
    words = {path: digest for batch in batches for path, digest in batch.words().items()}
    insets = Insets(history, content.context.plan.zone, frozenset(words))
    files = chain.from_iterable(_files(batch, insets, content.store) for batch in batches)
    return ToldPages(tuple(files), words)


def _files(batch: KeptBatch, insets: Insets, store: Store) -> Iterable[SiteFile]:
    files = {file.path: file for file in batch.site_files()}
    found = {f"{path}{_PAGE}": insets.of_page(path, own) for path, own in batch.words().items()}
    after = {path: partial(_read, files[path], inset) for path, inset in found.items() if inset}
    digests = store.kept(
        key_of("history", batch.batch.files, found),
        dict,
        lambda: {path: hashlib.sha256(read()).hexdigest() for path, read in after.items()},
    )
    changed = {path: SiteFile(path, digests[path], read) for path, read in after.items()}
    return (files | changed).values()


def _read(file: SiteFile, inset: Inset) -> bytes:
    return set_in(file.read().decode(), inset).encode()
