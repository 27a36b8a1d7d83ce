"""Free text as HTML: a safe subset of Markdown, without raw HTML or script links."""

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


_ENDS_OF_WORDS = frozenset(
    {"softbreak", "hardbreak", "paragraph_close", "heading_close", "td_close", "th_close"}
)


def plain(text: str) -> str:
    """Give the words of Markdown text without its marks, for search."""
    return " ".join(_words(_PARSER.parse(text)).split())


def _words(tokens: Sequence[Token]) -> str:
    parts: list[str] = []
    for token in tokens:
        if token.children:
            parts.append(_words(token.children))
        elif token.type in {"text", "code_inline", "fence", "code_block"}:
            parts.append(token.content)
        elif token.type in _ENDS_OF_WORDS:
            parts.append(" ")
    return "".join(parts)
