"""Whether a site may be put into a folder."""

from __future__ import annotations

import os
from pathlib import Path

from handbook.disk import is_folder, is_there
from handbook.publishing.contents import strangers
from handbook.publishing.manifest import BINDER, SITE, Marker
from handbook.publishing.near import bears, beside
from handbook.publishing.refusal import RefusedTargetError
from handbook.publishing.troubles import mount_sentence

_NAMED = 3


def usable_target(target: Path, content: Path, hosts: frozenset[str] = frozenset()) -> Path:
    """Give the real path of `target`, or raise RefusedTargetError with a plain sentence.

    A link that the director gives as the place of the site is followed: the folder that
    it leads to is the site, and the link stays. Refused are: a file, a folder that holds
    the content or lies in it, a mount point, one in or beside a private binder, and a folder
    with anything in it that was not put there by a build, but for the host's own files by the
    names `hosts`.
    """
    real, source = real_place(target), content.resolve()
    if real == source or source in real.parents:
        raise RefusedTargetError(
            f"the site cannot be built inside the content folder: choose a folder outside {content}"
        )
    if real in source.parents:
        raise RefusedTargetError(
            f"{target} holds the content folder, and a build replaces the whole folder: choose another one"
        )
    if os.path.ismount(real):
        raise RefusedTargetError(mount_sentence(target))
    _refuse_near_binder(real, target)
    refuse_strangers(real, target, hosts)
    return real


def _refuse_near_binder(real: Path, target: Path) -> None:
    """Raise RefusedTargetError if what a director keeps private would come within reach of readers."""
    around = [folder for folder in (real, *real.parents) if bears(folder, BINDER)]
    for binder in around or beside(real, BINDER):
        raise RefusedTargetError(
            f"{binder} is a director's private binder, and {target} would be"
            f" {'in' if around else 'beside'} it: choose another place for the site"
        )


def real_place(target: Path) -> Path:
    """Follow the links in the path of `target`; RefusedTargetError if they lead in a circle."""
    try:
        return target.resolve()
    except (OSError, RuntimeError):  # RuntimeError up to Python 3.12
        raise RefusedTargetError(
            f"{target} is a link that leads in a circle: choose another folder"
        ) from None


def refuse_strangers(
    folder: Path,
    shown: Path | None = None,
    hosts: frozenset[str] = frozenset(),
    marker: Marker = SITE,
) -> None:
    """Raise RefusedTargetError if something is at `folder` that no build put there.

    `shown` is how the folder is named to the director.
    """
    shown = shown or folder
    if not is_there(folder):
        return
    if not is_folder(folder):
        raise RefusedTargetError(f"{shown} is a file or a link: a site needs a folder")
    foreign = strangers(folder, hosts, marker)
    if not foreign:
        return
    named = ", ".join(foreign[:_NAMED])
    more = f" and {len(foreign) - _NAMED} more" if len(foreign) > _NAMED else ""
    raise RefusedTargetError(
        f"{shown} holds files that no build put there ({named}{more}), and a build replaces"
        " the whole folder: move them away, choose another folder, or, if they are your web"
        " host's, name them under `host_files` in program.yaml"
    )
