"""Free text as HTML: a safe subset of Markdown, without raw HTML or script links."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

# `html: False` writes tags out as text, and the parser refuses javascript:, vbscript:,
# file: and data: links by itself.
_PARSER = MarkdownIt("commonmark", {"html": False, "typographer": True}).enable(
    ["table", "strikethrough", "replacements", "smartquotes"]
)


@lru_cache(maxsize=4096)
def prose(text: str) -> Markup:
    """Render Markdown as blocks."""
    return Markup(_PARSER.render(text))  # noqa: S704 - the parser escapes all raw HTML


@lru_cache(maxsize=4096)
def line(text: str) -> Markup:
    """Render Markdown within one line: emphasis and links, no blocks."""
    return Markup(_PARSER.renderInline(text))  # noqa: S704 - the parser escapes all raw HTML


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
        elif token.type in {"softbreak", "hardbreak", "paragraph_close", "heading_close"}:
            parts.append(" ")
    return "".join(parts)
