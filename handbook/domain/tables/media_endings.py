"""Endings of the files that every browser plays, by which a sound is told from a picture."""

from __future__ import annotations

SOUND_ENDINGS = ("mp3", "m4a", "ogg", "wav")


def is_sound(name: str) -> bool:
    """Whether a file is a sound by its ending."""
    return name.rpartition(".")[2].lower() in SOUND_ENDINGS
