"""Notes and keys on a page: a sign for the eye, words for the ear; and HTML in a row."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from markupsafe import Markup, escape

from handbook.domain.values.pitch import NoteName
from handbook.outputs.i18n import Speech, speech
from handbook.outputs.i18n.formats import in_a_row, with_clauses, with_commas, with_semicolons
from handbook.outputs.note_names import Named, natural_sign, natural_spoken, sign, spoken


def named(thing: Named) -> Markup:
    """Show a note, a pitch or a key."""
    return _named(thing, speech())


@lru_cache(maxsize=4096)
def _named(thing: Named, _: Speech) -> Markup:
    return _shown(sign(thing), spoken(thing))


def as_note(letter: str) -> str:
    """Name the note of a letter, as in `middle C`."""
    return sign(NoteName(letter))


def watched(notes: Sequence[NoteName]) -> Markup:
    """Show notes to watch; beside C sharp a C is told as natural."""
    letters = [note.letter for note in notes]
    return listed(
        _shown(natural_sign(note), natural_spoken(note))
        if not note.alter and letters.count(note.letter) > 1
        else named(note)
        for note in notes
    )


def listed(parts: Iterable[object]) -> Markup:
    """Join texts or HTML as a person would: `a, b and c`."""
    return Markup(in_a_row([str(escape(part)) for part in parts]))  # noqa: S704 - all escaped


def row(parts: Iterable[object]) -> Markup:
    """Join texts or HTML that follow one another without an `and`; what is empty is left out."""
    return Markup(with_commas(str(escape(part)) for part in parts if part))  # noqa: S704 - all escaped


def clauses(parts: Iterable[object]) -> Markup:
    """Join facts in text or HTML side by side; what is empty is left out."""
    return Markup(with_clauses(str(escape(part)) for part in parts if part))  # noqa: S704 - all escaped


def clause() -> str:
    """Give what stands between facts side by side."""
    return with_clauses(("", ""))


def comma() -> str:
    """Give what stands between parts of a row."""
    return with_commas(("", ""))


def semicolon() -> str:
    """Give what stands between parts of a row that have commas of their own."""
    return with_semicolons(("", ""))


def _shown(for_eye: str, for_ear: str) -> Markup:
    return Markup(
        '<span class="pitch" translate="no"><span aria-hidden="true">{}</span>'
        '<span class="vh">{}</span></span>'
    ).format(for_eye, for_ear)
