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
from handbook.publishing.lock import locked
from handbook.publishing.manifest import read_marker
from handbook.publishing.refusal import NotPublishedError, RefusedTargetError
from handbook.publishing.target import refuse_strangers

WORK_FOLDER = ".handbook"


@dataclass(slots=True)
class Workplace:
    """The three places of a swap: the site, the staged new one, the old one put aside.

    `kept` names what was found in an old site after the new one took its place: it was
    put there in the last moment, by somebody else, and is left where it is.
    """

    target: Path
    staged: Path
    aside: Path
    kept: tuple[str, ...] = field(default=(), init=False)

    def swap(self) -> None:
        """Put the staged site in place of the old one, in one step where the system can.

        The old one is looked at right before and right after: if it holds anything that
        no build put there, it goes back to its place and RefusedTargetError is raised.
        """
        refuse_strangers(self.target)
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
            refuse_strangers(old, self.target)
        except RefusedTargetError:
            if old == self.aside or not exchange(old, self.target):
                if old != self.aside:
                    _rename(old, self.aside)
                _rename(self.target, self.staged)
                _rename(self.aside, self.target)
            raise

    def recover(self) -> None:
        """Undo a swap that was cut off half-way: an old site put aside goes back to its place."""
        was_live = is_folder(self.aside) and (_is_site(self.aside) or not strangers(self.aside))
        if not was_live or _is_site(self.target):
            return
        with suppress(OSError):
            os.rmdir(self.target)  # noqa: PTH106 - if it is empty: made since, to be filled
        if not is_there(self.target):
            _rename(self.aside, self.target)

    def clear(self) -> tuple[str, ...]:
        """Delete what is left over, an old site only once another stands; give what stays."""
        left = remove_site(self.staged)
        return left + (remove_site(self.aside) if _is_site(self.target) else ())

    def refuse_leftovers(self) -> None:
        """Raise NotPublishedError if anything is where the new and the old site are to be."""
        for place in (self.staged, self.aside):
            if is_there(place):
                raise _in_the_way(place)


@contextmanager
def workplace(target: Path) -> Iterator[Workplace]:
    """Hold the work folder of `target` for one build; mend what an earlier one left.

    Raises NotPublishedError if another build is at work on the same site, or if
    somebody's files are in the way.
    """
    folder = target.parent / WORK_FOLDER / target.name
    place = Workplace(target, folder / "new", folder / "old")
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
        if is_there(real.parent / WORK_FOLDER / real.name):
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


def _is_site(folder: Path) -> bool:
    return read_marker(folder) is not None


def _in_the_way(place: Path) -> NotPublishedError:
    return NotPublishedError(
        f"{place} is in the way: handbook works there while it builds, but what is there now it"
        " did not make or cannot delete: move it away, then build again"
    )


def _rename(place: Path, to: Path) -> None:
    os.rename(place, to)  # noqa: PTH104
