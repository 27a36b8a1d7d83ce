"""Why a media file cannot be published, and what reading its bytes needs."""

from __future__ import annotations

DAMAGED = "is cut off or damaged"


class UncleanError(Exception):
    """A file whose words and places cannot be taken out; the text goes on after its name."""
