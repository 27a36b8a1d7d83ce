"""What is made once for all workers of a run: the first that asks makes it, the others read it.

It lies in the temporary folder of the run, so no other run sees it.
"""

from __future__ import annotations

import os
import pickle
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final, TypeVar, cast

T = TypeVar("T")
_FOLDER: Final = "HANDBOOK_TESTS_SHARED"
_PATIENCE = 300.0  # seconds: whoever began may have been killed


def share_in(folder: Path) -> None:
    """Let what is made from now on lie in a folder that the workers have in common."""
    os.environ[_FOLDER] = str(folder)


def shared_folder() -> Path | None:
    """Tell where that is, if there is one."""
    place = os.environ.get(_FOLDER)
    return Path(place) if place else None


def made_once(name: str, make: Callable[[], T]) -> T:
    """Give what `make` gives, which is the same in every worker and can be pickled.

    While another worker makes it this one waits; it makes it too if that takes too long, or if no
    folder is shared.
    """
    folder = shared_folder()
    if folder is None:
        return make()
    kept, begun = folder / f"{name}.kept", folder / f"{name}.begun"
    ends = time.monotonic() + _PATIENCE
    while time.monotonic() < ends:
        if kept.is_file():
            return cast("T", pickle.loads(kept.read_bytes()))
        try:
            begun.touch(exist_ok=False)
        except FileExistsError:
            time.sleep(0.05)
            continue
        return _kept(make, kept, begun)
    return make()


def _kept(make: Callable[[], T], kept: Path, begun: Path) -> T:
    try:
        made = make()
        whole = begun.with_suffix(".whole")
        whole.write_bytes(pickle.dumps(made))
        whole.replace(kept)
    finally:
        begun.unlink()
    return made
