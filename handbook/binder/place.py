"""Whether a binder may be put into a folder: never where readers could come upon it."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from handbook.disk import is_folder, is_there, read_bytes
from handbook.publishing.contents import strangers
from handbook.publishing.manifest import BINDER, read_marker
from handbook.publishing.refusal import RefusedTargetError
from handbook.publishing.target import real_place
from handbook.publishing.troubles import mount_sentence

_SERVED = frozenset({"public_html", "htdocs", "wwwroot", "www"})  # by habit of web servers
_MKDOCS = ("mkdocs.yml", "mkdocs.yaml")
_MKDOCS_FOLDERS = re.compile(rb"^(docs_dir|site_dir):[ \t]*[\"']?([^\"'#\r\n]+)", re.MULTILINE)
_MOST_BYTES = 1_000_000
_NAMED = 3


def usable_place(target: Path, content: Path) -> Path:
    """Give the real path of `target`, or raise RefusedTargetError with a plain sentence.

    Refused are: a folder that holds the content or lies in it; one in or beside a site of
    ours; one in what looks like somebody's web site; a mount point, and a folder with
    anything in it that was not put there by an earlier binder.
    """
    real, source = real_place(target), content.resolve()
    if real == source or source in real.parents:
        raise RefusedTargetError(
            f"the binder cannot be put inside the content folder: choose a folder outside {content}"
        )
    if real in source.parents:
        raise RefusedTargetError(
            f"{target} holds the content folder, and the binder replaces the whole folder: choose"
            " another one"
        )
    for sentence in _in_reach(real, target):
        raise RefusedTargetError(
            f"{sentence}: the binder is private, so choose a folder that is not published, such as"
            " handbook-binder in your home folder"
        )
    if os.path.ismount(real):
        raise RefusedTargetError(mount_sentence(target, "binder"))
    _refuse_strangers(real, target)
    return real


def _in_reach(real: Path, target: Path) -> Iterator[str]:
    """Say why readers of a site might come upon a folder."""
    for folder in (real, *real.parents):
        if _is_site(folder):
            where = "is" if folder == real else "lies in"
            yield f"{target} {where} a site that handbook made"
        if folder.name.casefold() in _SERVED:
            yield f"{target} lies in {folder}, which web servers publish"
        if is_there(folder / "index.html") and read_marker(folder, BINDER) is None:
            yield f"{target} lies in {folder}, which holds a web page"
        if any(one == real or one in real.parents for one in _of_mkdocs(folder)):
            yield f"{target} lies in a folder that MkDocs publishes"
    yield from (
        f"{target} would stand beside the site {beside.name}" for beside in _sites_in(real.parent)
    )
    yield from (f"{target} holds the site {inside.name}" for inside in _sites_in(real))


def _is_site(folder: Path) -> bool:
    return read_marker(folder) is not None


def _sites_in(folder: Path) -> list[Path]:
    with suppress(OSError):
        return [one for one in sorted(folder.iterdir()) if is_folder(one) and _is_site(one)]
    return []


def _of_mkdocs(folder: Path) -> Iterator[Path]:
    """Give the folders that a mkdocs.yml in `folder` publishes or makes."""
    for name in _MKDOCS:
        raw = read_bytes(folder / name, _MOST_BYTES)
        if raw is None:
            continue
        named = {"docs_dir": "docs", "site_dir": "site"}
        for key, value in _MKDOCS_FOLDERS.findall(raw):
            named[key.decode()] = value.decode(errors="replace").strip()
        yield from (folder / value for value in named.values())


def _refuse_strangers(real: Path, target: Path) -> None:
    if not is_there(real):
        return
    if not is_folder(real):
        raise RefusedTargetError(f"{target} is a file: a binder needs a folder")
    foreign = strangers(real, marker=BINDER)
    if foreign:
        named = ", ".join(foreign[:_NAMED])
        more = f" and {len(foreign) - _NAMED} more" if len(foreign) > _NAMED else ""
        raise RefusedTargetError(
            f"{target} holds files that no binder of ours put there ({named}{more}), and the"
            " binder replaces the whole folder: move them away, or choose another folder"
        )
