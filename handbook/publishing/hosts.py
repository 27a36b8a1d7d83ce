"""A host's own files in the folder of the site, such as the name of its domain: they stay where they are.

A site is replaced as a whole folder, so each new one gets them under the same names. Whoever
put them there may change them at any time; in the folder of the site they are never ours.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from handbook.disk import is_own_folder, read_bytes, write_new, write_over
from handbook.publishing.refusal import NotPublishedError, RefusedTargetError
from handbook.records import dataclass

HOSTS = "hosts"
"""The file beside a site that says which names were carried along, as long as copies may be left."""
HOSTS_PART = "host-file.part"
"""A copy of a host's file while it is made."""

_FIRST_LINE = "# The host's own files, of which handbook carries copies from site to site."
_MOST_BYTES = 200_000_000


@dataclass(frozen=True, slots=True)
class HostFiles:
    """What of a host's own lies in a site; names are relative, each folder before what is in it."""

    folders: tuple[str, ...] = ()
    files: tuple[str, ...] = ()


def is_hosts(name: str, hosts: frozenset[str]) -> bool:
    """Whether a path in a site is one of the host's own, or lies in one."""
    return name.split("/", 1)[0] in hosts


def host_files(site: Path, hosts: frozenset[str]) -> HostFiles:
    """Find what of the host's own lies in a site.

    Raises RefusedTargetError for a link and the like: carried along it might lead elsewhere.
    """
    folders, files = list[str](), list[str]()
    waiting = [name for name in sorted(hosts) if os.path.lexists(site / name)]
    while waiting:
        name = waiting.pop()
        found = os.lstat(site / name)
        if stat.S_ISREG(found.st_mode):
            files.append(name)
        elif is_own_folder(found):
            folders.append(name)
            waiting += [f"{name}/{inside}" for inside in sorted(os.listdir(site / name))]  # noqa: PTH208
        else:
            raise RefusedTargetError(
                f"{site / name} is one of the `host_files`, and a link or no ordinary file, which"
                " cannot be carried from site to site: put the file itself there"
            )
    return HostFiles(tuple(folders), tuple(files))


def carry(found: HostFiles, site: Path, staged: Path, part: Path) -> None:
    """Give a staged site what of the host's own lies in the site that stands; `part` is where a copy is made."""
    for name in found.folders:
        os.mkdir(staged / name)  # noqa: PTH102 - patched in tests by this name
    for name in found.files:
        _copy(site / name, staged / name, part)


def are_same(one: Path, other: Path) -> bool:
    """Whether two names stand for the same file, or for two of the same bytes."""
    try:
        first, second = os.lstat(one), os.lstat(other)
    except OSError:
        return False
    if os.path.samestat(first, second):
        return True
    if first.st_size != second.st_size or first.st_size > _MOST_BYTES:
        return False
    content = read_bytes(one, _MOST_BYTES)
    return content is not None and content == read_bytes(other, _MOST_BYTES)


def note_hosts(work: Path, hosts: Iterable[str]) -> None:
    """Note beside a site which names are carried, before any is; raises NotPublishedError."""
    path = work / HOSTS
    if os.path.lexists(path) and noted_hosts(work) is None:
        raise NotPublishedError(
            f"{path} is in the way: handbook works there while it builds, but what is there now it"
            " did not make: move it away, then build again"
        )
    write_over(path, "\n".join((_FIRST_LINE, *sorted(hosts), "")).encode())


def noted_hosts(work: Path) -> frozenset[str] | None:
    """Give the names that were noted, None where there is no note of ours."""
    raw = read_bytes(work / HOSTS, _MOST_BYTES)
    first, *names = (raw or b"").decode(errors="replace").split("\n")
    return frozenset(filter(None, names)) if first == _FIRST_LINE else None


def forget_hosts(work: Path) -> None:
    """Delete the note, if it is ours."""
    if noted_hosts(work) is not None:
        with suppress(OSError):
            os.unlink(work / HOSTS)  # noqa: PTH108 - patched in tests by this name


def _copy(file: Path, to: Path, part: Path) -> None:
    """Give a file a second name, or where the disk has no such links, make a copy of it."""
    try:
        os.link(file, to)
    except OSError:
        found, content = os.lstat(file), read_bytes(file, _MOST_BYTES)
        if content is None or len(content) > _MOST_BYTES:
            raise RefusedTargetError(
                f"{file} is one of the `host_files`, and cannot be read or is too large"
            ) from None
        write_new(part, content, lasting=True)
        with suppress(OSError):
            os.chmod(part, stat.S_IMODE(found.st_mode))  # noqa: PTH101
            os.utime(part, ns=(found.st_atime_ns, found.st_mtime_ns))
        os.rename(part, to)  # noqa: PTH104
