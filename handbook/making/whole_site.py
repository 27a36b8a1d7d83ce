"""All files of a site, in batches that are made only if what they are made of has changed."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from hashlib import sha256
from itertools import chain
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
from handbook.outputs.model import OutputFile, SiteFile
from handbook.outputs.page import Context
from handbook.outputs.pages import WHOLE, WholeKind
from handbook.outputs.search.index import search_index, search_part
from handbook.outputs.site import Renderer
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
        wholes = [self._whole(kind, shares) for kind in WHOLE]
        pages = [*wholes, *chain.from_iterable(own.values())]
        finish(pages, self._finished)
        drawings.keep()
        batches = [*pages, *self._search(wholes, own), *self._beside(pages)]
        named = self._shared.media.union(*(group.media for group in found))
        files = [*_media_files(sorted(named), media, folder), *self._verified(batches, named)]
        return MadeSite(
            tuple(sorted(files, key=lambda file: file.path)),
            self._warnings + self._shared.warnings + sum(group.warnings for group in found),
            self._shared.facts.address,
        )

    def _cycles(self) -> tuple[Mapping[str, list[KeptBatch]], list[Group]]:
        """Plan and render the cycles, each group with what its ensembles bring from those before.

        Gives the pages of each cycle, and what is known of each group.
        """
        reached: dict[str, Start] = {}
        own, found = dict[str, list[KeptBatch]](), list[Group]()
        for heads in self._groups:
            planned = self._planned(heads, reached)
            whole = KeptBatch(self._store, planned.key, planned.whole)
            finish([whole], self._finished)
            group: Group = whole.more
            for head in heads:
                key = key_of("cycle", planned.key, head.id)
                own[head.id] = [KeptBatch(self._store, key, partial(planned.cycle, head.id))]
            for of, key in group.ensembles.items():
                own[of[0]].append(KeptBatch(self._store, key, partial(planned.ensemble, *of)))
            found.append(group)
            reached |= group.reached
        return own, found

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

    def _search(
        self, wholes: Sequence[KeptBatch], own: Mapping[str, Sequence[KeptBatch]]
    ) -> list[KeptBatch]:
        """Make the search index: one file of what is of no cycle, and one of each cycle."""
        lasts = [(head.id, head.last) for group in self._groups for head in group]
        files = [self._file(("search", lasts), wholes, partial(search_index, cycles=lasts))]
        files += [
            self._file(("search", cycle), batches, partial(search_part, cycle))
            for cycle, batches in own.items()
        ]
        finish(files, self._finished)
        return files

    def _file(
        self,
        what: object,
        batches: Sequence[KeptBatch],
        make: Callable[[Iterable[str]], OutputFile],
    ) -> KeptBatch:
        """Make a file of the rows of some pages."""

        def fresh() -> Fresh:
            return _fresh(make(batch.rows() for batch in batches))

        rows = [batch.batch.rows for batch in batches]
        return KeptBatch(self._store, key_of(self._program, what, rows), fresh)

    def _beside(self, pages: Sequence[KeptBatch]) -> list[KeptBatch]:
        """Make the other files that are no pages: assets, the error page, the sitemap."""
        content, framing = self._content, self._framing
        beside = [
            KeptBatch(
                self._store,
                key_of("assets", self._program),
                lambda: _fresh(*framing.renderer.assets),
            ),
            KeptBatch(
                self._store,
                key_of("not found", content.core_key),
                lambda: _fresh(framing.renderer.not_found(content.context)),
            ),
        ]
        address = self._shared.facts.address
        if address is not None:
            paths = sorted(
                path.removesuffix("index.html") for batch in pages for path, _ in batch.batch.files
            )
            key = key_of("sitemap", self._program, paths, address)
            beside.append(KeptBatch(self._store, key, lambda: _fresh(sitemap(paths, address))))
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


def _fresh(*files: OutputFile) -> Fresh:
    return Fresh(contents={file.path: file.content for file in files})


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
