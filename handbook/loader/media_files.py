"""Size and length of the files under media/."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from tinytag import TinyTag, TinyTagException

from handbook.schema.handbook import MediaFile

SOUND_ENDINGS = frozenset({"mp3", "m4a", "ogg", "wav"})


def media_files(folder: Path, names: Iterable[str]) -> Mapping[str, MediaFile]:
    """Look into media files; `names` are relative to `folder`, the content's folder media/.

    A file that cannot be opened is left out.
    """
    found = ((name, media_file(folder / name)) for name in names)
    return {name: file for name, file in found if file is not None}


def media_file(path: Path) -> MediaFile | None:
    """Look into one media file; None if it cannot be opened."""
    try:
        size = path.stat().st_size
        return MediaFile(size, _seconds(path) if _is_sound(path) else None)
    except OSError:
        return None


def _is_sound(path: Path) -> bool:
    return path.suffix.lower().removeprefix(".") in SOUND_ENDINGS


def _seconds(path: Path) -> float | None:
    """Read a sound's length from its headers, without its tags and pictures."""
    try:
        seconds = TinyTag.get(path, tags=False).duration
    except (TinyTagException, ValueError, IndexError, KeyError):
        return None
    return seconds or None
