"""Engraved examples, kept all together: the engraver is slow to begin."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from handbook.making.content import ReadContent
from handbook.outputs.engraving.engraver import Drawings, known_drawings, use_drawings
from handbook.store import key_of


@contextmanager
def kept_drawings(content: ReadContent) -> Iterator[None]:
    """Draw nothing that was drawn for an earlier build, and keep what is drawn meanwhile."""
    store, key = content.store, key_of("drawings", content.program)
    loaded: list[int] = []

    def load() -> Drawings:
        earlier: Drawings = store.get(key) or {}
        loaded.append(len(earlier))
        return earlier

    store.using(key)
    use_drawings(load)
    yield
    if loaded and loaded[-1] < len(known_drawings()):
        store.put(key, dict(known_drawings()))
