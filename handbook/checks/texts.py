"""Texts that some families could not read."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, code_of, finding
from handbook.domain.note_words import unreadable_notes
from handbook.domain.tables.letters import LANGUAGES, ON_SHEETS, OWN_LATIN
from handbook.domain.values.text import Text
from handbook.problems import Address, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.source.names import listed

# Fields whose texts are often the same in every language: names of schools, people's works,
# streets. A plain text there is no lack; a sentence elsewhere is.
_NAMES = frozenset({"name", "title", "by", "school", "place", "address"})


@check
def missing_translation(handbook: Handbook) -> Iterator[Problem]:
    """Texts of a file lack one of the program's languages.

    They are shown in the first language instead, and marked as such. Plain names and
    titles are not counted, since they may be alike in all languages.

    Bad:

        languages: [en, es]
        attire: [Black shoes]

    Good:

        attire: [{en: Black shoes, es: Zapatos negros}]
    """
    languages = tuple(dict.fromkeys(handbook.program.item.languages))
    for file, item in traversal.items(handbook):
        texts = list(traversal.texts(item, (file,)))
        for place, language in enumerate(languages):
            lacking = [address for address, text in texts if lacks(text, address, language, place)]
            if lacking:
                count = "1 text" if len(lacking) == 1 else f"{len(lacking)} texts"
                yield finding(
                    f"{count} of {len(texts)} in this file {'has' if len(lacking) == 1 else 'have'} no `{language}`; the first is here",
                    lacking[0],
                    f"add `{language}:` beside the others, as in `{{{languages[0]}: …, {language}: …}}`",
                    Severity.WARNING,
                )


LACKING = code_of(missing_translation)
"""What `handbook check` tells in one line a language, and no other command counts."""


def lacks(text: Text, address: Address, language: str, place: int) -> bool:
    """Whether a text that should be in a language, listed at a `place` from 0, is not."""
    if text.languages == ("",):
        return place > 0 and not _is_name(address)
    return language not in text.languages


def _is_name(address: Address) -> bool:
    field = next((step for step in reversed(address) if isinstance(step, str)), "")
    return field in _NAMES


@check
def unlisted_language(handbook: Handbook) -> Iterator[Problem]:
    """A text is given in a language that the program does not list, or names of notes are said for one.

    It would never be shown.

    Bad:

        languages: [en]
        name: {en: Winter cycle, es: Ciclo de invierno}

    Good:

        languages: [en, es]
        name: {en: Winter cycle, es: Ciclo de invierno}
    """
    languages = handbook.program.item.languages
    for file, item in traversal.items(handbook):
        first: dict[str, Address] = {}
        for address, text in traversal.texts(item, (file,)):
            for language in text.languages:
                if language and language not in languages:
                    first.setdefault(language, (*address, language))
        if item is handbook.program.item:
            for language in handbook.program.item.note_names:
                if language not in languages:
                    first.setdefault(language, (file, "note_names", language))
        for language, address in first.items():
            yield finding(
                f"`{language}` is not one of the program's languages, {listed(languages)}",
                address,
                f"add `{language}` to languages in {handbook.program.file}, or correct it here",
                Severity.WARNING,
                on_key=True,
            )


@check
def no_note_in_braces(handbook: Handbook) -> Iterator[Problem]:
    """Braces in a text hold something that is no note.

    A note in braces is told to each player as the part has it, and on pages for all in
    concert pitch: `{Bb}`, `{F#}`, `{Eb4}`. One note stands in each pair. Put the text in
    quotes where it begins with a brace.

    Bad:

        text: Watch {B flt} and {F#, C#}

    Good:

        text: Watch {Bb}, {F#} and {C#}
    """
    for file, item in traversal.items(handbook):
        for address, text in traversal.texts(item, (file,)):
            for language, words in text.versions:
                for shown, near in unreadable_notes(words) if "{" in words else ():
                    yield finding(
                        f"`{shown}` is no note that can be told to each player",
                        (*address, language) if language else address,
                        f"write {listed(near)}"
                        if near
                        else "braces hold one note, such as `{Bb}`, `{F#}` or `{Eb4}`; put other words in round brackets",
                    )


@check
def letter_not_on_sheets(handbook: Handbook) -> Iterator[Problem]:
    """A letter is in none of the typefaces that printed sheets are set in.

    It is taken from the fonts of the computer that makes the sheets; where these lack it too, a
    question mark stands in its place. Pages are not concerned: there the reader's device has it.
    Languages without sheets, such as Chinese, are left alone.

    Bad:

        attire: [🎩 Black shoes]

    Good:

        attire: [Black shoes]
    """
    first = next(iter(handbook.program.item.languages), "")
    for file, item in traversal.items(handbook):
        found: dict[str, Address] = {}
        for address, text in traversal.texts(item, (file,)):
            for language, words in text.versions:
                if _has_sheets(language or first):
                    place = (*address, language) if language else address
                    found |= {one: place for one in _not_on_sheets(words) if one not in found}
        if found:
            letter, place = next(iter(found.items()))
            more = f" and {len(found) - 1} more of this file are" if len(found) > 1 else " is"
            yield finding(
                f"the letter `{letter}`{more} in no typeface of printed sheets",
                place,
                "a sheet has `?` in its place where the fonts of this computer lack it too:"
                " leave it out, or look at the sheets",
                Severity.WARNING,
            )


def _has_sheets(language: str) -> bool:
    return language.partition("-")[0].lower() in _WITH_SHEETS


def _not_on_sheets(words: str) -> list[str]:
    """Give what sets a mark and that we lack; what only joins or changes letters is no letter."""
    if words.isascii():
        return []
    lacking = sorted(set(words) - ON_SHEETS)
    return [one for one in lacking if one.isprintable() and unicodedata.category(one)[0] != "M"]


_WITH_SHEETS = OWN_LATIN.union(*LANGUAGES.values())
