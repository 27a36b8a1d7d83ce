"""Reading PO files, the format that translators' tools know (GNU gettext)."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import field
from io import BytesIO

from babel import Locale, UnknownLocaleError
from babel.messages.catalog import Message
from babel.messages.pofile import PoFileError, read_po

from handbook.problems import Code, Position, Problem, Severity
from handbook.records import dataclass

PO_NOT_READ = Code(
    "po-not-read",
    "A file with translations cannot be read, or is of another language.",
    "It is a PO file as `handbook words` writes it, or as a translator's tool gives it back.",
    bad='msgid "Black shoes\nmsgstr "Zapatos negros"',
    good='msgid "Black shoes"\nmsgstr "Zapatos negros"',
)
PO_UNLIKE = Code(
    "po-unlike",
    "A translation lacks something that its text has, or has something of its own.",
    "Notes in braces, addresses of links and values such as `%(name)s` are filled in or followed later, so each must stand in the translation letter by letter, and no other.",
    bad='msgid "Tune to {Bb}"\nmsgstr "Afinen en Si bemol"',
    good='msgid "Tune to {Bb}"\nmsgstr "Afinen en {Bb}"',
)
# Babel reads on over a quotation mark that is missing.
_LINE = re.compile(
    rb'(?:#.*|(?:msg(?:id|id_plural|str|ctxt|str\[\d+\])\s*)?"(?:[^"\\]|\\.)*")?', re.DOTALL
)
_KEPT = re.compile(r"\{[^{}]*\}|%\(\w+\)s|\]\([^()\s]*\)")


@dataclass(frozen=True, slots=True)
class Given:
    """Translations by context and text, and what is wrong with the file that holds them.

    A text with a plural has its forms in the order of the file, any other one.
    """

    words: Mapping[tuple[str, str], tuple[str, ...]] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()


def locale_of(code: str) -> Locale | None:
    """Give what Babel knows of a language, None if that is nothing."""
    try:
        return Locale.parse(code, sep="-")
    except (UnknownLocaleError, ValueError):
        return None


def read_given(name: str, raw: bytes, code: str) -> Given:
    """Read a PO file that came back; what is not filled in, or marked as unsure, is left out."""
    for place, row in enumerate(raw.splitlines()):
        if not _LINE.fullmatch(row.strip()):
            return Given({}, (_not_read(name, place, "this line is not as PO has it"),))
    try:
        catalog = read_po(BytesIO(raw), locale=locale_of(code), abort_invalid=True)
    except PoFileError as error:
        line = error.lineno or 0
        return Given({}, (_not_read(name, line, f"this line is not as PO has it: {error}"),))
    except (ValueError, LookupError, IndexError) as error:
        return Given({}, (_not_read(name, 0, f"this is no PO file in UTF-8: {error}"),))
    said = str(dict(catalog.mime_headers).get("Language", "")) if raw.strip() else ""
    own = _language_in(raw) or said
    if own and own.replace("_", "-").lower() != code.replace("_", "-").lower():
        message = f"this file is in `{own}`, and you asked for `{code}`"
        return Given({}, (_not_read(name, 0, message, f"run `handbook words {own}` with it"),))
    words: dict[tuple[str, str], tuple[str, ...]] = {}
    problems = list[Problem]()
    for entry in catalog:
        forms = _forms(entry.string)
        if not entry.id or entry.fuzzy or not all(form.strip() for form in forms):
            continue
        words[entry.context or "", _forms(entry.id)[0]] = forms
        problems += _unlike(name, entry)
    return Given(words, tuple(problems))


def _forms(text: object) -> tuple[str, ...]:
    """Give the forms of a text that has a plural, or the one that any other has."""
    return tuple(map(str, text)) if isinstance(text, tuple | list) else (str(text or ""),)


def _unlike(name: str, entry: Message) -> Iterator[Problem]:
    allowed = [sorted(_KEPT.findall(text)) for text in _forms(entry.id)]
    for form in _forms(entry.string):
        own = sorted(_KEPT.findall(form))
        if own in allowed:
            continue
        lost = [one for one in allowed[-1] if one not in own]
        new = [one for one in own if one not in allowed[-1]]
        told = " and ".join(
            [f"lacks `{'`, `'.join(lost)}`"] * bool(lost)
            + [f"has `{'`, `'.join(new)}` of its own"] * bool(new)
        )
        yield Problem(
            PO_UNLIKE,
            f"the translation {told or 'has something more than once'}",
            (name,),
            "let what stands in braces, in `%(…)s` and in the round brackets of links be as in the first text",
            position=Position(entry.lineno or 1, 1),
        )


def _language_in(raw: bytes) -> str:
    """Give what the head names as the language, since Babel makes a locale of it or nothing."""
    found = re.search(rb'^"Language: *([A-Za-z0-9_-]+) *\\n"', raw, re.MULTILINE)
    return found[1].decode() if found else ""


def _not_read(name: str, line: int, message: str, hint: str = "") -> Problem:
    return Problem(
        PO_NOT_READ,
        message,
        (name,),
        hint or "ask the translator for the file as it was saved, with the ending .po",
        Severity.ERROR,
        position=Position(line + 1, 1),
    )
