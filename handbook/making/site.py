"""The whole line, from a content folder to finished files, anew only where something changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING

from handbook.loader.contents import Contents, read_contents
from handbook.making.media import MEDIA, Media, known_media
from handbook.making.program_digest import program_digest
from handbook.outputs.model import SiteFile
from handbook.records import dataclass
from handbook.store import Store, key_of

if TYPE_CHECKING:
    from handbook.engines.model import Engine
    from handbook.making.whole_site import MadeSite
    from handbook.outputs.site import Renderer
    from handbook.pipeline import Outcome


@dataclass(frozen=True, slots=True)
class Made:
    """A finished site, or why there is none.

    `warnings` counts those of the content; `address` is where the site will stand, if known;
    `stopped` is there, and no file, if the content has errors.
    """

    files: tuple[SiteFile, ...] = ()
    pages: int = 0
    warnings: int = 0
    address: str | None = None
    stopped: Outcome | None = None


@dataclass(frozen=True, slots=True)
class _Kept:
    """What is kept of a whole site; `files` are paths and digests."""

    files: tuple[tuple[str, str], ...]
    warnings: int
    address: str | None


@dataclass(frozen=True, slots=True)
class _Seen:
    """The content as it is at one moment, and the key of the site that it makes."""

    contents: Contents
    media: Mapping[str, Media]
    program: str

    @property
    def key(self) -> str:
        problems = self.contents.found.problems
        media = sorted(self.media.items())
        return key_of("site", self.program, self.contents.digests(), problems, media)


class Maker:
    """Makes the site of a content folder again and again; the same content gives the same bytes.

    `engine` finishes the pages; it is asked for only if there are some to be finished.
    """

    def __init__(self, content: Path, store: Store, engine: Callable[[], Engine]) -> None:
        self._content, self._store, self._engine = content, store, engine
        self._renderers: dict[str, Renderer] = {}

    def make(self) -> Made:
        """Read the content, and make what is not kept.

        Raises NotPublishedError for links and media that lead nowhere, and what the engine
        raises.
        """
        seen = self._seen()
        kept = self._store.get(seen.key)
        if isinstance(kept, _Kept):
            files = tuple(self._lazily(seen, kept.files))
        else:
            made = self._whole(seen)
            if made is None:
                return self._stopped()
            files = made.files
            listed = tuple((file.path, file.digest) for file in files)
            kept = _Kept(listed, made.warnings, made.address)
            self._store.put(seen.key, kept)
            self._store.tidy()
        pages = sum(file.path.endswith("index.html") for file in files)
        return Made(files, pages, kept.warnings, kept.address)

    def _seen(self) -> _Seen:
        contents = read_contents(self._content)
        names = [file.name.removeprefix(f"{MEDIA}/") for file in contents.found.of(MEDIA)]
        media = known_media(self._content / MEDIA, names, self._store)
        return _Seen(contents, media, program_digest())

    def _whole(self, seen: _Seen) -> MadeSite | None:
        """Make the site of sound content; None if there is an error in it."""
        from handbook.making.whole_site import NotSoundError, whole_site  # noqa: PLC0415 - to see
        # that nothing changed needs no model, no template and no engine

        try:
            return whole_site(
                seen.contents,
                seen.media,
                self._store,
                program=seen.program,
                renderer=lambda: self._renderer(seen.program),
                engine=self._engine,
            )
        except NotSoundError:
            return None

    def _lazily(self, seen: _Seen, files: Iterable[tuple[str, str]]) -> Iterator[SiteFile]:
        @cache
        def made() -> Mapping[str, SiteFile]:
            site = self._whole(seen)
            return {file.path: file for file in site.files} if site else {}

        def read(path: str) -> bytes:
            return made()[path].read()

        for path, digest in files:
            yield SiteFile(path, digest, partial(read, path))

    def _renderer(self, program: str) -> Renderer:
        from handbook.outputs.site import Renderer  # noqa: PLC0415 - as above

        if program not in self._renderers:
            self._renderers = {program: Renderer()}
        return self._renderers[program]

    def _stopped(self) -> Made:
        """Tell everything that is wrong, as `handbook check` does."""
        from handbook.pipeline import load_problems  # noqa: PLC0415 - not needed for sound content

        return Made(stopped=load_problems(self._content))
