"""The work folder beside the site: where a new site is staged and the old one waits.

It is hidden, holds nothing of the director's, and is on the same disk as the site, so
that both can be renamed. Whoever holds its lock is the only one at work. None of its
places may be a link, and of what is in it only files that builds put there are deleted.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

from handbook.disk import exchange, is_folder, is_there, make_names_last
from handbook.publishing.contents import remove_site, strangers
from handbook.publishing.hosts import (
    HOSTS,
    HOSTS_PART,
    HostFiles,
    are_same,
    carry,
    forget_hosts,
    host_files,
    note_hosts,
    noted_hosts,
)
from handbook.publishing.kept_sites import COPY, clear_kept, leftovers
from handbook.publishing.lock import locked
from handbook.publishing.manifest import SITE, Marker, read_marker
from handbook.publishing.refusal import NotPublishedError, RefusedTargetError
from handbook.publishing.target import refuse_strangers

WORK_FOLDER = ".handbook"


def work_folder(target: Path) -> Path:
    """Give the work folder of a site, given by its real path."""
    return target.parent / WORK_FOLDER / target.name


@dataclass(slots=True)
class Workplace:
    """The places of a swap: the site, and in the work `folder` the staged new one and the old one put aside.

    `hosts` are the names of the host's own files. `kept` names what was found in an old site
    after the new one took its place: it was put there in the last moment, by somebody else,
    and is left where it is.
    """

    target: Path
    folder: Path
    hosts: frozenset[str]
    marker: Marker = SITE
    kept: tuple[str, ...] = field(default=(), init=False)

    @property
    def staged(self) -> Path:
        """Where the new site is made."""
        return self.folder / "new"

    @property
    def aside(self) -> Path:
        """Where the old one waits."""
        return self.folder / "old"

    def carry(self) -> None:
        """Give the staged site the host's own files of the one that stands; raises RefusedTargetError for links."""
        found = host_files(self.target, self.hosts)
        if found != HostFiles():
            note_hosts(self.folder, self.hosts)
            carry(found, self.target, self.staged, self.folder / HOSTS_PART)

    def swap(self) -> None:
        """Put the staged site in place of the old one, in one step where the system can.

        The old one is looked at right before and right after: if it holds anything that
        no build put there, it goes back to its place and RefusedTargetError is raised.
        """
        refuse_strangers(self.target, hosts=self.hosts, marker=self.marker)
        if not is_there(self.target):
            _rename(self.staged, self.target)
        elif exchange(self.staged, self.target):
            self._look_back(self.staged)
        else:
            _rename(self.target, self.aside)
            _rename(self.staged, self.target)
            self._look_back(self.aside)
        make_names_last(self.target.parent)
        make_names_last(self.staged.parent)

    def _look_back(self, old: Path) -> None:
        try:
            refuse_strangers(old, self.target, self.hosts, self.marker)
            self._refuse_changed_hosts(old)
        except RefusedTargetError:
            if old == self.aside or not exchange(old, self.target):
                if old != self.aside:
                    _rename(old, self.aside)
                _rename(self.target, self.staged)
                _rename(self.aside, self.target)
            raise

    def _refuse_changed_hosts(self, old: Path) -> None:
        for name in host_files(old, self.hosts).files:
            if not are_same(old / name, self.target / name):
                raise RefusedTargetError(
                    f"{self.target / name} was changed while the site was made: build again"
                )

    def recover(self) -> None:
        """Undo a swap that was cut off half-way: an old site put aside goes back to its place."""
        hosts = noted_hosts(self.folder) or frozenset()
        was_live = is_folder(self.aside) and (
            self._is_ours(self.aside) or not strangers(self.aside, hosts, self.marker)
        )
        if not was_live or self._is_ours(self.target):
            return
        with suppress(OSError):
            os.rmdir(self.target)  # noqa: PTH106 - if it is empty: made since, to be filled
        if not is_there(self.target):
            _rename(self.aside, self.target)

    def clear(self) -> tuple[str, ...]:
        """Delete what is left over, an old site only once another stands; give what stays."""
        hosts = noted_hosts(self.folder) or frozenset()
        left = remove_site(self.staged, hosts, self.target, self.marker)
        if self._is_ours(self.target):
            left += remove_site(self.aside, hosts, self.target, self.marker)
        left += clear_kept(self.folder)
        for half in (HOSTS_PART, f"{HOSTS}.part", f"{COPY}.part"):
            with suppress(OSError):
                os.unlink(self.folder / half)  # noqa: PTH108 - patched in tests by this name
        if not left and not is_there(self.aside):
            forget_hosts(self.folder)
        return left

    def _is_ours(self, folder: Path) -> bool:
        return read_marker(folder, self.marker) is not None

    def refuse_leftovers(self) -> None:
        """Raise NotPublishedError if anything is where the new and the old site are to be."""
        for place in (self.staged, self.aside, *leftovers(self.folder)):
            if is_there(place):
                raise _in_the_way(place)


@contextmanager
def workplace(
    target: Path, hosts: frozenset[str] = frozenset(), marker: Marker = SITE
) -> Iterator[Workplace]:
    """Hold the work folder of `target` for one build; mend what an earlier one left.

    Raises NotPublishedError if another build is at work on the same site, or if
    somebody's files are in the way.
    """
    folder = work_folder(target)
    place = Workplace(target, folder, hosts, marker)
    made = [folder.parent, folder]
    try:
        _make(folder, made)
        with locked(folder):
            place.recover()
            place.clear()
            place.refuse_leftovers()
            try:
                yield place
            finally:
                place.recover()
                place.kept = place.clear()
    finally:
        for empty in reversed(made):
            with suppress(OSError):  # the site is in it, or another build, or somebody's file
                os.rmdir(empty)  # noqa: PTH106


def put_right(target: Path) -> None:
    """Mend what a build that was cut off left beside the site; all that fails is told by the next build.

    Costs a look at the disk when there is nothing.
    """
    with suppress(OSError, RuntimeError, NotPublishedError):
        real = target.resolve()
        if is_there(work_folder(real)):
            with workplace(real):
                pass


def _make(folder: Path, made: list[Path]) -> None:
    """Make `folder` and those above it; the ones above that were missing join `made`, in front."""
    for place in (folder.parent, folder):
        if is_there(place) and not is_folder(place):
            raise _in_the_way(place)
    missing = [place for place in (folder, *folder.parents) if not is_there(place)]
    made[:0] = [place for place in reversed(missing) if place not in made]
    for place in reversed(missing):
        with suppress(FileExistsError):
            os.mkdir(place)  # noqa: PTH102


def _in_the_way(place: Path) -> NotPublishedError:
    return NotPublishedError(
        f"{place} is in the way: handbook works there while it builds, but what is there now it"
        " did not make or cannot delete: move it away, then build again"
    )


def _rename(place: Path, to: Path) -> None:
    os.rename(place, to)  # noqa: PTH104
