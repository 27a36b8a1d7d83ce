"""The last step: what is known of earlier publications, set into pages that are finished."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from functools import partial

from handbook.domain.history import History
from handbook.making.content import ReadContent
from handbook.making.cycles import CycleHead
from handbook.making.framing import Framing
from handbook.making.kept import KeptBatch
from handbook.making.other_files import kept_files
from handbook.outputs.history.feed import changes_feed
from handbook.outputs.history.insets import Inset, inset_of, set_in
from handbook.outputs.history.told_changes import ToldChanges, told_in_tree
from handbook.outputs.history.told_site import ToldCycle, told_site
from handbook.outputs.model import SiteFile
from handbook.store import Store, key_of

_PAGE = "index.html"


def told_changes(
    content: ReadContent,
    heads: Iterable[CycleHead],
    batches: Sequence[KeptBatch],
    history: History,
    framing: Framing,
) -> ToldChanges | None:
    """Give what the pages of these batches, all in one language, tell of their history.

    Nothing if there is none. The cycles are those in `heads`.
    """
    if not history.standing:
        return None
    words = {path: digest for batch in batches for path, digest in batch.words().items()}
    menus = [head.menus[framing.language] for head in heads if framing.language in head.menus]
    cycles = [ToldCycle(menu.name, menu.first, menu.last) for menu in menus]
    context = framing.context
    with framing.speaking():
        site = told_site(context, cycles, content.shared().facts.address)
    return told_in_tree(history, site, words, context.tree)


def change_feed(
    content: ReadContent, told: ToldChanges | None, framing: Framing
) -> list[KeptBatch]:
    """Make the feed of changes in a language."""
    if told is None:
        return []
    with framing.speaking():
        feed = changes_feed(told)
    return [kept_files(content, key_of("feed", feed.content), lambda: [feed])]


def with_history(
    batches: Sequence[KeptBatch], told: ToldChanges | None, framing: Framing, store: Store
) -> list[SiteFile]:
    """Set history into batches of pages.

    A batch is read only if something else than last time is set into one of its pages.
    """
    if told is None:
        return [file for batch in batches for file in batch.site_files()]
    return [file for batch in batches for file in _files(batch, told, framing, store)]


def _files(
    batch: KeptBatch, told: ToldChanges, framing: Framing, store: Store
) -> Iterable[SiteFile]:
    files, tree = {file.path: file for file in batch.site_files()}, framing.tree
    with framing.speaking():
        found = {
            f"{path}{_PAGE}": inset_of(path.removeprefix(tree), told, framing.part)
            for path in batch.words()
        }
    after = {path: partial(_read, files[path], inset) for path, inset in found.items() if inset}
    digests = store.kept(
        key_of("history", batch.batch.files, found),
        dict,
        lambda: {path: _digest(read()) for path, read in after.items()},
    )
    changed = {path: SiteFile(path, digests[path], read) for path, read in after.items()}
    return (files | changed).values()


def _read(file: SiteFile, inset: Inset) -> bytes:
    return set_in(file.read().decode(), inset).encode()


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
