"""One publication: stage, verify, swap."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from handbook.outputs.model import Site
from handbook.publishing.manifest import MARKER, marker_text
from handbook.publishing.refusal import NotPublishedError
from handbook.publishing.staging import workplace
from handbook.publishing.target import usable_target
from handbook.publishing.verify_files import (
    MEDIA_FOLDER,
    content_findings,
    media_findings,
    wanted_files,
)
from handbook.publishing.verify_links import link_findings


@dataclass(frozen=True, slots=True)
class Published:
    """What now stands in the folder."""

    target: Path
    pages: int
    files: int


def publish(
    site: Site,
    target: Path,
    *,
    content: Path,
    build: Callable[[Path], None],
    address: str | None = None,
) -> Published:
    """Let `build` write `site` beside `target`, verify it, and put it in place of the old one.

    `address` is where the site will stand, if known. Whatever goes wrong, at any step,
    the old site stays or comes back as it was. Raises RefusedTargetError for a folder
    that must not be replaced, NotPublishedError for findings, full disks and the like;
    what `build` raises is passed on.
    """
    real = usable_target(target, content)
    wanted = wanted_files(site)
    try:
        _refuse("media are not where they should be", media_findings(site, content / MEDIA_FOLDER))
        with workplace(real) as place:
            build(place.staged)
            _refuse("the new site is not whole", content_findings(place.staged, wanted))
            _refuse(
                "the new site has links that lead nowhere",
                link_findings(place.staged, wanted, address),
            )
            (place.staged / MARKER).write_bytes(marker_text(wanted))
            place.swap()
    except OSError as error:
        raise NotPublishedError(
            f"the site could not be written to {target}: {error.strerror or error}"
        ) from error
    return Published(real, len(site.pages), len(wanted))


def _refuse(sentence: str, findings: tuple[str, ...]) -> None:
    if findings:
        raise NotPublishedError(sentence, findings)
