"""The whole line on one screen: load, check, plan, check, render, publish."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from itertools import chain
from typing import TypeVar

from handbook.domain.history import NO_HISTORY, History
from handbook.engines.model import Engine
from handbook.making.content import ReadContent
from handbook.making.cycles import groups_by_days
from handbook.making.feeds import feed_batch
from handbook.making.framing import Framing
from handbook.making.groups import PlannedGroup, plan_groups
from handbook.making.history import change_feed, with_history
from handbook.making.kept import KeptBatch, finishing
from handbook.making.kept_drawings import kept_drawings
from handbook.making.media import media_files
from handbook.making.model import FinishedSite, SeenContent
from handbook.making.other_files import other_files
from handbook.making.sheets import sheet_files, sheet_words
from handbook.making.trees import Tree
from handbook.making.verified_links import linked_media
from handbook.source.links import MEDIA
from handbook.store import Store

DoneT = TypeVar("DoneT")


def build_site(
    seen: SeenContent,
    store: Store,
    engine: Callable[[], Engine],
    publish: Callable[[FinishedSite], DoneT],
    history: History = NO_HISTORY,
    *,
    drafts: bool = False,
) -> DoneT:
    """Load, check, plan, check, render and publish a content folder, as it was `seen`.

    With `drafts`, cycles that are drafts are made as well, with a mark on each of their pages.

    Each step first looks into the `store` for what it made of the same inputs, and does
    nothing if it is there. What pages tell of their `history` is set into them when they are
    finished. The `engine` is asked for if there are pages to be finished.
    Raises NotSoundError at the first error in the content, NotPublishedError for links and
    media that lead nowhere, and what the engine and `publish` raise.
    """
    # Load what is of no cycle, and each cycle; check each by itself.
    content = ReadContent(seen, store, drafts=drafts)
    shared, heads = content.shared(), content.heads()
    warnings = shared.warnings + content.warnings(heads)

    # Plan cycles that share days together, with what their players bring from earlier ones;
    # check each plan, and render the pages of its cycles.
    groups = groups_by_days(heads)
    in_order = [*chain.from_iterable(groups)]
    framings = [
        Framing(content, in_order, language, published=bool(history.standing))
        for language in shared.languages
    ]
    by = finishing(engine, shared.facts)
    plans = list[PlannedGroup]()
    own: dict[str, dict[str, list[KeptBatch]]] = {one.language: {} for one in framings}
    with kept_drawings(content):
        for plan in plan_groups(content, groups, framings):
            warnings += plan.known.warnings
            plans.append(plan)
            for language, made in plan.pages(by).items():
                own[language] |= made

        # Render the pages about the whole handbook in each language, then all else.
        trees = [Tree(content, groups, plans, one, own[one.language], by) for one in framings]
    told = [tree.told(in_order, history) for tree in trees]
    pages = [page for tree in trees for page in tree.pages]
    others = [
        *chain.from_iterable(tree.files() for tree in trees),
        *other_files(content, pages, framings),
        feed_batch(content, plans, history),
        *chain.from_iterable(map(partial(change_feed, content), told, framings)),
        *chain.from_iterable(plan.scripts for plan in plans),
    ]

    # Verify, set in what is known of earlier publications, and publish.
    named = linked_media(content, [*pages, *others], seen.media)
    media = media_files(named, seen.media, seen.contents.folder / MEDIA)
    files = [*media]
    for tree, changes in zip(trees, told, strict=True):
        files += with_history(tree.pages, changes, tree.framing, store)
    sheets, fonts = sheet_files(content, pages, history)
    files += sheets
    files += [file for batch in others for file in batch.site_files()]
    files.sort(key=lambda file: file.path)
    words: dict[str, str] = {}
    for tree in trees if told[0] else ():
        words |= {**tree.words(), **sheet_words(tree.pages)}
    address, hosts = shared.facts.address, shared.hosts
    return publish(FinishedSite(tuple(files), warnings, address, words, hosts, fonts))
