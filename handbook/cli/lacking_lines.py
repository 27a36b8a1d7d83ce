"""What the program's languages lack, in one line a language."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from babel import Locale, UnknownLocaleError

from handbook.cli.messages import as_typed
from handbook.outputs.html.formatting import listed
from handbook.outputs.i18n.catalogues import has_catalogue
from handbook.schema.handbook import Handbook
from handbook.source.source_map import Homes
from handbook.translating.lacking import lacks_of


def lacking_lines(handbook: Handbook, homes: Homes, content: Path) -> Iterator[str]:
    """Say of each language how many texts and pages are not in it, and what to do."""
    languages = tuple(dict.fromkeys(handbook.program.item.languages))
    lacks = {lack.language: lack for lack in lacks_of(handbook, homes)}
    for language in languages:
        name, lack = language_name(language), lacks.get(language)
        told = []
        if lack and lack.lacking:
            told.append(f"{len(lack.lacking):,} of {lack.texts:,} texts")
        if lack and lack.pages:
            told.append("1 page" if len(lack.pages) == 1 else f"{len(lack.pages)} pages")
        first = "another language" if language == languages[0] else language_name(languages[0])
        own = "" if has_catalogue(language) else " The site's own words are in English there."
        if told:
            command = as_typed(f"words {language} --content", content)
            yield (
                f"{name}: {listed(told)} are not there yet; readers see {first}, marked.{own}"
                f" `{command}` writes them into one file."
            )
        elif own:
            yield f"{name}:{own}"


def language_name(code: str) -> str:
    """Name a language in English, or by its code."""
    try:
        return Locale.parse(code, sep="-").get_display_name("en") or code
    except (UnknownLocaleError, ValueError):
        return code
