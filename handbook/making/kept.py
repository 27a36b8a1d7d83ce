"""Files of the site that are made together and kept together."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from functools import partial
from typing import Any

from handbook.engines.model import Engine, SiteFacts
from handbook.outputs.faces import letters_of
from handbook.outputs.history.page_words import words_digest
from handbook.outputs.model import LinkFacts, RenderedPage, SiteFile
from handbook.outputs.sheets.model import MadeSheet
from handbook.outputs.sheets.typesetting import words_digest as sheet_digest
from handbook.publishing.verify_links import link_facts
from handbook.records import dataclass
from handbook.store import Store, key_of

_BYTES, _LINKS, _ROWS, _WORDS, _LETTERS = "bytes", "links", "rows", "words", "letters"
_SHEETS = "sheets"
_PAGE = "index.html"


@dataclass(frozen=True, slots=True)
class Batch:
    """Files that were made of the same inputs, by path and digest: light enough to read always.

    `links` and `rows` are digests of what verifying reads from them, and of their rows for
    search. `sheets` are the printed ones that go with the pages, each by its path, the digest of
    its words and the key of all that it is made of.
    """

    files: tuple[tuple[str, str], ...]
    links: str
    rows: str
    sheets: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Fresh:
    """A batch as it is made: pages to be finished, their sheets, other contents by path, rows for search."""

    pages: tuple[RenderedPage, ...] = ()
    contents: Mapping[str, bytes] = field(default_factory=dict)
    rows: str = ""
    sheets: tuple[MadeSheet, ...] = ()


Finishing = Callable[[Sequence[RenderedPage]], Mapping[str, bytes]]
"""Gives the bytes of the pages by the paths of their files."""


class KeptBatch:
    """A batch in a store; whatever is missing there is made anew, all of it.

    Not whole until `finish` was called.
    """

    def __init__(self, store: Store, key: str, make: Callable[[], Fresh]) -> None:
        self._store, self._key, self._make = store, key, make
        self._batch: Batch | None = None
        self.fresh: Fresh | None = None
        self._finishing: Finishing | None = None
        store.using(
            *(f"{key}.{name}" for name in (_BYTES, _LINKS, _ROWS, _WORDS, _LETTERS, _SHEETS))
        )
        kept = store.get(key)
        if isinstance(kept, Batch):
            self._batch = kept
        else:
            self.fresh = make()

    @property
    def batch(self) -> Batch:
        """The files by path and digest."""
        if self._batch is None:
            raise ValueError("not finished")
        return self._batch

    def site_files(self) -> list[SiteFile]:
        """Give the files, without their links; contents are read only when asked for."""
        return [
            SiteFile(path, digest, partial(self._content, path))
            for path, digest in self.batch.files
        ]

    def links(self) -> Mapping[str, LinkFacts | None]:
        """Give what verifying reads from the files."""
        nothing: Mapping[str, LinkFacts | None] = dict.fromkeys(
            path for path, _ in self.batch.files
        )
        if self.batch.links == _links_key(nothing):
            return nothing
        links: Mapping[str, LinkFacts | None] = self._part(_LINKS)
        return links

    def rows(self) -> str:
        """Give the rows for search."""
        if self.batch.rows == key_of(""):
            return ""
        rows: str = self._part(_ROWS)
        return rows

    def sheet(self, path: str) -> MadeSheet:
        """Give a sheet of the batch."""
        sheets: Mapping[str, MadeSheet] = self._part(_SHEETS)
        return sheets[path]

    def words(self) -> Mapping[str, str]:
        """Give the digest of each page's own words by its address; reckoned for who asks."""
        return self._store.kept(f"{self._key}.{_WORDS}", dict, self._words)

    def letters(self) -> str:
        """Give the letters on the pages that the site's typefaces may lack; found for who asks."""
        return self._store.kept(f"{self._key}.{_LETTERS}", str, self._letters)

    def complete(self, finished: Mapping[str, bytes], by: Finishing) -> None:
        """Keep what was made, once its pages are `finished`; `by` finishes them again."""
        self._finishing = by
        if self.fresh is None:
            return
        fresh, self.fresh = self.fresh, None
        names = [f"{page.path}index.html" for page in fresh.pages]
        contents = {**{name: finished[name] for name in names}, **fresh.contents}
        links = {path: link_facts(path, content) for path, content in contents.items()}
        self._batch = Batch(
            tuple((path, _digest(content)) for path, content in contents.items()),
            _links_key(links),
            key_of(fresh.rows),
            tuple((one.path, sheet_digest(one), key_of(one)) for one in fresh.sheets),
        )
        # Not on the disk: the site has them, and a second copy would cost more than making
        # the few anew that it has lost.
        self._store.put(f"{self._key}.{_BYTES}", contents, on_disk=False)
        if any(links.values()):
            self._store.put(f"{self._key}.{_LINKS}", links)
        if fresh.rows:
            self._store.put(f"{self._key}.{_ROWS}", fresh.rows)
        if fresh.sheets:
            self._store.put(f"{self._key}.{_SHEETS}", {one.path: one for one in fresh.sheets})
        self._store.put(self._key, self._batch)

    def _words(self) -> dict[str, str]:
        paths = [path for path, _ in self.batch.files if path.endswith(_PAGE)]
        return {path.removesuffix(_PAGE): words_digest(self._content(path)) for path in paths}

    def _letters(self) -> str:
        paths = [path for path, _ in self.batch.files if path.endswith(_PAGE)]
        return letters_of("".join(self._content(path).decode() for path in paths))

    def _content(self, path: str) -> bytes:
        content: bytes = self._part(_BYTES)[path]
        return content

    def _part(self, name: str) -> Any:
        part = self._store.get(f"{self._key}.{name}")
        if part is None and self._finishing is not None:
            self.fresh = self._make()
            self.complete(self._finishing(self.fresh.pages), self._finishing)
            part = self._store.get(f"{self._key}.{name}")
        return part


def no_pages(pages: Sequence[RenderedPage]) -> Mapping[str, bytes]:  # noqa: ARG001 - there are none
    """Finish files that are no pages."""
    return {}


def finishing(engine: Callable[[], Engine], facts: SiteFacts) -> Finishing:
    """Let an engine finish pages; it is asked for only if there are some."""
    return lambda pages: engine().finish(pages, facts) if pages else {}


def finish(batches: Sequence[KeptBatch], by: Finishing = no_pages) -> None:
    """Finish the pages of all batches that were made anew, at once: an engine has a dear start."""
    finished = by([page for batch in batches if batch.fresh for page in batch.fresh.pages])
    for batch in batches:
        batch.complete(finished, by)


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _links_key(links: Mapping[str, LinkFacts | None]) -> str:
    return key_of(*((path, facts and _listed(facts)) for path, facts in links.items()))


def _listed(facts: LinkFacts) -> tuple[Sequence[str], ...]:
    return facts.links, facts.loads, sorted(facts.places)
