"""Sounds and pictures of the site's own, with how long and how large they are."""

from __future__ import annotations

from handbook.domain.tables.media_endings import is_sound
from handbook.outputs import addresses
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.records import dataclass

_KILOBYTE, _MEGABYTE = 1000, 1_000_000
_MINUTE = 60


@dataclass(frozen=True, slots=True)
class RecordingView:
    """A media file; `facts` are its length, if it is a sound, and its size."""

    path: str
    sound: bool
    facts: str


def recording_view(context: Context, name: str | None) -> RecordingView | None:
    """Show a media file named in the content; None for none."""
    if not name:
        return None
    bare = name.removeprefix("media/")
    file = context.plan.media_files.get(bare)
    length = _length(file.seconds) if file and file.seconds else ""
    size = _size(file.size) if file else ""
    return RecordingView(
        addresses.media(name),
        is_sound(bare),
        gettext("%(length)s, %(size)s", length=length, size=size) if length else size,
    )


def _length(seconds: float) -> str:
    """Write minutes and seconds, `0:04`, rounded up to the second."""
    whole = -int(-seconds // 1)
    return f"{whole // _MINUTE}:{whole % _MINUTE:02}"


def _size(size: int) -> str:
    """Write `88 KB` or `1.2 MB`, in thousands of bytes, rounded up."""
    if size < _MEGABYTE:
        return gettext("%(size)s KB", size=-(-size // _KILOBYTE))
    return gettext("%(size)s MB", size=f"{-(-size * 10 // _MEGABYTE) / 10:.1f}")
