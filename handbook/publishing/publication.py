"""A site with a number, whose ledger tells of it: put in place, and put back."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path

from handbook.disk import read_bytes, write_over
from handbook.domain.history import History, Publication
from handbook.ledger import read_ledger
from handbook.ledger.codec import DamagedError, NewerError, decode, encode
from handbook.ledger.places import FOLDER
from handbook.ledger.writing import lay_ready, settle
from handbook.outputs.model import SiteFile
from handbook.publishing.contents import strangers
from handbook.publishing.kept_sites import COPY, KeptSite, drop, keep, keep_only, kept_site
from handbook.publishing.lock import locked
from handbook.publishing.manifest import MARKER
from handbook.publishing.publish import Published, is_there_already, refuse_unsound
from handbook.publishing.refusal import NotPublishedError
from handbook.publishing.staging import stage
from handbook.publishing.standing import StandingSite, standing_site
from handbook.publishing.target import real_place, usable_target
from handbook.publishing.troubles import trouble_sentence
from handbook.publishing.workplace import Workplace, work_folder, workplace
from handbook.records import dataclass

_MOST_BYTES = 64_000_000


@dataclass(frozen=True, slots=True)
class PutBack:
    """What was taken back, and how many sites before that are still kept beside the one that stands now."""

    target: Path
    undone: Publication
    standing: Publication | None
    kept: tuple[str, ...]


def publish_numbered(
    files: Sequence[SiteFile],
    target: Path,
    *,
    content: Path,
    hosts: frozenset[str],
    before: History,
    after: History,
) -> Published:
    """Put the site of a publication in place, keep the one that stood there, and write the ledger `after`.

    The last of its publications is this one. Site and ledger agree, wherever this is cut off
    (`settle`). Raises RefusedTargetError and NotPublishedError as `publish` does, the latter
    too if the ledger is not `before` any more.
    """
    real = usable_target(target, content, hosts)
    refuse_unsound(files, hosts)
    with _at_work(real, target, content, hosts) as place:
        if read_ledger(content).history != before:
            raise NotPublishedError("something else was published meanwhile: publish again")
        number = after.publications[-1].number
        keep_only(place.folder, _standing_numbers(before))
        site = standing_site(real)
        if site:
            keep(place.folder, number, site, encode(before), hosts)
        _put(place, files, site, content, after)
        keep_only(place.folder, _standing_numbers(after))
    pages = sum(file.path.endswith("index.html") for file in files)
    return Published(real, pages, len(files), place.kept)


def put_back(target: Path, *, content: Path, anyway: bool = False) -> PutBack:
    """Put the site back that stood before the last publication, byte for byte, and its ledger with it.

    The publication stays listed as taken back, and entries of calendars keep their numbers.
    Raises NotPublishedError if there is nothing to go back to, and, unless it is to be done
    `anyway`, if what stands is not what was published.
    """
    real = real_place(target)
    history = _history(content)
    undone = _last_here(real, history)
    found = _kept_before(real, target, undone)
    usable_target(target, content, found.hosts)
    if not anyway:
        _refuse_other(real, target, undone)
    with _at_work(real, target, content, found.hosts) as place:
        if read_ledger(content).history != history:
            raise NotPublishedError("something else was published meanwhile: look at it first")
        after = _without(history, undone, found)
        _put(place, found.site.files, found.site, content, after)
        drop(place.folder, undone.number)
        keep_only(place.folder, _standing_numbers(after))
    return PutBack(real, undone, after.standing[0] if after.standing else None, place.kept)


def copy_of_ledger(target: Path) -> Path:
    """Give the place of the copy of the ledger that is kept beside a published site."""
    return work_folder(real_place(target)) / COPY


@contextmanager
def _at_work(real: Path, target: Path, content: Path, hosts: frozenset[str]) -> Iterator[Workplace]:
    """Hold the ledger and the site, mend what was cut off, and leave nothing half done."""
    folder = content / FOLDER
    try:
        with suppress(FileExistsError):
            os.mkdir(folder)  # noqa: PTH102 - patched in tests by this name
        try:
            with locked(folder), workplace(real, hosts) as place:
                settle(content)
                try:
                    yield place
                finally:
                    settle(content)
                    _copy_ledger(content, place.folder)
        finally:
            with suppress(OSError):
                os.rmdir(folder)  # noqa: PTH106 - if nothing was published yet
    except OSError as error:
        if error.filename and FOLDER in Path(str(error.filename)).parts:
            raise NotPublishedError(
                f"what is published cannot be written down in {folder}: {error.strerror or error}"
            ) from error
        raise NotPublishedError(trouble_sentence(error, target)) from error


def _put(
    place: Workplace,
    files: Sequence[SiteFile],
    source: StandingSite | None,
    content: Path,
    after: History,
) -> None:
    """Stage files, lay the ledger ready, swap, and put the ledger in its place."""
    marker = place.target / MARKER
    if is_there_already(files, place.target):
        lay_ready(content, after, marker, _digest(marker))
        return
    there, untouched = (source.folder, source.untouched) if source else (place.target, {})
    stage(files, place.staged, there, untouched)
    place.carry()
    lay_ready(content, after, marker, _digest(place.staged / MARKER))
    place.swap()


def _digest(marker: Path) -> str:
    content = read_bytes(marker, _MOST_BYTES)
    assert content is not None, "a site has its marker"
    return hashlib.sha256(content).hexdigest()


def _copy_ledger(content: Path, work: Path) -> None:
    """Keep a copy of the ledger beside the site, for the day on which the content's own is lost."""
    with suppress(OSError):
        raw = encode(read_ledger(content).history)
        if read_ledger(content).history.publications and read_bytes(work / COPY, len(raw)) != raw:
            write_over(work / COPY, raw)


