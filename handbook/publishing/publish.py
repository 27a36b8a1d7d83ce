"""One publication: verify, stage, swap."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from handbook.outputs.model import SiteFile
from handbook.publishing.contents import unchanged
from handbook.publishing.refusal import NotPublishedError
from handbook.publishing.staging import stage
from handbook.publishing.target import usable_target
from handbook.publishing.troubles import trouble_sentence
from handbook.publishing.verify_files import file_findings
from handbook.publishing.workplace import workplace
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class Published:
    """What now stands in the folder.

    `kept` are the places of what is left of the old site: somebody put it there in the last
    moment, or it cannot be deleted.
    """

    target: Path
    pages: int
    files: int
    kept: tuple[str, ...] = ()


def publish(files: Sequence[SiteFile], target: Path, *, content: Path) -> Published:
    """Verify a finished site and put it in place of the one in the folder `target`.

    Nothing is written unless all of it is sound. Whatever goes wrong, at any step, the old site stays or comes back as it
    was. Files that did not change stay as they are on the disk, and if none did, all.
    Raises RefusedTargetError for a folder that must not be replaced, NotPublishedError
    for findings, full disks and the like.
    """
    real = usable_target(target, content)
    findings = file_findings(files)
    if findings:
        raise NotPublishedError("the new site is not whole", findings)
    try:
        with workplace(real) as place:
            kept = unchanged(real)
            if {name: noted.digest for name, noted in kept.items()} != {
                file.path: file.digest for file in files
            }:
                stage(files, place.staged, real, kept)
                place.swap()
    except OSError as error:
        raise NotPublishedError(trouble_sentence(error, target)) from error
    pages = sum(file.path.endswith("index.html") for file in files)
    return Published(real, pages, len(files), place.kept)
