"""Size and length of the files under media/, and whether they can be published."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from tinytag import TinyTag, TinyTagException

from handbook.cleaning.cleaned import cleaned
from handbook.cleaning.model import UncleanError
from handbook.domain.tables.media_endings import is_sound
from handbook.schema.handbook import MediaFile

MOST_CLEANED = 20_000_000  # bytes: four times what a site takes of one file


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
        seconds = _seconds(path) if is_sound(path.name) else None
        if size > MOST_CLEANED:
            return MediaFile(size, seconds, "is too large")
        return MediaFile(len(published_bytes(path)), seconds)
    except UncleanError as unclean:
        return MediaFile(size, seconds, str(unclean))
    except OSError:
        return None


def published_bytes(path: Path) -> bytes:
    """Read a media file as it is published, without what is said beside its picture or sound.

    Raises OSError, and UncleanError if that cannot be taken out.
    """
    return cleaned(path.read_bytes(), path.name)


def _seconds(path: Path) -> float | None:
    """Read a sound's length from its headers, without its tags and pictures."""
    try:
        seconds = TinyTag.get(path, tags=False).duration
    except (TinyTagException, ValueError, IndexError, KeyError):
        return None
    return seconds or None
