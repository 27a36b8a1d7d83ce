"""The catalogues of our messages: GNU gettext's PO files in `handbook/locale`."""

from __future__ import annotations

import hashlib
import os
import re
from datetime import date
from functools import cache
from gettext import GNUTranslations, NullTranslations
from importlib.resources import files
from io import BytesIO

from handbook.store import own_folder

DOMAIN = "handbook"
SOURCE = "en"
"""The language of the messages in the code, which needs no catalogue."""
_REVIEWED = re.compile(rb"^# Reviewed by a speaker: (\d{4}-\d\d-\d\d)$", re.MULTILINE)
SAME = {"zh": "zh-hans", "zh-cn": "zh-hans", "zh-sg": "zh-hans"}
"""Other codes of a language that has a catalogue and formats."""


@cache
def catalogue(code: str) -> NullTranslations:
    """Give the messages of a language; those in the code themselves where it has no catalogue."""
    text = catalogue_text(code)
    return GNUTranslations(BytesIO(_compiled(text))) if text else NullTranslations()


def catalogue_text(code: str) -> bytes:
    """Give the PO file of a language, or of the one that it is a kind of; nothing if there is none."""
    known = {folder.name.lower(): folder for folder in (files("handbook") / "locale").iterdir()}
    for name in (code, SAME.get(code.lower(), code), code.partition("-")[0]):
        folder = known.get(name.replace("-", "_").lower())
        if folder:
            return (folder / "LC_MESSAGES" / f"{DOMAIN}.po").read_bytes()
    return b""


def day_of_review(code: str) -> date | None:
    """Give the day on which a speaker had read over a catalogue, as its head says; None if nobody has."""
    found = _REVIEWED.search(catalogue_text(code))
    return date.fromisoformat(found[1].decode()) if found else None


def has_catalogue(code: str) -> bool:
    """Whether our words are there in a language: it has a catalogue, or is the one they are written in."""
    return code.partition("-")[0].lower() == SOURCE or bool(catalogue_text(code))


def _compiled(text: bytes) -> bytes:
    """Compile a catalogue, or find it compiled: reading PO takes longer than all messages of a page."""
    folder = own_folder("catalogues")
    kept = folder / f"{hashlib.sha256(text).hexdigest()[:32]}.mo" if folder else None
    if kept and kept.is_file():
        return kept.read_bytes()
    from babel.messages.mofile import write_mo  # noqa: PLC0415 - seldom needed
    from babel.messages.pofile import read_po  # noqa: PLC0415

    made = BytesIO()
    write_mo(made, read_po(BytesIO(text)))
    if kept:
        half = kept.with_suffix(f".{os.getpid()}")
        half.write_bytes(made.getvalue())
        half.replace(kept)
    return made.getvalue()
