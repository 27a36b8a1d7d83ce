"""Pages set into the frame that all pages of a site share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cached_property, lru_cache

from handbook.making.content import ReadContent
from handbook.making.cycles import CycleHead
from handbook.making.kept import Fresh
from handbook.outputs.html.frame import CYCLES_IN_MENU, Frame
from handbook.outputs.model import OutputFile
from handbook.outputs.search.index import rows_text
from handbook.outputs.site import MadePage, Renderer, framed
from handbook.store import key_of


class Framing:
    """Renders the frame once, when the first page is made; the menu leads to the newest of the `cycles`.

    It leads to changes too if the site was `published`.
    """

    def __init__(
        self, content: ReadContent, cycles: Sequence[CycleHead], *, published: bool
    ) -> None:
        self._content = content
        self._menu = tuple(one.menu for one in cycles[-CYCLES_IN_MENU:] if one.menu)
        self._drafts = tuple(one.id for one in cycles if one.shown)
        self.published = published
        self.key = key_of(
            content.core_key, self._menu, bool(content.events_key), published, self._drafts
        )

    @property
    def renderer(self) -> Renderer:
        """What makes the pages."""
        return _renderer(self._content.program)

    def fresh(self, pages: Iterable[MadePage]) -> Fresh:
        """Set pages into the frame."""
        made = tuple(pages)
        rendered = tuple(framed(page, self._frame, self._content.context) for page in made)
        return Fresh(rendered, rows=rows_text(row for page in made for row in page.rows))

    def not_found(self) -> OutputFile:
        """Make the page for lost readers."""
        return self.renderer.not_found(self._content.context, self._frame)

    def part(self, name: str, view: object, root: str) -> str:
        """Make a part of a page, that is set in when the page is finished."""
        return self.renderer.part(name, view, root)

    @cached_property
    def _frame(self) -> Frame:
        context = replace(self._content.context, published=self.published)
        return self.renderer.frame(context, self._menu, self._drafts)


@lru_cache(maxsize=1)  # templates are read again if they changed while the site is shown
def _renderer(program: str) -> Renderer:  # noqa: ARG001 - of which the templates are a part
    return Renderer()
