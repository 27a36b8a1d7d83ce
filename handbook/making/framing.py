"""Pages set into the frame that all pages of a site share."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property

from handbook.making.content import ReadContent
from handbook.making.kept import Fresh
from handbook.outputs.html.frame import Frame, NavItem
from handbook.outputs.search.index import rows_text
from handbook.outputs.site import MadePage, Renderer, framed
from handbook.store import key_of


class Framing:
    """Renders the frame once, when the first page is made; `menu` is of the newest cycle."""

    def __init__(
        self, content: ReadContent, menu: tuple[NavItem, ...], renderer: Callable[[], Renderer]
    ) -> None:
        self._content, self._menu, self._renderer = content, menu, renderer
        self.key = key_of(content.core_key, menu)

    @property
    def renderer(self) -> Renderer:
        """What makes the pages."""
        return self._renderer()

    def fresh(self, pages: Iterable[MadePage], more: object = None) -> Fresh:
        """Set pages into the frame."""
        made = tuple(pages)
        rendered = tuple(framed(page, self._frame, self._content.context) for page in made)
        return Fresh(
            pages=rendered, rows=rows_text(row for page in made for row in page.rows), more=more
        )

    @cached_property
    def _frame(self) -> Frame:
        return self.renderer.frame(self._content.context, self._menu)
