"""One publication: verify, stage, swap."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from handbook.outputs.model import SiteFile
from handbook.publishing.contents import unchanged
from handbook.publishing.manifest import SITE, Marker
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
    moment, or it cannot be deleted. `aside` names files that somebody changed in the old one,
    and how they are now called.
    """

    target: Path
    pages: int
    files: int
    kept: tuple[str, ...] = ()
    aside: tuple[tuple[str, str], ...] = ()


def publish(
    files: Sequence[SiteFile],
    target: Path,
    *,
    content: Path,
    hosts: frozenset[str] = frozenset(),
) -> Published:
    """Verify a finished site and put it in place of the one in the folder `target`.

    Nothing is written unless all of it is sound. Whatever goes wrong, at any step, the old site stays or comes back as it
    was. Files that did not change stay as they are on the disk, and if none did, all. The
    host's own files, by the names `hosts`, go along.
    Raises RefusedTargetError for a folder that must not be replaced, NotPublishedError
    for findings, full disks and the like.
    """
    real = usable_target(target, content, hosts)
    refuse_unsound(files, hosts)
    try:
        with workplace(real, hosts) as place:
            if not is_there_already(files, real):
                stage(files, place.staged, real, unchanged(real))
                place.carry()
                place.swap()
    except OSError as error:
        raise NotPublishedError(trouble_sentence(error, target)) from error
    pages = sum(file.path.endswith("index.html") for file in files)
    return Published(real, pages, len(files), place.kept)


def refuse_unsound(files: Sequence[SiteFile], hosts: frozenset[str]) -> None:
    """Raise NotPublishedError if a finished site may not be published, or takes names of the host's own files."""
    findings = file_findings(files)
    folded = {name.casefold() for name in hosts}
    findings += tuple(
        f"{file.path} is a file of the site, and its name is one of the `host_files`"
        for file in files
        if file.path.split("/", 1)[0].casefold() in folded
    )
    if findings:
        raise NotPublishedError("the new site is not whole", findings)


def is_there_already(files: Sequence[SiteFile], target: Path, marker: Marker = SITE) -> bool:
    """Whether a site stands in a folder as it is, with no other file of ours."""
    found = {name: noted.digest for name, noted in unchanged(target, marker).items()}
    return found == {file.path: file.digest for file in files}
