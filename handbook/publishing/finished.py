"""From bytes and media to files that can be published."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from pathlib import Path

from handbook.outputs.model import SiteFile
from handbook.publishing.refusal import NotPublishedError
from handbook.publishing.verify_links import link_facts

MEDIA_FOLDER = "media"
"""Where media lie, in the content folder as in the site."""


def finished_file(path: str, content: bytes) -> SiteFile:
    """Make the file of the site at `path` that holds `content`."""
    digest = hashlib.sha256(content).hexdigest()
    return SiteFile(path, digest, lambda: content, link_facts(path, content))


def media_files(paths: Iterable[str], media: Path) -> tuple[SiteFile, ...]:
    """Make the files of the site for `paths` in the folder `media`, each read when it is needed.

    Raises NotPublishedError for one that cannot be read or is not a file of that folder
    itself: a link to a place outside would publish what the director never put there.
    """
    root, files, findings = media.resolve(), [], []
    for path in paths:
        place = media / path
        if not place.is_file() or root not in place.resolve().parents:
            findings.append(f"{MEDIA_FOLDER}/{path} is not a file of the content folder")
            continue
        try:
            read = finished_file(f"{MEDIA_FOLDER}/{path}", place.read_bytes())
        except OSError as error:
            findings.append(f"{MEDIA_FOLDER}/{path} cannot be read: {error.strerror}")
        else:
            files.append(SiteFile(read.path, read.digest, place.read_bytes, read.links))
    if findings:
        raise NotPublishedError("media are not where they should be", tuple(findings))
    return tuple(files)
