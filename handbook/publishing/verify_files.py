"""Whether a staged site holds exactly what was to be published, and only kinds of file we know."""

from __future__ import annotations

from collections import Counter
from pathlib import Path, PurePosixPath

from handbook.outputs.model import Site
from handbook.publishing.manifest import files_in

PUBLISHED_SUFFIXES = frozenset(
    {
        *(".html", ".css", ".js", ".json", ".webmanifest", ".xml", ".txt", ".ics"),
        *(".svg", ".png", ".jpg", ".jpeg", ".webp", ".ico", ".woff2"),
        *(".mp3", ".ogg", ".m4a", ".wav", ".pdf"),
    }
)
"""Kinds of file a site may hold; whatever else turns up stops the build."""

MEDIA_FOLDER = "media"
"""Where media lie, in the content folder as in the site."""


def wanted_files(site: Site) -> frozenset[str]:
    """List the files that publishing `site` makes.

    Raises ValueError if two things would stand at one address, or one leads outside
    the site: a fault of ours.
    """
    names = [f"{page.path}index.html" for page in site.pages]
    names += [file.path for file in site.files]
    names += [f"{MEDIA_FOLDER}/{path}" for path in site.media]
    twice = sorted(name for name, count in Counter(names).items() if count > 1)
    outside = sorted(name for name in names if _leads_outside(name))
    if twice or outside:
        raise ValueError(f"addresses given twice: {twice}; outside the site: {outside}")
    return frozenset(names)


def media_findings(site: Site, media: Path) -> tuple[str, ...]:
    """Name each file of `site.media` that is not a file of the folder `media` itself.

    A link to a place outside would publish what the director never put there.
    """
    root = media.resolve()
    return tuple(
        f"{MEDIA_FOLDER}/{path} is not a file of the content folder"
        for path in site.media
        if not (media / path).is_file() or root not in (media / path).resolve().parents
    )


def content_findings(staged: Path, wanted: frozenset[str]) -> tuple[str, ...]:
    """Say what is missing from a staged site, too much, empty, or of a kind we do not publish."""
    found = files_in(staged)
    findings = [f"{name} is missing" for name in sorted(wanted - found)]
    findings += [f"{name} was not to be published" for name in sorted(found - wanted)]
    findings += [
        f"{name} is of a kind that is not published"
        for name in sorted(found)
        if PurePosixPath(name).suffix.lower() not in PUBLISHED_SUFFIXES
    ]
    findings += [f"{name} is empty" for name in sorted(found) if not (staged / name).stat().st_size]
    return tuple(findings)


def _leads_outside(name: str) -> bool:
    return name.startswith("/") or "\\" in name or ".." in name.split("/") or "//" in name
