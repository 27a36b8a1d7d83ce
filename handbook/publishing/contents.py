"""What lies in a folder, and whose it is; what cannot be read counts as somebody's."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from handbook.disk import is_folder, is_own_folder, is_there
from handbook.publishing.hosts import are_same, is_hosts
from handbook.publishing.manifest import SITE, Marker, Written, read_marker

_LEFT_BY_SYSTEMS = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})  # by file managers, unasked


@dataclass(slots=True)
class _FolderNames:
    """Names in a folder at any depth, relative, with forward slashes.

    `others` are neither files nor folders (links, pipes), or folders that cannot be read.
    """

    files: list[str] = field(default_factory=list)
    folders: list[str] = field(default_factory=list)
    others: list[str] = field(default_factory=list)


def strangers(
    folder: Path, hosts: frozenset[str] = frozenset(), marker: Marker = SITE
) -> tuple[str, ...]:
    """Name what is in `folder` and was put there neither by a build nor by the host, in order.

    Without a marker that is all there is; an empty folder has none. `hosts` are the names of
    the host's own files and folders; what in them is neither file nor folder is a stranger.
    """
    ours = _ours(folder, marker)
    found = _found_in(folder, deep=marker.name in ours)
    files = {name for name in found.files if not _is_ours(name, ours)}
    names = {name for name in files if not is_hosts(name, hosts)} | set(found.others)
    folders = [name for name in found.folders if not is_hosts(name, hosts)]
    used = folders_of((*names, *ours, *folders))
    return tuple(sorted(names | {f"{name}/" for name in folders if name not in used}))


def unchanged(folder: Path, marker: Marker = SITE) -> Mapping[str, Written]:
    """Give the files of a site that look as the build left them: same size, same time of change."""
    listed = read_marker(folder, marker) or {}
    return {
        name: written
        for name, written in listed.items()
        if written and looks_like(f"{folder}/{name}", written)
    }


def looks_like(file: str, written: Written) -> bool:
    """Whether a file, not a link to one, has the size and the time of change that were noted."""
    try:
        found = os.lstat(file)
    except OSError:
        return False
    noted = (written.size, written.changed)
    return stat.S_ISREG(found.st_mode) and (found.st_size, found.st_mtime_ns) == noted


def remove_site(
    folder: Path,
    hosts: frozenset[str] = frozenset(),
    beside: Path | None = None,
    marker: Marker = SITE,
) -> tuple[str, ...]:
    """Delete the files that builds of ours put into `folder`, then it and its folders if empty.

    Of the host's own files, by the names `hosts`, those are deleted of which the site
    `beside` has the same. Gives the places of what stays: no build put it there, or it cannot
    be deleted. The marker goes last, so that a deletion that was cut off can be taken up again.
    """
    if not is_folder(folder):
        return (str(folder),) if is_there(folder) else ()
    found, ours = _found_in(folder), _ours(folder, marker)
    for name in found.files:
        copied = is_hosts(name, hosts) and beside and are_same(folder / name, beside / name)
        if copied or (name != marker.name and _is_ours(name, ours)):
            with suppress(OSError):
                os.unlink(f"{folder}/{name}")  # noqa: PTH108 - patched in tests by this name
    used = folders_of(ours)
    for name in reversed(found.folders):
        if name in used or is_hosts(name, hosts):
            with suppress(OSError):  # somebody's file is in it
                os.rmdir(f"{folder}/{name}")  # noqa: PTH106
    left = _found_in(folder)
    stays = [name for name in (*left.files, *left.folders, *left.others) if name != marker.name]
    with suppress(OSError):
        if not stays and marker.name in ours:
            os.unlink(folder / marker.name)  # noqa: PTH108
        if not stays:
            os.rmdir(folder)  # noqa: PTH106
    return tuple(str(folder / name) for name in sorted(stays))


def _found_in(folder: Path, *, deep: bool = True) -> _FolderNames:
    """List what is in `folder`, each folder before what is in it; no link is followed."""
    found, waiting = _FolderNames(), [""]
    while waiting:
        base = waiting.pop()
        try:
            with os.scandir(f"{folder}/{base}") as entries:
                for entry in entries:
                    _note(found, f"{base}{entry.name}", entry)
                    if deep and found.folders[-1:] == [f"{base}{entry.name}"]:
                        waiting.append(f"{base}{entry.name}/")
        except OSError:
            found.others.append(f"{base or './'} (cannot be read)")
    return found


def _note(found: _FolderNames, name: str, entry: os.DirEntry[str]) -> None:
    if entry.is_file(follow_symlinks=False):
        found.files.append(name)
    elif is_own_folder(entry.stat(follow_symlinks=False)):
        found.folders.append(name)
    else:
        found.others.append(name)


def _ours(folder: Path, marker: Marker) -> frozenset[str]:
    listed = read_marker(folder, marker)
    return frozenset((marker.in_work, *(() if listed is None else (marker.name, *listed))))


def _is_ours(name: str, ours: frozenset[str]) -> bool:
    return name in ours or name.rpartition("/")[2] in _LEFT_BY_SYSTEMS


def folders_of(names: Iterable[str]) -> set[str]:
    """Give the folders, at any depth, that hold something of these names."""
    folders: set[str] = set()
    for name in names:
        above = name.rstrip("/").rpartition("/")[0]
        while above and above not in folders:
            folders.add(above)
            above = above.rpartition("/")[0]
    return folders
