"""Pages set into the frame that all pages of a site in one language share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import AbstractContextManager
from dataclasses import replace
from functools import cached_property, lru_cache

from handbook.making.content import ReadContent
from handbook.making.cycles import CycleHead
from handbook.making.kept import Fresh
from handbook.outputs import addresses
from handbook.outputs.html.frame import CYCLES_IN_MENU, Frame
from handbook.outputs.i18n import Speech
from handbook.outputs.model import OutputFile
from handbook.outputs.page import Context
from handbook.outputs.search.index import rows_text
from handbook.outputs.site import MadePage, Renderer, framed, in_tree
from handbook.store import key_of


class Framing:
    """Renders the frame of a language once, when the first page is made.

    The menu leads to the newest of the `cycles`, and to changes too if the site was `published`.
    """

    def __init__(
        self,
        content: ReadContent,
        cycles: Sequence[CycleHead],
        language: str,
        *,
        published: bool,
    ) -> None:
        self._content, self.language = content, language
        self.tree = addresses.tree(language, content.shared().languages)
        newest = cycles[-CYCLES_IN_MENU:]
        self._menu = tuple(one.menus[language] for one in newest if language in one.menus)
        self._drafts = tuple(one.id for one in cycles if one.shown)
        self.published = published
        self.key = key_of(
            *(content.core_key, self.language, self._menu),
            *(bool(content.events_key), published, self._drafts),
        )

    @cached_property
    def context(self) -> Context:
        """The context of pages that are of no cycle."""
        return self._content.context_in(self.language)

    def speaking(self) -> AbstractContextManager[Speech]:
        """Say our own words in the language within, or in English if they are not translated."""
        return self.context.speaking()

    @property
    def renderer(self) -> Renderer:
        """What makes the pages."""
        return _renderer(self._content.program)

    def fresh(self, pages: Iterable[MadePage]) -> Fresh:
        """Set pages into the frame."""
        made = tuple(pages)
        with self.speaking():
            rendered = tuple(framed(page, self._frame, self.context) for page in made)
        return Fresh(
            rendered,
            rows=rows_text(row for page in made for row in page.rows),
            sheets=tuple(sheet for page in made for sheet in page.sheets),
        )

    def not_found(self) -> OutputFile:
        """Make the page for lost readers."""
        with self.speaking():
            return self.renderer.not_found(self.context, self._frame)

    def files(self, files: Iterable[OutputFile]) -> list[OutputFile]:
        """Make files, and put them into the folder of the language."""
        with self.speaking():
            return [*in_tree(self.context, files)]

    def part(self, name: str, view: object, root: str) -> str:
        """Make a part of a page, that is set in when the page is finished."""
        with self.speaking():
            return self.renderer.part(name, view, root)

    @cached_property
    def _frame(self) -> Frame:
        context = replace(self.context, published=self.published)
        return self.renderer.frame(context, self._menu, self._drafts)


@lru_cache(maxsize=1)  # templates are read again if they changed while the site is shown
def _renderer(program: str) -> Renderer:  # noqa: ARG001 - of which the templates are a part
    return Renderer()
