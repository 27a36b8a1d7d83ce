"""What the system refuses, in sentences with a way out."""

from __future__ import annotations

import errno
from pathlib import Path

_FULL = "there is no room left on the disk of {target}: delete what is not needed, then build again"
_BEGINS = (
    "{target} is where a disk or a share begins, which cannot be replaced as one folder: choose"
    " a folder in it, such as {inside}"
)
_FORBIDDEN = (
    "handbook may not write in {above}, where a new {what} is made before it takes the old one's"
    " place: close programs that use the {what}'s files, or choose another place for the {what}"
)
_SENTENCES = {
    errno.ENOSPC: _FULL,
    getattr(errno, "EDQUOT", errno.ENOSPC): _FULL,
    errno.EFBIG: _FULL,
    errno.EBUSY: _BEGINS,
    errno.EXDEV: _BEGINS,
    errno.EACCES: _FORBIDDEN,
    errno.EPERM: _FORBIDDEN,
    errno.EROFS: "{above} can be read but not written to: choose another place for the {what}",
    errno.EEXIST: (
        "{file} has the name of another file there: this disk takes small and capital letters"
        " for the same, so give one of the two another name"
    ),
    errno.ENAMETOOLONG: "the name {file} is too long for this disk: shorten it",
}


def trouble_sentence(error: OSError, target: Path, what: str = "site") -> str:
    """Say why `what` was made could not be put into `target`, and what to do."""
    sentence = _SENTENCES.get(error.errno or 0)
    if sentence is None:
        return f"the {what} could not be written to {target}: {error.strerror or error}"
    above, file = target.absolute().parent, Path(str(error.filename)).name
    return sentence.format(target=target, above=above, inside=target / what, file=file, what=what)


def temporary_folder_sentence(error: OSError) -> str:
    """Say that nothing can be put into the system's folder for temporary files, and what to do."""
    place = error.filename or "the system's folder for temporary files"
    return (
        f"{place} could not be made ({error.strerror or error}): make room on that disk, or name"
        " another folder for temporary files in the setting TMPDIR of your system"
    )


def mount_sentence(target: Path, what: str = "site") -> str:
    """Say why a mount point cannot be `what` is made, and what can."""
    return _BEGINS.format(target=target, inside=target / what)
