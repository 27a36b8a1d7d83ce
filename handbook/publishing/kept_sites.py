"""The last sites that a publication took the place of, kept beside the one that stands.

Each lies in a folder with the number of that publication, and has with it the ledger as it
was then. Their files are copies: what is changed in place in the site that stands, as a tool for
web hosts may do, leaves them as they were.
"""

from __future__ import annotations

import os
from collections.abc import Collection
from contextlib import suppress
from pathlib import Path

from handbook.disk import is_folder, is_there, make_names_last, read_bytes, write_new
from handbook.publishing.contents import remove_site
from handbook.publishing.hosts import HOSTS, note_hosts, noted_hosts
from handbook.publishing.standing import StandingSite, standing_site
from handbook.records import dataclass

MOST_KEPT = 3
COPY = "ledger.json"
"""The copy of a ledger that lies beside the site of which it tells."""

KEPT = "kept"
"""The folder of the kept sites beside the site that stands."""

_MADE, _DROPPED = "keeping", "dropped"
_SITE = "site"
_MOST_BYTES = 64_000_000
_OWN_ALONE = (
    0o700  # a web server may reach what lies beside the site, and old sites are not for readers
)


@dataclass(frozen=True, slots=True)
class KeptSite:
    """A site that stood before the publication `number`, in `folder`, and the ledger of that time."""

    number: int
    folder: Path
    site: StandingSite
    ledger: bytes
    hosts: frozenset[str]


def keep(work: Path, number: int, site: StandingSite, ledger: bytes, hosts: frozenset[str]) -> None:
    """Keep the site that stands before the publication `number` takes its place; raises OSError."""
    from handbook.publishing.staging import stage  # noqa: PLC0415

    drop(work, number)
    made = work / _MADE
    os.mkdir(made, _OWN_ALONE)  # noqa: PTH102 - patched in tests by this name
    if hosts:
        note_hosts(made, hosts)
    stage(site.files, made / _SITE, site.folder, site.untouched, link=False)
    write_new(made / COPY, ledger, lasting=True)
    make_names_last(made)
    with suppress(FileExistsError):
        os.mkdir(work / KEPT, _OWN_ALONE)  # noqa: PTH102
    os.rename(made, work / KEPT / str(number))  # noqa: PTH104
    make_names_last(work / KEPT)


def kept_site(work: Path, number: int) -> KeptSite | None:
    """Give the site that stood before a publication, if it is kept whole."""
    folder = work / KEPT / str(number)
    ledger = read_bytes(folder / COPY, _MOST_BYTES) if is_folder(folder) else None
    site = standing_site(folder / _SITE)
    if ledger is None or site is None:
        return None
    return KeptSite(number, folder, site, ledger, noted_hosts(folder) or frozenset())


def keep_only(work: Path, numbers: Collection[int]) -> None:
    """Drop all that is kept but what stood before the newest three of these publications."""
    newest = sorted(numbers, reverse=True)[:MOST_KEPT]
    for number in kept_numbers(work):
        if number not in newest:
            drop(work, number)
    with suppress(OSError):
        os.rmdir(work / KEPT)  # noqa: PTH106 - if nothing is kept


def clear_kept(work: Path) -> tuple[str, ...]:
    """Delete what was half kept or half dropped; give what stays, since no build put it there."""
    return _remove(work / _MADE) + _remove(work / _DROPPED)


def leftovers(work: Path) -> tuple[Path, ...]:
    """Give the places in which something is only as long as a publication is at work."""
    return work / _MADE, work / _DROPPED


def kept_numbers(work: Path) -> list[int]:
    """Give the numbers of the publications before which a site was kept."""
    if not is_folder(work / KEPT):
        return []
    return [int(name) for name in os.listdir(work / KEPT) if name.isdecimal()]  # noqa: PTH208


def drop(work: Path, number: int) -> None:
    """Take a kept site away whole: by its name first, so that half of one is never put back."""
    folder = work / KEPT / str(number)
    if is_there(folder):
        os.rename(folder, work / _DROPPED)  # noqa: PTH104 - patched in tests by this name
        _remove(work / _DROPPED)


def _remove(folder: Path) -> tuple[str, ...]:
    if not is_folder(folder):
        return (str(folder),) if is_there(folder) else ()
    left = remove_site(folder / _SITE)
    for name in (COPY, HOSTS, f"{HOSTS}.part"):
        with suppress(OSError):
            os.unlink(folder / name)  # noqa: PTH108 - patched in tests by this name
    with suppress(OSError):
        os.rmdir(folder)  # noqa: PTH106
    return left if left or not is_there(folder) else (str(folder),)
