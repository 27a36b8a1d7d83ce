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
        told = []
        if lack := lacks.get(language):
            if lack.lacking:
                told.append(f"{len(lack.lacking):,} of {lack.texts:,} texts")
            if lack.pages:
                told.append("1 page" if len(lack.pages) == 1 else f"{len(lack.pages)} pages")
        if not has_catalogue(language):
            told.append("the site's own words, such as “Pick-up”,")
        if told:
            first = language_name(languages[0])
            instead = "another language" if language == languages[0] else first
            yield (
                f"{language_name(language)}: {listed(told)} are not there yet; readers see"
                f" {instead}, marked."
                f" `{as_typed(f'words {language} --content', content)}` writes them into one file."
            )


def language_name(code: str) -> str:
    """Name a language in English, or by its code."""
    try:
        return Locale.parse(code, sep="-").get_display_name("en") or code
    except (UnknownLocaleError, ValueError):
        return code
