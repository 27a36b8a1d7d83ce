"""The language that is written in at the moment."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import field
from gettext import NullTranslations

from handbook.domain.tables.note_names import NoteNames
from handbook.outputs.i18n.catalogues import SOURCE, catalogue
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class Speech:
    """A language to write in: its BCP 47 code, how notes are named, what says our messages in it."""

    code: str = SOURCE
    notes: NoteNames = NoteNames.LETTERS
    messages: NullTranslations = field(default_factory=NullTranslations, repr=False, compare=False)


_speech = ContextVar("speech", default=Speech())  # noqa: B039 - frozen


def speech() -> Speech:
    """Give the language of what is being made."""
    return _speech.get()


@contextmanager
def speaking(
    code: str,
    messages: NullTranslations | None = None,
    notes: NoteNames = NoteNames.LETTERS,
) -> Iterator[Speech]:
    """Write all that is made within in a language; in English where its catalogue has no word."""
    own = Speech(code, notes, messages or catalogue(code))
    token = _speech.set(own)
    try:
        yield own
    finally:
        _speech.reset(token)
