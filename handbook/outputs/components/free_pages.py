"""Which free pages stand in a language: its own versions of the site's, and what is written in it alone."""

from __future__ import annotations

import re
from collections.abc import Iterator

from handbook.outputs.page import Context
from handbook.records import dataclass
from handbook.schema.handbook import FreePage
from handbook.source.markdown import read_markdown

_HEADING = re.compile(r'(<h[1-6]\b[^>]* id=")([^"]*)(")')


@dataclass(frozen=True, slots=True)
class ShownPage:
    """A free page at its address `slug` in a language; `language` is that of its words.

    `original` is the page that it is a version of; `alone` if no other language has it.
    """

    slug: str
    page: FreePage
    language: str
    original: FreePage | None = None
    alone: bool = False

    @property
    def html(self) -> str:
        """The page as HTML, with the places of its original, so that links to them lead on."""
        own = read_markdown(self.page.body).html
        return own if self.original is None else _with_places(own, self.original)


def shown_pages(context: Context) -> Iterator[ShownPage]:
    """Give the free pages of the context's language, in the order of the site's own files.

    `pages/<code>/<name>.md` is the version of `pages/<name>.md` in a language; where there is
    none the site's own stands in its place.
    """
    languages = context.plan.languages
    versions: dict[str, FreePage] = {}
    originals = list[FreePage]()
    for page in context.plan.pages:
        language, name = language_of(page.slug, languages)
        if not language:
            originals.append(page)
        elif language == context.language:
            versions[name] = page
    for page in originals:
        version = versions.pop(page.slug, None)
        if version is None:
            yield ShownPage(page.slug, page, languages[0])
        else:
            yield ShownPage(page.slug, version, context.language, page)
    for name, page in versions.items():
        yield ShownPage(name, page, context.language, alone=True)


def language_of(slug: str, languages: tuple[str, ...]) -> tuple[str, str]:
    """Give the language of a page in a folder named by its code, `es/`, and its name below.

    No language for the site's own pages.
    """
    folder, _, name = slug.partition("/")
    for language in languages[1:]:
        if name and folder.lower() == language.lower():
            return language, name
    return "", slug


def _with_places(html: str, original: FreePage) -> str:
    """Set the places of the original's headings before the same headings of a version."""
    own = {found[2] for found in _HEADING.finditer(html)}
    places = [found[2] for found in _HEADING.finditer(read_markdown(original.body).html)]
    missing = iter([place if place not in own else "" for place in places])

    def with_place(heading: re.Match[str]) -> str:
        place = next(missing, "")
        return f'<span id="{place}"></span>{heading[0]}' if place else heading[0]

    made = _HEADING.sub(with_place, html)
    return "".join(f'<span id="{place}"></span>' for place in missing if place) + made
