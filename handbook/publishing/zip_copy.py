"""A copy of a site in one file, to be unpacked and opened by a double click, without any server."""

from __future__ import annotations

import os
import re
import zipfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from handbook.disk import is_there, make_names_last
from handbook.outputs.model import SiteFile
from handbook.publishing.near import made_folder
from handbook.publishing.refusal import NotPublishedError, RefusedTargetError
from handbook.publishing.sitemap import SITEMAP
from handbook.publishing.target import real_place
from handbook.publishing.verify_links import ERROR_PAGE

_FOLDER = "handbook"  # in the zip; of any other name two zips of one site would differ
_COMMENT = b"Made by handbook publish."
_FIRST = f"{_FOLDER}/READ-ME-FIRST.txt"
_HOW = (
    "Unpack the whole zip first (on Windows: right click, Extract All). Then open index.html in"
    " the unpacked folder.\r\n"
)
_FOR_SERVERS = frozenset({ERROR_PAGE, SITEMAP})
_PACKED = (".png", ".jpg", ".jpeg", ".webp", ".woff2", ".mp3", ".ogg", ".m4a", ".pdf", ".zip")
_LONG_AGO = (1980, 1, 1, 0, 0, 0)  # the first moment that a zip can name
_ORDINARY_FILE = 0o100644 << 16
_UNIX = 3
# A link to a folder of the site, up to where a place on its page or a question may follow.
_TO_FOLDER = re.compile(
    rb'( href="| content="0; url=)((?![a-zA-Z][a-zA-Z0-9+.-]*:|[/#?])[^"#?]*/)(?=["#?])'
)


def refuse_zip(path: Path, content: Path, target: Path) -> None:
    """Raise RefusedTargetError if the copy cannot be put at `path`: what is there is none of ours, or the place is taken."""
    real = real_place(path)
    for folder, what in ((content, "the content folder"), (target, "the published folder")):
        if real_place(folder) in real.parents:
            raise RefusedTargetError(
                f"the zip cannot lie in {what}: choose a place outside {folder}"
            )
    made = made_folder(real.parent)
    if made:
        raise RefusedTargetError(
            f"{made[0]} is a {made[1]} that handbook made, which is replaced whole: choose a place"
            " outside it for the zip"
        )
    if not real.parent.is_dir():
        raise RefusedTargetError(f"there is no folder {path.parent} for the zip")
    if is_there(real) and not _is_ours(real):
        raise RefusedTargetError(
            f"{path} is there already, and handbook did not make it: choose another name"
        )


@contextmanager
def zip_copy(files: Sequence[SiteFile], path: Path) -> Iterator[None]:
    """Make the copy beside `path`, and put it there once all is well; whole or not at all.

    Links to folders name their files. The same site gives the same bytes. Raises NotPublishedError.
    """
    real = real_place(path)
    part = real.with_name(f".{real.name}.part")  # ours by its name, if one was cut off
    try:
        try:
            with suppress(FileNotFoundError):
                os.unlink(part)  # noqa: PTH108 - patched in tests by this name
            _write(files, part)
        except OSError as error:
            raise NotPublishedError(
                f"the zip could not be written to {path}: {error.strerror or error}"
            ) from error
        yield
        os.replace(part, real)  # noqa: PTH105 - patched in tests by this name
        make_names_last(real.parent)
    finally:
        with suppress(OSError):
            os.unlink(part)  # noqa: PTH108


def from_disk(page: bytes) -> bytes:
    """Name the file in each link of a page that leads to a folder."""
    return _TO_FOLDER.sub(_named, page)


def _named(link: re.Match[bytes]) -> bytes:
    return link[1] + link[2] + b"index.html"


def _write(files: Sequence[SiteFile], part: Path) -> None:
    with open(part, "xb") as opened:  # noqa: PTH123 - a link there is not followed
        with zipfile.ZipFile(opened, "w") as made:
            made.comment = _COMMENT
            made.writestr(_entry(_FIRST), _HOW)
            for file in sorted(files, key=lambda one: one.path):
                if file.path.rpartition("/")[2] not in _FOR_SERVERS:
                    is_page = file.path.endswith(".html")
                    content = from_disk(file.read()) if is_page else file.read()
                    made.writestr(_entry(f"{_FOLDER}/{file.path}"), content)
        opened.flush()
        os.fsync(opened.fileno())


def _entry(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, _LONG_AGO)
    entry.create_system, entry.external_attr = _UNIX, _ORDINARY_FILE
    packed = name.lower().endswith(_PACKED)
    entry.compress_type = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
    return entry


def _is_ours(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as found:
            return path.is_file() and not path.is_symlink() and found.comment == _COMMENT
    except (OSError, zipfile.BadZipFile):
        return False
