"""Short texts of the content files as HTML: Markdown without raw HTML or script links.

They are read by markdown-it-py, at a fifth of the time that Python-Markdown takes, since a
site has thousands of them; free pages, which may hold more, by `source.markdown`.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import EnvType, OptionsDict
from markupsafe import Markup, escape

# `html: False` writes tags out as text, and the parser refuses javascript:, vbscript:,
# file: and data: links by itself. Its typographer's replacements stay off: they would
# turn a sticking of (r) into a trade mark.
_PARSER = MarkdownIt("commonmark", {"html": False, "typographer": True}).enable(
    ["table", "strikethrough", "smartquotes"]
)


def _picture_as_link(
    renderer: RendererHTML,
    tokens: Sequence[Token],
    place: int,
    options: OptionsDict,
    env: EnvType,
) -> str:
    """Name a picture and link to it, since a page may load nothing from elsewhere."""
    token = tokens[place]
    words = renderer.renderInlineAsText(token.children, options, env) if token.children else ""
    source = str(token.attrs.get("src", ""))
    return f'<a href="{escape(source)}">{escape(words or source)}</a>'


_PARSER.add_render_rule("image", _picture_as_link)


@lru_cache(maxsize=4096)
def prose(text: str) -> Markup:
    """Render Markdown as blocks."""
    return Markup(_PARSER.render(text))  # noqa: S704 - the parser escapes all raw HTML


@lru_cache(maxsize=4096)
def line(text: str) -> Markup:
    """Render Markdown within one line: emphasis and links, no blocks."""
    return Markup(_PARSER.renderInline(text))  # noqa: S704 - the parser escapes all raw HTML
