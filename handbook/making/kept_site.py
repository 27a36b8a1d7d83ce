"""The site of a content folder: as it is kept if nothing changed, else from the whole line."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from handbook.domain.history import NO_HISTORY, History
from handbook.ledger import ReadLedger, read_ledger
from handbook.loader.contents import read_contents
from handbook.making.media import known_media
from handbook.making.model import FinishedSite, LostLinkError, NotSoundError, SeenContent
from handbook.making.program_digest import program_digest
from handbook.outputs.model import SiteFile
from handbook.publishing.refusal import NotPublishedError
from handbook.records import dataclass
from handbook.source.links import MEDIA
from handbook.store import Store, key_of

if TYPE_CHECKING:
    from handbook.engines.model import Engine
    from handbook.pipeline import Outcome

DoneT = TypeVar("DoneT")


@dataclass(frozen=True, slots=True)
class _Listed:
    """What is kept of a whole site; `files` are paths and digests."""

    files: tuple[tuple[str, str], ...]
    warnings: int
    address: str | None
    page_digests: Mapping[str, str]
    hosts: frozenset[str]
    fonts: str


def build(
    content: Path,
    store: Store,
    engine: Callable[[], Engine],
    publish: Callable[[FinishedSite], DoneT],
    history: History | None = None,
    *,
    drafts: bool = False,
) -> DoneT | Outcome:
    """Publish the site of a content folder; give what `publish` gives, or all problems of an unsound one.

    Without a `history` it is what the ledger says, whose problems count as warnings. The same
    content and history give the same bytes, whatever is in the `store`. With `drafts`, cycles
    that are drafts are made as well, if nothing is wrong in any of them. Raises what
    `build_site` raises.
    """
    seen = _seen(content, store)
    drafts = drafts and _may_have_drafts(seen)
    ledger = ReadLedger(history) if history is not None else read_ledger(content)
    known = ledger.history
    key = key_of(seen.key, _shown(known)) if known != NO_HISTORY else seen.key
    key = key_of("with drafts", key) if drafts else key
    line = partial(_line, seen, store, engine, known, drafts)

    def hand_on(site: FinishedSite) -> DoneT:
        return publish(replace(site, warnings=site.warnings + len(ledger.problems)))

    def keep(site: FinishedSite) -> DoneT:
        listed = tuple((file.path, file.digest) for file in site.files)
        digests = site.page_digests
        kept = _Listed(listed, site.warnings, site.address, digests, site.hosts, site.fonts)
        store.put(key, kept)
        store.tidy()
        return hand_on(site)

    kept = store.get(key)
    if isinstance(kept, _Listed) and _has_fonts(kept):
        forget = partial(store.put, key, None)
        return hand_on(_listed_site(kept, partial(line, _as_it_is), forget))
    try:
        return line(keep)
    except (NotSoundError, NotPublishedError) as stopped:
        if drafts:  # what is wrong may be in one of them: the site shows without them
            return build(content, store, engine, publish, history)
        if not isinstance(stopped, NotSoundError | LostLinkError):
            raise
        from handbook.pipeline import has_errors, load_problems  # noqa: PLC0415 - not needed for sound content

        outcome = load_problems(content)
        if isinstance(stopped, LostLinkError) and not has_errors(outcome.problems):
            raise
        return outcome


def _seen(content: Path, store: Store) -> SeenContent:
    contents = read_contents(content)
    names = [file.name.removeprefix(f"{MEDIA}/") for file in contents.found.of("media")]
    program = program_digest()
    media = known_media(content / MEDIA, names, store, program)
    return SeenContent(contents, media, program)


def _may_have_drafts(seen: SeenContent) -> bool:
    """Whether any cycle's file has the word; which of them are drafts is found by reading them."""
    contents = seen.contents
    raw = (contents.raw[file.name] for file in contents.found.of("cycle"))
    return any(b"draft" in one for one in raw if one is not None)


def _line(
    seen: SeenContent,
    store: Store,
    engine: Callable[[], Engine],
    history: History,
    drafts: bool,
    publish: Callable[[FinishedSite], DoneT],
) -> DoneT:
    from handbook.making.build import build_site  # noqa: PLC0415 - to see that nothing changed
    # needs no model, no template and no engine

    return build_site(seen, store, engine, publish, history, drafts=drafts)


def _shown(history: History) -> tuple[object, ...]:
    """Give what the files of a site may be made of: all but their own digests, and older facts."""
    publications = [
        (one.number, one.instant, one.changes, one.undone) for one in history.publications
    ]
    return (
        publications,
        history.coming,
        sorted(history.pages.items()),
        sorted(history.events.items()),
    )


def _as_it_is(site: FinishedSite) -> FinishedSite:
    return site


def _has_fonts(listed: _Listed) -> bool:
    """Whether the machine has the fonts of which its sheets have letters, if any has."""
    if not listed.fonts:
        return True
    from handbook.outputs.sheets.typesetting import machine_fonts  # noqa: PLC0415 - seldom needed

    return listed.fonts == machine_fonts()


def _listed_site(
    listed: _Listed, make: Callable[[], FinishedSite], forget: Callable[[], None]
) -> FinishedSite:
    """Give a site whose bytes are made once one of them is asked for.

    A list that says other bytes than are made is one to `forget`, lest the next build believe it.
    """

    @cache
    def made() -> dict[str, SiteFile]:
        return {file.path: file for file in make().files}

    def read(path: str, digest: str) -> bytes:
        content = made()[path].read()
        if hashlib.sha256(content).hexdigest() != digest:
            forget()
        return content

    files = tuple(
        SiteFile(path, digest, partial(read, path, digest)) for path, digest in listed.files
    )
    return FinishedSite(
        files, listed.warnings, listed.address, listed.page_digests, listed.hosts, listed.fonts
    )