def _history(content: Path) -> History:
    read = read_ledger(content)
    if read.problems:
        raise NotPublishedError(read.problems[0].message)
    return read.history


def _standing_numbers(history: History) -> list[int]:
    return [one.number for one in history.publications if not one.undone]


def _last_here(real: Path, history: History) -> Publication:
    """Give the publication that stands in a folder, else the last one that stands anywhere."""
    if not history.standing:
        raise NotPublishedError("there is nothing to take back: nothing is published yet")
    site = standing_site(real)
    here = [one for one in history.standing if site and one.site == site.digest]
    return (here or list(history.standing))[0]


def _kept_before(real: Path, target: Path, undone: Publication) -> KeptSite:
    found = kept_site(work_folder(real), undone.number)
    if found is None:
        raise NotPublishedError(
            f"there is nothing to go back to: no site is kept that stood in {target} before"
            f" publication {undone.number}"
        )
    if found.site.changed or strangers(found.site.folder):
        raise NotPublishedError(
            f"the site that was kept in {found.folder} is not whole any more, so it is not put back",
            found.site.changed[:_MOST_NAMED],
        )
    return found


_MOST_NAMED = 20


def refuse_changed(site: StandingSite, target: Path) -> None:
    """Raise NotPublishedError if files of a published site were changed since."""
    if site.changed:
        more = len(site.changed) - _MOST_NAMED
        named = site.changed[:_MOST_NAMED]
        raise NotPublishedError(
            f"files in {target} are not what was published any more: take over into the content"
            " what is to stay; `--anyway` goes on without it",
            (*named, f"and {more} more") if more > 0 else named,
        )


def _refuse_other(real: Path, target: Path, undone: Publication) -> None:
    site = standing_site(real)
    if site is None:
        raise NotPublishedError(
            f"there is no site in {target} whose publication could be taken back"
        )
    refuse_changed(site, target)
    if site.digest != undone.site:
        raise NotPublishedError(
            f"what stands in {target} is not publication {undone.number}, the last one, but a"
            " build put there since: `--anyway` puts back what stood before that publication"
        )


def _without(history: History, undone: Publication, found: KeptSite) -> History:
    """Give the ledger once a publication is taken back: what was known before it, and that it was made."""
    try:
        before = decode(found.ledger)[0]
    except (DamagedError, NewerError):
        raise NotPublishedError(
            f"the ledger that was kept in {found.folder} cannot be read, so nothing is put back"
        ) from None
    marked = tuple(
        replace(one, undone=True) if one.number == undone.number else one
        for one in history.publications
    )
    if undone != history.standing[0]:  # another folder has a later one: what it told still holds
        return replace(history, publications=marked)
    return replace(before, publications=marked, events=history.events)
