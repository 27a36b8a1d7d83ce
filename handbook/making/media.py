"""Media of the content folder: their digests, sizes and lengths, read anew only if they changed."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Iterable, Mapping
from functools import partial
from pathlib import Path

from handbook.cleaning.model import UncleanError
from handbook.outputs.model import SiteFile
from handbook.publishing.refusal import NotPublishedError
from handbook.records import dataclass
from handbook.source.links import MEDIA
from handbook.store import Store, key_of

_SETTLED = 3 * 10**9  # ns: a file changed so shortly before it was read may change unseen


@dataclass(frozen=True, slots=True)
class Media:
    """A file under media/: the SHA-256 of what is published of it, the size of that in bytes, a sound's length in s.

    `fault` says why nothing of it can be published; the digest is then that of the file as it is.
    """

    digest: str
    size: int
    seconds: float | None
    fault: str = ""


def known_media(
    folder: Path, names: Iterable[str], store: Store, program: str = ""
) -> Mapping[str, Media]:
    """Look into media files by name; one that cannot be opened is left out.

    A file is taken as known if the `program` that looked was this one, and its size, times and number on the disk are those noted when
    it was read, and it had rested by then: two changes within one tick of a coarse clock
    would look alike.
    """
    known = {}
    for name in names:
        try:
            known[name] = _known(folder / name, store, program)
        except OSError:
            continue
    return known


def _known(file: Path, store: Store, program: str) -> Media:
    found = file.stat()
    key = key_of(
        *("media", program, str(file), found.st_size, found.st_mtime_ns),
        *(found.st_ctime_ns, found.st_ino),
    )
    kept = store.get(key)
    if isinstance(kept, Media):
        return kept
    from handbook.loader.media_files import media_file  # noqa: PLC0415 - most days none is new

    begun = time.time_ns()
    looked = media_file(file)
    if looked is None:
        raise OSError
    media = Media(_digest(file, looked.fault), looked.size, looked.seconds, looked.fault)
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
        SiteFile(f"{MEDIA}/{name}", media[name].digest, partial(_published, folder / name))
        for name in wanted
    )


def _digest(file: Path, fault: str) -> str:
    """Give the digest of what is published of a file, of the file itself if nothing can be."""
    if not fault:
        return hashlib.sha256(_published(file)).hexdigest()
    with file.open("rb") as opened:
        return hashlib.file_digest(opened, "sha256").hexdigest()


def _published(file: Path) -> bytes:
    """Read a file as it is published: it may have changed since it was looked at."""
    from handbook.loader.media_files import published_bytes  # noqa: PLC0415 - as above

    try:
        return published_bytes(file)
    except UncleanError as unclean:
        raise NotPublishedError(f"{MEDIA}/{file.name} {unclean}") from unclean
