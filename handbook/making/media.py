"""Media of the content folder: their digests, sizes and lengths, read anew only if they changed."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Iterable, Mapping
from pathlib import Path

from handbook.outputs.model import SiteFile
from handbook.publishing.refusal import NotPublishedError
from handbook.records import dataclass
from handbook.source.links import MEDIA
from handbook.store import Store, key_of

_SETTLED = 3 * 10**9  # ns: a file changed so shortly before it was read may change unseen


@dataclass(frozen=True, slots=True)
class Media:
    """A file under media/: the SHA-256 of its content, its size in bytes, a sound's length in s."""

    digest: str
    size: int
    seconds: float | None


def known_media(folder: Path, names: Iterable[str], store: Store) -> Mapping[str, Media]:
    """Look into media files by name; one that cannot be opened is left out.

    A file is taken as known if its size, times and number on the disk are those noted when
    it was read, and it had rested by then: two changes within one tick of a coarse clock
    would look alike.
    """
    known = {}
    for name in names:
        try:
            known[name] = _known(folder / name, store)
        except OSError:
            continue
    return known


def _known(file: Path, store: Store) -> Media:
    found = file.stat()
    key = key_of(
        "media", str(file), found.st_size, found.st_mtime_ns, found.st_ctime_ns, found.st_ino
    )
    kept = store.get(key)
    if isinstance(kept, Media):
        return kept
    from handbook.loader.media_files import media_file  # noqa: PLC0415 - most days none is new

    begun = time.time_ns()
    with file.open("rb") as opened:
        digest = hashlib.file_digest(opened, "sha256").hexdigest()
    looked = media_file(file)
    media = Media(digest, looked.size if looked else 0, looked.seconds if looked else None)
    if begun - max(found.st_mtime_ns, found.st_ctime_ns) > _SETTLED:
        store.put(key, media)
    return media


def media_files(
    names: Iterable[str], media: Mapping[str, Media], folder: Path
) -> tuple[SiteFile, ...]:
    """Give the files of the site for the named `media` in a folder.

    Raises NotPublishedError for one that is no file of the folder itself: a link to a place
    outside would publish what the director never put there.
    """
    root, wanted = folder.resolve(), tuple(names)
    lost = tuple(
        f"{MEDIA}/{name} is not a file of the content folder"
        for name in wanted
        if root not in (folder / name).resolve().parents
    )
    if lost:
        raise NotPublishedError("media are not where they should be", lost)
    return tuple(
        SiteFile(f"{MEDIA}/{name}", media[name].digest, (folder / name).read_bytes)
        for name in wanted
    )
