"""All files of a site, in batches that are made only if what they are made of has changed."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from hashlib import sha256
from pathlib import Path

from handbook.domain.values.text import Text
from handbook.engines.model import Engine
from handbook.loader.contents import Contents
from handbook.making.content import NotSoundError, ReadContent
from handbook.making.cycles import CycleHead, groups, words_of
from handbook.making.framing import Framing
from handbook.making.groups import Group, PlannedGroup
from handbook.making.kept import Fresh, KeptBatch, finish
from handbook.making.media import MEDIA, Media
from handbook.outputs.engraving.engraver import Drawings, known_drawings, use_drawings
from handbook.outputs.model import SiteFile
from handbook.outputs.page import Context
from handbook.outputs.pages import WHOLE, WholeKind
from handbook.outputs.site import Renderer, search_index
from handbook.plan.model import Start
from handbook.publishing.refusal import NotPublishedError
from handbook.publishing.sitemap import sitemap
from handbook.publishing.verify_links import link_findings
from handbook.records import dataclass
from handbook.schema.handbook import MediaFile
from handbook.store import Store, key_of

__all__ = ["MadeSite", "NotSoundError", "whole_site"]


@dataclass(frozen=True, slots=True)
class MadeSite:
    """A finished site; `warnings` counts those of the content, `address` is where it will stand."""

    files: tuple[SiteFile, ...]
    warnings: int
    address: str | None


def whole_site(
    contents: Contents,
    media: Mapping[str, Media],
    store: Store,
    *,
    program: str,
    renderer: Callable[[], Renderer],
    engine: Callable[[], Engine],
) -> MadeSite:
    """Make the site of a content folder; `program` is the digest of the program that does.

    Raises NotSoundError, NotPublishedError for links and media that lead nowhere, and what
    the engine raises.
    """
    sizes = {name: MediaFile(file.size, file.seconds) for name, file in media.items()}
    content = ReadContent(replace(contents, media_files=sizes), program, store)
    making = _Making(content, program, store, renderer, engine)
    return making.made(media, contents.folder / MEDIA)


class _Making:
    """Makes a site of the content as it was read."""

    def __init__(
        self,
        content: ReadContent,
        program: str,
        store: Store,
        renderer: Callable[[], Renderer],
        engine: Callable[[], Engine],
    ) -> None:
        self._content, self._program, self._store = content, program, store
        self._engine = engine
        self._shared, heads = content.shared(), content.heads()
        self._groups, self._words = groups(heads), words_of(heads)
        self._warnings = content.warnings(heads)
        menu = self._groups[-1][-1].menu if self._groups else ()
        self._framing = Framing(content, menu, renderer)

    def made(self, media: Mapping[str, Media], folder: Path) -> MadeSite:
        """Make it; `folder` is that of the `media`."""
        drawings = _Drawings(self._store, self._program)
        own, found = self._cycles()
        shares = [share for group in found for share in group.shares]
        today, *wholes = [self._whole(kind, shares) for kind in WHOLE]
        pages = [today, *own, *wholes]
        finish(pages, self._finished)
        drawings.keep()
        batches = [*pages, *self._beside(pages)]
        named = self._shared.media.union(*(group.media for group in found))
        files = [*_media_files(sorted(named), media, folder), *self._verified(batches, named)]
        return MadeSite(
            tuple(sorted(files, key=lambda file: file.path)),
            self._warnings + self._shared.warnings + sum(group.warnings for group in found),
            self._shared.facts.address,
        )

    def _cycles(self) -> tuple[list[KeptBatch], list[Group]]:
        """Plan and render the cycles, each group with what its ensembles bring from those before."""
        reached: dict[str, Start] = {}
        batches, found = list[KeptBatch](), list[Group]()
        for heads in self._groups:
            planned = self._planned(heads, reached)
            whole = KeptBatch(self._store, planned.key, planned.whole)
            group: Group = whole.more
            batches.append(whole)
            batches += [
                KeptBatch(self._store, key, partial(planned.ensemble, *of))
                for of, key in group.ensembles.items()
            ]
            found.append(group)
            reached |= group.reached
        return batches, found

    def _planned(self, heads: Sequence[CycleHead], reached: Mapping[str, Start]) -> PlannedGroup:
        ensembles = sorted({one for head in heads for one in head.ensembles})
        brought = {one: reached[one] for one in ensembles if one in reached}
        terms = sorted({term for head in heads for term in head.terms} & self._words.keys())
        words = {term: self._words[term] for term in terms}
        return PlannedGroup(self._content, heads, brought, words, self._framing)

    def _whole(self, kind: WholeKind, shares: Sequence[Mapping[str, bytes]]) -> KeptBatch:
        shown = kind.shown([share[kind.name] for share in shares])
        words = self._words if kind.name == "words" else {}
        digests = [sha256(share).hexdigest() for share in shown]
        pages = self._content.shared_key if kind.name == "families" else ""
        key = key_of("whole", kind.name, self._framing.key, pages, sorted(words.items()), digests)
        return KeptBatch(self._store, key, lambda: self._make_whole(kind, shown, words))

    def _make_whole(
        self, kind: WholeKind, shares: Sequence[bytes], words: Mapping[str, Text]
    ) -> Fresh:
        plan = self._content.context.plan
        pages = plan.pages if kind.name == "families" else ()
        context = Context(
            replace(plan, words={**plan.words, **words}, pages=pages), plan.languages[0]
        )
        # Our own bytes: they were made in this process, or read by the store with their sum.
        read = [pickle.loads(share) for share in shares]  # noqa: S301
        return self._framing.fresh(self._framing.renderer.whole(context, kind, read))

    def _finished(self, fresh: Iterable[Fresh]) -> Mapping[str, bytes]:
        pages = [page for one in fresh for page in one.pages]
        return self._engine().finish(pages, self._shared.facts) if pages else {}

    def _beside(self, pages: Sequence[KeptBatch]) -> list[KeptBatch]:
        """Make the files that are no pages: assets, the error page, the search index, the sitemap."""

        def kept(key: str, make: Callable[[], Mapping[str, bytes]]) -> KeptBatch:
            return KeptBatch(self._store, key, lambda: Fresh(contents=make()))

        def index() -> Mapping[str, bytes]:
            file = search_index([batch.rows() for batch in pages])
            return {file.path: file.content}

        def assets() -> Mapping[str, bytes]:
            return {file.path: file.content for file in self._framing.renderer.assets}

        def not_found() -> Mapping[str, bytes]:
            file = self._framing.renderer.not_found(self._content.context)
            return {file.path: file.content}

        beside = [
            kept(key_of("assets", self._program), assets),
            kept(key_of("not found", self._content.core_key), not_found),
            kept(key_of("search", self._program, [batch.batch.rows for batch in pages]), index),
        ]
        address = self._shared.facts.address
        if address is not None:
            paths = [
                path.removesuffix("index.html") for batch in pages for path, _ in batch.batch.files
            ]
            file = sitemap(paths, address)
            beside.append(
                kept(
                    key_of("sitemap", self._program, paths, address),
                    lambda: {file.path: file.content},
                )
            )
        finish(beside, self._finished)
        return beside

    def _verified(self, batches: Sequence[KeptBatch], media: Iterable[str]) -> list[SiteFile]:
        """Give the files once no link leads nowhere; looked at only if a link or a place is new."""
        address = self._shared.facts.address
        files = [file for batch in batches for file in batch.site_files()]
        key = key_of(
            *("links", self._program, address, sorted(media), [file.path for file in files]),
            [batch.batch.links for batch in batches],
        )
        if self._store.get(key) is None:
            links = {path: facts for batch in batches for path, facts in batch.links().items()}
            links |= {f"{MEDIA}/{name}": None for name in media}
            findings = link_findings(links, address)
            if findings:
                raise NotPublishedError("the new site has links that lead nowhere", findings)
            self._store.put(key, "sound")
        return files


class _Drawings:
    """Engraved examples, kept all together: the engraver is slow to begin."""

    def __init__(self, store: Store, program: str) -> None:
        self._store, self._key = store, key_of("drawings", program)
        self._earlier: int | None = None
        store.using(self._key)
        use_drawings(self._load)

    def keep(self) -> None:
        """Keep them if there is a new one."""
        if self._earlier is not None and self._earlier < len(known_drawings()):
            self._store.put(self._key, dict(known_drawings()))

    def _load(self) -> Drawings:
        earlier: Drawings = self._store.get(self._key) or {}
        self._earlier = len(earlier)
        return earlier


def _media_files(
    names: Iterable[str], media: Mapping[str, Media], folder: Path
) -> tuple[SiteFile, ...]:
    """Give the media that pages need.

    Raises NotPublishedError for one that is no file of the folder itself: a link to a place
    outside would publish what the director never put there.
    """
    root = folder.resolve()
    lost = tuple(
        f"{MEDIA}/{name} is not a file of the content folder"
        for name in names
        if name not in media or root not in (folder / name).resolve().parents
    )
    if lost:
        raise NotPublishedError("media are not where they should be", lost)
    return tuple(
        SiteFile(f"{MEDIA}/{name}", media[name].digest, (folder / name).read_bytes)
        for name in names
    )
