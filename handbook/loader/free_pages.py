"""Free pages: Markdown that is safe to publish as it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from markdown_it import MarkdownIt
from markdown_it.token import Token

from handbook.problems import MOST_OF_A_KIND, Code, Position, Problem
from handbook.schema.handbook import FreePage
from handbook.source.decoding import decode

PAGE_WITHOUT_TITLE = Code(
    "page-without-title",
    "A page does not begin with its title.",
    "The title names the page in lists and in the browser.",
    bad="Come to every rehearsal.",
    good="# Attendance\n\nCome to every rehearsal.",
)
HTML_IN_PAGE = Code(
    "html-in-page",
    "A page holds HTML.",
    "Pages are Markdown only, so that nothing can break the site, follow families about, or hide in remarks that anyone can read in the page's source.",
    bad="<b>Come</b> to every rehearsal.",
    good="**Come** to every rehearsal.",
)
UNSAFE_LINK = Code(
    "unsafe-link",
    "A link on a page could run a script.",
    "Links lead to pages, or begin with https:, http:, mailto: or tel:.",
    bad="[Forms](javascript:open())",
    good="[Forms](https://forms.quillhaven.example/)",
)

_TITLE = re.compile(r"#\s+(?P<title>\S.*)")
_SCHEME = re.compile(r"\s*([A-Za-z][A-Za-z0-9+.-]*):")
_SAFE_SCHEMES = frozenset({"http", "https", "mailto", "tel"})


class _AnyLink(MarkdownIt):
    """Takes every link as one, so that an unsafe one can be told instead of left as text."""

    def validateLink(self, url: str) -> bool:  # noqa: N802 - the library's name
        return bool(url)


def read_page(
    file: str, slug: str, raw: bytes
) -> tuple[FreePage | None, tuple[str, ...], tuple[Problem, ...]]:
    """Read one page: the page if it is safe, its lines, and what is wrong with it.

    The first line that holds anything is the title, `# Title`; `body` is all after it.
    Refused: HTML, since it would be shown as it stands, and links that run a script.
    """
    text = decode(file, raw)
    if isinstance(text, Problem):
        return None, (), (text,)
    lines = tuple(text.split("\n"))
    first = next((n for n, line in enumerate(lines) if line.strip()), None)
    title = _TITLE.match(lines[first]) if first is not None else None
    problems = [*islice(_unsafe(file, text, lines), MOST_OF_A_KIND)]
    if title is None or first is None:
        problems.insert(0, _no_title(file, first, lines))
        return None, lines, tuple(problems)
    page = FreePage(
        file, slug, _without_closing(title["title"]), "\n".join(lines[first + 1 :]).strip() + "\n"
    )
    return (None if problems else page), lines, tuple(problems)


def _without_closing(title: str) -> str:
    """Leave out the hashes that may close a heading, after a space (CommonMark 0.31.2, 4.2)."""
    whole = title.rstrip()
    bare = whole.rstrip("#")
    return bare.rstrip() if bare[-1:].isspace() else whole


def _no_title(file: str, first: int | None, lines: tuple[str, ...]) -> Problem:
    at = Position(1, 1) if first is None else Position(first + 1, 1, len(lines[first].rstrip()))
    return Problem(
        PAGE_WITHOUT_TITLE,
        "a page begins with its title",
        (file,),
        "write `# ` and the title as the first line",
        position=at,
    )


def _unsafe(file: str, text: str, lines: tuple[str, ...]) -> Iterator[Problem]:
    reader = _AnyLink("commonmark")
    for block in reader.parse(text):
        start, stop = block.map or (0, len(lines))
        if block.type == "html_block":
            yield _html(file, block.content, start, stop, lines)
        for token in block.children or ():
            if token.type == "html_inline" and not token.content.startswith("</"):
                yield _html(file, token.content, start, stop, lines)
            elif _runs_script(token):
                yield _unsafe_link(file, token, start, stop, lines)


def _runs_script(token: Token) -> bool:
    address = token.attrGet("href") or token.attrGet("src")
    scheme = _SCHEME.match(str(address)) if address else None
    return bool(scheme and scheme[1].lower() not in _SAFE_SCHEMES)


def _html(file: str, content: str, start: int, stop: int, lines: tuple[str, ...]) -> Problem:
    written = content.strip().split("\n")[0]
    return Problem(
        HTML_IN_PAGE,
        "a page holds Markdown only, and this is HTML",
        (file,),
        "say it in Markdown, or remove it; a remark to yourself does not belong on a page",
        position=_place(written, start, stop, lines),
    )


def _unsafe_link(file: str, token: Token, start: int, stop: int, lines: tuple[str, ...]) -> Problem:
    address = str(token.attrGet("href") or token.attrGet("src"))
    scheme = address.partition(":")[0]
    return Problem(
        UNSAFE_LINK,
        f"a link to `{scheme}:` is not safe to publish",
        (file,),
        "link to a page, or to an address that begins with https:, mailto: or tel:",
        position=_place(f"{scheme}:", start, stop, lines),
    )


def _place(written: str, start: int, stop: int, lines: tuple[str, ...]) -> Position:
    for number in range(start, min(stop, len(lines))):
        column = lines[number].find(written)
        if column >= 0:
            return Position(number + 1, column + 1, max(1, len(written)))
    return Position(start + 1, 1)
