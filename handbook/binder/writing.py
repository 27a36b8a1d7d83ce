"""One binder into its folder: verified, staged beside it, swapped whole."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from contextlib import suppress
from pathlib import Path

from handbook.binder.looks import GIT_FILE
from handbook.binder.model import BinderFile
from handbook.binder.own_files import own_files
from handbook.binder.paper import Typesetting, finished_sheets
from handbook.binder.place import usable_place
from handbook.outputs.model import SiteFile
from handbook.publishing.contents import unchanged
from handbook.publishing.manifest import BINDER
from handbook.publishing.publish import Published, is_there_already
from handbook.publishing.refusal import NotPublishedError
from handbook.publishing.staging import stage
from handbook.publishing.troubles import trouble_sentence
from handbook.publishing.verify_files import file_findings
from handbook.publishing.workplace import workplace
from handbook.store import Store

_OWN_FOLDER, _OWN_FILE = 0o700, 0o600


def write_binder(
    files: Sequence[BinderFile], target: Path, *, content: Path, store: Store | None = None
) -> Published:
    """Put a binder in place of the one in the folder `target`, which else stays as it was.

    What the director wrote into that one goes along (see `own_files`), and nobody else may look
    into the folder. Sheets of which the `store` has the digest, and that stand there, are not made again.
    Raises RefusedTargetError for a folder that it may not be put into, NotPublishedError for
    findings, full disks and the like.
    """
    real = usable_place(target, content)
    finished = _finished(files, store or Store())
    findings = file_findings([file for file in finished if file.path != GIT_FILE])
    if findings:
        raise NotPublishedError("the new binder is not whole", findings)
    try:
        with workplace(real, marker=BINDER) as place:
            own = own_files(real, finished)
            whole = [*finished, *(one.file for one in own)]
            if is_there_already(whole, real, BINDER):
                _close_to_others(real)
            else:
                stage(whole, place.staged, real, unchanged(real, BINDER), marker=BINDER)
                _close_to_others(place.staged)
                place.swap()
    except OSError as error:
        raise NotPublishedError(trouble_sentence(error, target, "binder")) from error
    pages = sum(file.path.endswith(".html") for file in finished)
    aside = tuple((one.before, one.file.path) for one in own if one.moved)
    return Published(real, pages, len(finished), place.kept, aside)


def _close_to_others(folder: Path) -> None:
    """Let nobody but the director read a binder, wherever it is copied to; where the system knows no rights, all stays."""
    for place in (folder, *folder.rglob("*")):
        if not place.is_symlink():
            with suppress(OSError):
                place.chmod(_OWN_FOLDER if place.is_dir() else _OWN_FILE)


def _finished(files: Iterable[BinderFile], store: Store) -> list[SiteFile]:
    sheets, others = dict[str, Typesetting](), list[SiteFile]()
    for file in files:
        if isinstance(file.made, Typesetting):
            sheets[file.path] = file.made
        else:
            others.append(_as_it_is(file))
    return [*others, *finished_sheets(sheets, store)]


def _as_it_is(file: BinderFile) -> SiteFile:
    content = file.content
    return SiteFile(file.path, hashlib.sha256(content).hexdigest(), lambda: content)
