"""Free pages: Markdown that is safe to publish as it stands."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import islice

from handbook.problems import MOST_OF_A_KIND, TEXT_TOO_LONG, Code, Position, Problem
from handbook.schema.handbook import FreePage
from handbook.source.decoding import decode, lines_to_show, place
from handbook.source.links import SAFE_SCHEMES, UNSAFE_LINK, scheme_of
from handbook.source.markdown import MarkdownText, TooDeepError, read_markdown

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
PAGE_TOO_DEEP = Code(
    "page-too-deep",
    "Lists, quotations or brackets on a page stand hundreds deep in each other.",
    "No reader could follow them, and the program that reads pages gives up.",
    bad=">>>>>>>>>> (and hundreds more) Come early.",
    good="> Come early.",
)

MOST_OF_ALL = 400_000  # letters of all pages
MOST_LETTERS = 30_000  # of a page: ten printed ones
MOST_IN_PARAGRAPH = 300  # lines, or links; the reader takes the square of them
_TITLE = re.compile(r"#\s+(?P<title>\S.*)")
_STARTS_TAG = re.compile(r"<[/!]?[A-Za-z-]+")
_STARTS_LINK = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:")
_ZERO = 0x2800  # Braille, in which no page is written; what follows it are the other digits
_NUMBER = re.compile("[\u2800-\u2809]{5}")


def read_page(
    file: str, slug: str, raw: bytes, *, before: int = 0
) -> tuple[FreePage | None, tuple[str, ...], tuple[Problem, ...]]:
    """Read one page: the page if it is safe, its lines, and what is wrong with it.

    The first line that holds anything is the title, `# Title`; `body` is all after it.
    `before` is how many letters the pages before it have.
    Refused: HTML, since a page is to be read as it was written, and links that run a script.
    """
    text = decode(file, raw)
    if isinstance(text, Problem):
        return None, lines_to_show(raw), (text,)
    lines = tuple(text.split("\n"))
    too_long = _too_long(file, text, before) or _long_paragraph(file, lines)
    if too_long is not None:
        return None, lines, (too_long,)
    first = next((n for n, line in enumerate(lines) if line.strip()), None)
    title = _TITLE.match(lines[first]) if first is not None else None
    if title is None or first is None:
        return None, lines, (_no_title(file, first, lines), *_few(_unsafe(file, text)))
    heading = _without_closing(title["title"])
    below = next((n for n in range(first + 1, len(lines)) if lines[n].strip()), first + 1)
    body = "\n".join(lines[below:]).rstrip("\n") + "\n"
    problems = () if _is_safe(heading, body) else _few(_unsafe(file, text))
    return None if problems else FreePage(file, slug, heading, body, below + 1), lines, problems


def _too_long(file: str, text: str, before: int) -> Problem | None:
    if len(text) > MOST_LETTERS:
        message = (
            f"this page has {len(text):,} letters, and {MOST_LETTERS:,} are the most that are read"
        )
        hint = "part it in several pages"
    elif before + len(text) > MOST_OF_ALL:
        message = (
            f"with this page all pages have more than {MOST_OF_ALL:,} letters, and no more are read"
        )
        hint = "take out what nobody needs any more, or shorten it"
    else:
        return None
    return Problem(TEXT_TOO_LONG, message, (file,), hint, position=Position(1, 1))


def _long_paragraph(file: str, lines: Sequence[str]) -> Problem | None:
    begun = links = 0
    for number, line in enumerate(lines):
        if not line.strip():
            begun, links = number + 1, 0
            continue
        links += line.count("](")
        if number - begun < MOST_IN_PARAGRAPH and links <= MOST_IN_PARAGRAPH:
            continue
        what = "links" if links > MOST_IN_PARAGRAPH else "lines"
        return Problem(
            TEXT_TOO_LONG,
            f"here begin more than {MOST_IN_PARAGRAPH} {what} without an empty line, and no more than that are read",
            (file,),
            "part them by an empty line",
            position=Position(begun + 1, 1),
        )
    return None


def _few(problems: Iterator[Problem]) -> tuple[Problem, ...]:
    return tuple(islice(problems, MOST_OF_A_KIND))


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


def _is_safe(*texts: str) -> bool:
    """Whether nothing is to be refused; reads what is published, which is then not read anew."""
    try:
        found = [read_markdown(text) for text in texts]
    except TooDeepError:
        return False
    return not any(read.tags or _unsafe_links(read) for read in found)


def _unsafe(file: str, text: str) -> Iterator[Problem]:
    try:
        read = read_markdown(text)
    except TooDeepError:
        yield Problem(
            PAGE_TOO_DEEP,
            "this page cannot be read: its lists, quotations or brackets stand too deep in each other",
            (file,),
            "take out what is set in so far; three levels are as many as a reader can follow",
            position=Position(1, 1),
        )
        return
    for tag, at in _places(text, _tags(read), _tags, _STARTS_TAG):
        yield Problem(
            HTML_IN_PAGE,
            "a page holds Markdown only, and this is HTML",
            (file,),
            "say it in Markdown, or remove it; a remark to yourself does not belong on a page",
            position=_first_line(text, at, tag),
        )
    for link, at in _places(text, _unsafe_links(read), _unsafe_links, _STARTS_LINK):
        scheme = f"{link.partition(':')[0]}:"
        yield Problem(
            UNSAFE_LINK,
            f"a link to `{scheme}` is not safe to publish",
            (file,),
            "link to a page, or to an address that begins with https:, mailto: or tel:",
            position=_first_line(text, at, scheme),
        )


def _tags(read: MarkdownText) -> tuple[str, ...]:
    """Give the tags that open; those that close only where nothing was opened."""
    return tuple(tag for tag in read.tags if not tag.startswith("</")) or read.tags


def _unsafe_links(read: MarkdownText) -> tuple[str, ...]:
    return tuple(link for link in read.links if scheme_of(link) not in {"", *SAFE_SCHEMES})


def _places(
    text: str,
    found: Sequence[str],
    find: Callable[[MarkdownText], Sequence[str]],
    starts: re.Pattern[str],
) -> Iterator[tuple[str, int]]:
    """Give each thing found with its index in the text.

    The reader tells no places, and where the same is written it may be code or escaped. So
    all that begins as such things do gets its number behind it, and the page is read again.
    """
    if not found:
        return
    places: list[int] = []

    def numbered(begun: re.Match[str]) -> str:
        places.append(begun.start())
        return begun[0] + "".join(chr(_ZERO + int(digit)) for digit in f"{len(places) - 1:05}")

    for written in find(read_markdown(starts.sub(numbered, text))):
        number = _NUMBER.search(written)
        bare = _NUMBER.sub("", written)
        at = int("".join(str(ord(sign) - _ZERO) for sign in number[0])) if number else len(places)
        yield bare, places[at] if at < len(places) else max(0, text.find(bare))


def _first_line(text: str, at: int, written: str) -> Position:
    return place(text, at, max(1, len(written.partition("\n")[0])))
