"""Short texts of the content files as Markdown: without raw HTML and without links that run a script.

They are read by markdown-it-py, at a fifth of the time that Python-Markdown takes, since a
site has thousands of them; free pages, which may hold more, by `source.markdown`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from markdown_it import MarkdownIt
from markdown_it.token import Token

# `html: False` writes tags out as text, and the parser refuses javascript:, vbscript:,
# file: and data: links by itself. Its typographer's replacements stay off: they would
# turn a sticking of (r) into a trade mark.
PARSER = MarkdownIt("commonmark", {"html": False, "typographer": True}).enable(
    ["table", "strikethrough", "smartquotes"]
)


@lru_cache(maxsize=4096)
def links_in(text: str) -> tuple[str, ...]:
    """Give the addresses that a text links to, read within a line or as blocks."""
    found = [*_links(PARSER.parseInline(text))]
    if "\n" in text:  # else there is no block that holds more
        found += _links(PARSER.parse(text))
    return tuple(dict.fromkeys(found))


def _links(tokens: Iterable[Token]) -> Iterator[str]:
    for token in tokens:
        link = token.attrs.get("href" if token.type == "link_open" else "src")
        if link is not None:
            yield str(link)
        yield from _links(token.children or ())
