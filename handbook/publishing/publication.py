"""A site with a number, whose ledger tells of it: put in place, and put back."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path

from handbook.disk import is_folder, is_there, read_bytes, write_over
from handbook.domain.history import History, Publication
from handbook.ledger import read_ledger
from handbook.ledger.codec import DamagedError, NewerError, decode, encode
from handbook.ledger.places import COMING, FOLDER
from handbook.ledger.writing import lay_ready, settle
from handbook.outputs.model import SiteFile
from handbook.publishing.contents import strangers
from handbook.publishing.forgotten import forgotten, put_aside
from handbook.publishing.kept_sites import COPY, KeptSite, drop, keep, keep_only, kept_site
from handbook.publishing.lock import locked
from handbook.publishing.manifest import MARKER
from handbook.publishing.publish import Published, is_there_already, refuse_unsound
from handbook.publishing.refusal import NotPublishedError
from handbook.publishing.staging import stage
from handbook.publishing.standing import StandingSite, standing_site
from handbook.publishing.target import real_place, usable_target
from handbook.publishing.troubles import trouble_sentence
from handbook.publishing.workplace import Workplace, put_right, work_folder, workplace
from handbook.records import dataclass

_MOST_BYTES = 64_000_000
_MOST_NAMED = 20


@dataclass(frozen=True, slots=True)
class PutBack:
    """What was taken back, and which publication stands now, if any; `kept` is as in `Published`."""

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

    The last of its publications is this one. A copy of the ledger that knows of others than
    `before`, and the sites kept with it, are put aside. Site and ledger agree, wherever this is cut off
    (`settle`). Raises RefusedTargetError and NotPublishedError as `publish` does, the latter
    too if the ledger is not `before` any more.
    """
    real = usable_target(target, content, hosts)
    refuse_unsound(files, hosts)
    with _at_work(real, target, content, hosts) as place:
        if read_ledger(content).history != before:
            raise NotPublishedError("something else was published meanwhile: publish again")
        if forgotten(place.folder, before):
            put_aside(place.folder)
        number = after.publications[-1].number
        keep_only(place.folder, _standing_numbers(before))
        site = standing_site(real)
        if site:
            keep(place.folder, number, site, encode(before), hosts)
        try:
            _put(place, files, site, content, after)
        except Exception:
            drop(place.folder, number)
            raise
        keep_only(place.folder, _standing_numbers(after))
    pages = sum(file.path.endswith("index.html") for file in files)
    return Published(real, pages, len(files), place.kept)


def put_back(target: Path, *, content: Path, anyway: bool = False) -> PutBack:
    """Put the site back that stood before the last publication, byte for byte, and its ledger with it.

    The publication stays listed as taken back, and entries of calendars keep their numbers.
    Raises NotPublishedError if there is nothing to go back to, or if publications were made here
    of which the ledger does not know, and, unless it is to be done
    `anyway`, if what stands is not what was published.
    """
    real, history = real_place(target), known_history(content, target)
    undone = to_put_back(target, content=content, anyway=anyway)
    found = _kept_before(real, target, undone)
    with _at_work(real, target, content, found.hosts) as place:
        if read_ledger(content).history != history:
            raise NotPublishedError("something else was published meanwhile: look at it first")
        after = _without(history, undone, found)
        _put(place, found.site.files, found.site, content, after)
        drop(place.folder, undone.number)
        keep_only(place.folder, _standing_numbers(after))
    standing = next((one for one in after.standing if one.site == found.site.digest), None)
    return PutBack(real, undone, standing, place.kept)


def to_put_back(target: Path, *, content: Path, anyway: bool) -> Publication:
    """Give the publication that `put_back` would take back; raises what it raises before it begins."""
    real = real_place(target)
    known = known_history(content, target)
    lost = forgotten(work_folder(real), known)
    if lost:
        raise NotPublishedError(lost.sentence(), (lost.way_back(content),))
    undone = _last_here(real, known)
    found = _kept_before(real, target, undone)
    usable_target(target, content, found.hosts)
    if not anyway:
        _refuse_other(real, target, undone)
    return undone


def mend(content: Path, target: Path) -> None:
    """Finish what a publication that was cut off left half done; all that fails is told by the next one."""
    put_right(target)
    with suppress(OSError, NotPublishedError):
        if is_there(content / COMING) and is_folder(content / FOLDER):
            with locked(content / FOLDER):
                settle(content)


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


def known_history(content: Path, target: Path) -> History:
    """Give what the ledger says; raises NotPublishedError, with what to do, if it cannot be read."""
    read = read_ledger(content)
    if not read.problems:
        return read.history
    problem, copy = read.problems[0], work_folder(real_place(target)) / COPY
    hints = [f"{problem.file}: {problem.message}", f"help: {problem.hint}"]
    if _is_ledger(copy):
        place = content / problem.file
        hints.append(
            f"a copy lies beside the published site: {copy}; put it in the place of {place}"
        )
    raise NotPublishedError("the list of publications cannot be read", tuple(hints))


def _is_ledger(file: Path) -> bool:
    raw = read_bytes(file, _MOST_BYTES)
    with suppress(DamagedError, NewerError):
        return raw is not None and bool(decode(raw))
    return False


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
    foreign = strangers(found.site.folder)
    if found.site.changed or foreign:
        raise NotPublishedError(
            f"the site that was kept in {found.site.folder} is not whole any more, so it is not put"
            " back: mend these files there from a backup, or change the content to what it was"
            " and publish again",
            most_named((*found.site.changed, *foreign)),
        )
    return found


def most_named(names: Sequence[str]) -> tuple[str, ...]:
    """Give the first names of a list, and how many more there are."""
    more = len(names) - _MOST_NAMED
    return (*names[:_MOST_NAMED], f"and {more} more") if more > 0 else tuple(names)


def _refuse_other(real: Path, target: Path, undone: Publication) -> None:
    site = standing_site(real)
    if site is None:
        raise NotPublishedError(
            f"there is no site in {target} whose publication could be taken back"
        )
    if site.changed:
        raise NotPublishedError(
            f"files in {target} were changed since they were put there: `--anyway` goes back without them",
            most_named(site.changed),
        )
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
