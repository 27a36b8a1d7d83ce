"""What the scripts of pages say in a language: their messages, and how it writes days and times."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import lru_cache
from gettext import NullTranslations, c2py
from typing import NamedTuple

from handbook.outputs.i18n.formats import script_formats
from handbook.resources import templates_folder

_TEXT = r'"(?:[^"\\]|\\.)*"'
_CALL = re.compile(rf"\b(n?p?)gettext\(\s*({_TEXT})(?:,\s*({_TEXT}))?(?:,\s*({_TEXT}))?")
_RULE = re.compile(r"nplurals\s*=\s*\d+\s*;\s*plural\s*=\s*([n\d\s%<>=!&|?:()]+)")
_TWO_FORMS = "n != 1"
_NUMBERS = (*range(1001), 1_000_000)
"""Numbers among which each plural form of any language is asked for."""


class ScriptMessage(NamedTuple):
    """A message of a script; `context` and `plural` are empty if it has none."""

    context: str
    text: str
    plural: str


def messages_in(script: str) -> Iterator[ScriptMessage]:
    """Give the messages of a script, each of which stands there as text in double quotes."""
    for kind, *texts in _CALL.findall(script):
        told = [json.loads(text) for text in texts if text]
        context = told.pop(0) if "p" in kind else ""
        yield ScriptMessage(context, told[0], told[1] if "n" in kind else "")


_OF_PAGES = ("assets", "joined")


@lru_cache(maxsize=2)
def script_messages(folders: tuple[str, ...] = _OF_PAGES) -> tuple[ScriptMessage, ...]:
    """Give the messages of all scripts in some folders of site_templates, in the order of their files."""
    folder = templates_folder()
    files = sorted(path for name in folders for path in (folder / name).rglob("*.js"))
    own = (path for path in files if path.is_file() and "vendor" not in path.parts)
    return tuple(
        dict.fromkeys(one for path in own for one in messages_in(path.read_text(encoding="utf-8")))
    )


def script_words(code: str, known: NullTranslations, folders: tuple[str, ...] = _OF_PAGES) -> str:
    """Write what stands before first.js in a language: `handbookWords`, as 05-words.js reads it.

    A message that is not `known` is left out, and said in English. `folders` are those whose
    scripts are to be said, the pages' own if none are named.
    """
    told = {
        "formats": script_formats(code),
        "messages": dict(_said(known, folders)),
    }
    data = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
    return (
        f'"use strict";\nconst handbookWords = {data};\n'
        f"handbookWords.plural = (n) => Number({_rule(known)});\n"
    )


def _rule(known: NullTranslations) -> str:
    """Give the catalogue's rule of plural forms; what C writes for it is JavaScript too."""
    found = _RULE.match(known.info().get("plural-forms", ""))
    return found[1].strip() if found else _TWO_FORMS


def _said(
    known: NullTranslations, folders: tuple[str, ...]
) -> Iterator[tuple[str, str | list[str]]]:
    form_of = c2py(_rule(known))
    numbers = {form_of(number): number for number in reversed(_NUMBERS)}
    for context, text, plural in script_messages(folders):
        key = f"{context}\x04{text}" if context else text
        if plural:
            forms = [
                known.npgettext(context, text, plural, numbers[form])
                if context
                else known.ngettext(text, plural, numbers[form])
                for form in sorted(numbers)
            ]
            if not {text, plural}.issuperset(forms):
                yield key, forms
        else:
            said = known.pgettext(context, text) if context else known.gettext(text)
            if said != text:
                yield key, said
