"""Whether a site may be put into a folder."""

from __future__ import annotations

from pathlib import Path

from handbook.publishing.manifest import foreign_files
from handbook.publishing.refusal import RefusedTargetError

_NAMED = 3


def usable_target(target: Path, content: Path) -> Path:
    """Give the real path of `target`, or raise RefusedTargetError with a plain sentence.

    Refused are: a file, a folder that holds the content or lies in it, and a folder
    with anything in it that was not put there by a build.
    """
    real, source = target.resolve(), content.resolve()
    if real == source or source in real.parents:
        raise RefusedTargetError(
            f"the site cannot be built inside the content folder: choose a folder outside {content}"
        )
    if real in source.parents:
        raise RefusedTargetError(
            f"{target} holds the content folder, and a build replaces the whole folder: choose another one"
        )
    if real.exists() and not real.is_dir():
        raise RefusedTargetError(f"{target} is a file: a site needs a folder")
    _refuse_foreign(target, foreign_files(real) if real.is_dir() else ())
    return real


def _refuse_foreign(target: Path, foreign: tuple[str, ...]) -> None:
    if not foreign:
        return
    named = ", ".join(foreign[:_NAMED])
    more = f" and {len(foreign) - _NAMED} more" if len(foreign) > _NAMED else ""
    raise RefusedTargetError(
        f"{target} holds files that no build put there ({named}{more}), and a build replaces"
        " the whole folder: move them away, or choose another folder"
    )
