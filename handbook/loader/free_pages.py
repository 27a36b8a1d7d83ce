"""Free pages: Markdown that is safe to publish as it stands."""

from __future__ import annotations

import re
from collections import Counter
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

MOST_LETTERS = 30_000  # of a page: ten printed ones
_TITLE = re.compile(r"#\s+(?P<title>\S.*)")
_START_OF_TAG = re.compile(r"<[^\s>]*")
_LOOKED_FOR = 30  # places a page; each costs a reading of the page, and one is enough to begin
_INSTEAD = "\u00b7"  # what is in no way Markdown


def read_page(
    file: str, slug: str, raw: bytes
) -> tuple[FreePage | None, tuple[str, ...], tuple[Problem, ...]]:
    """Read one page: the page if it is safe, its lines, and what is wrong with it.

    The first line that holds anything is the title, `# Title`; `body` is all after it.
    Refused: HTML, since a page is to be read as it was written, and links that run a script.
    """
    text = decode(file, raw)
    if isinstance(text, Problem):
        return None, lines_to_show(raw), (text,)
    lines = tuple(text.split("\n"))
    if len(text) > MOST_LETTERS:
        return None, lines, (_too_long(file, text),)
    first = next((n for n, line in enumerate(lines) if line.strip()), None)
    title = _TITLE.match(lines[first]) if first is not None else None
    if title is None or first is None:
        return None, lines, (_no_title(file, first, lines), *_few(_unsafe(file, text)))
    heading = _without_closing(title["title"])
    below = next((n for n in range(first + 1, len(lines)) if lines[n].strip()), first + 1)
    body = "\n".join(lines[below:]).rstrip("\n") + "\n"
    problems = () if _is_safe(heading, body) else _few(_unsafe(file, text))
    return None if problems else FreePage(file, slug, heading, body, below + 1), lines, problems


def _too_long(file: str, text: str) -> Problem:
    return Problem(
        TEXT_TOO_LONG,
        f"this page has {len(text):,} letters, and {MOST_LETTERS:,} are the most that are read",
        (file,),
        "part it in several pages",
        position=Position(1, 1),
    )


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
    return not any(read.tags or _unsafe_schemes(read) for read in found)


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
    for tag, at in _places(text, _tags(read), _tags):
        yield Problem(
            HTML_IN_PAGE,
            "a page holds Markdown only, and this is HTML",
            (file,),
            "say it in Markdown, or remove it; a remark to yourself does not belong on a page",
            position=_first_line(text, at, tag),
        )
    for scheme, at in _places(text, _unsafe_schemes(read), _unsafe_schemes):
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


def _unsafe_schemes(read: MarkdownText) -> tuple[str, ...]:
    return tuple(
        f"{link.partition(':')[0]}:"
        for link in read.links
        if scheme_of(link) not in {"", *SAFE_SCHEMES}
    )


def _places(
    text: str, found: Sequence[str], find: Callable[[MarkdownText], Sequence[str]]
) -> Iterator[tuple[str, int]]:
    """Give each thing found with its index in the text.

    The reader tells no places. A place where the same is written may be code or escaped;
    it is the one if less is found once a letter there is another.
    """
    tries = _LOOKED_FOR
    for written, count in Counter(found).items():
        told = 0
        for index in _occurrences(text, written):
            if told == count or not tries:
                break
            tries -= 1
            without = f"{text[:index]}{_INSTEAD}{text[index + 1 :]}"
            if find(read_markdown(without)).count(written) < count:
                told += 1
                yield written, index
        if not told:
            yield written, max(0, text.find(written))


def _occurrences(text: str, written: str) -> Iterator[int]:
    """Give where a piece begins in the text; of a tag only its name, which holds no escapes."""
    tag = _START_OF_TAG.match(written)
    return (found.start() for found in re.finditer(re.escape(tag[0] if tag else written), text))


def _first_line(text: str, at: int, written: str) -> Position:
    return place(text, at, max(1, len(written.partition("\n")[0])))
