"""Links in texts and on free pages that cannot be published as they are."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from handbook.checks import traversal
from handbook.checks.check import check, check_of, finding
from handbook.checks.wording import known_hint
from handbook.problems import Address, Problem
from handbook.records import dataclass
from handbook.schema.handbook import FreePage, Handbook
from handbook.source.links import UNSAFE_LINK, Leads, Target, scheme_of, target_of
from handbook.source.markdown import read_markdown

_MAY_LINK = re.compile(r"\]\(|\]:|<[A-Za-z]")
_IDS = re.compile(r' id="([^"]*)"')
OF_EVERY_PAGE = frozenset({"main", "q"})
"""Places that the frame has on every page."""


@dataclass(frozen=True, slots=True)
class Linked:
    """The whole handbook, and the addresses of the pages made of it, its free pages left out."""

    handbook: Handbook
    made: frozenset[str]


@check_of(UNSAFE_LINK)
def unsafe_link(handbook: Handbook) -> Iterator[Problem]:
    """A link in a text could run a script."""
    for address, link, target in _in_texts(handbook):
        if target.leads is Leads.UNSAFE:
            yield finding(
                f"a link to `{scheme_of(link)}:` is not safe to publish",
                address,
                "link to a page, or to an address that begins with https:, mailto: or tel:",
            )


@check
def odd_link(handbook: Handbook) -> Iterator[Problem]:
    """A link leads to nothing that can be linked to.

    A link leads to an address with `https:` before it, to a free page by its file, to a file
    in media/, or to a page that the handbook makes, such as `calendar/`, but not to a place
    on such a page, since places move. On a free page, files are counted from the page's own;
    in a text, all is counted from the content folder.

    Bad:

        about: Bring [the form](forms/trip.html)

    Good:

        about: Bring [the form](https://forms.quillhaven.example/trip)
    """
    for address, link, target in _in_texts(handbook):
        if target.leads is Leads.ODD:
            yield _odd(link, address, "pages/attendance.md", "media/map.pdf")
    for page, link, target in _on_pages(handbook):
        if target.leads is Leads.ODD:
            up = "../" * page.slug.count("/")
            yield _odd(link, place_on(page, link), f"{up}attendance.md", f"{up}../media/map.pdf")


def _odd(link: str, address: Address, page: str, file: str) -> Problem:
    return finding(
        f"a link to `{link}` leads nowhere",
        address,
        f"name a page by its file, such as `{page}`, a file as `{file}`, or write the whole address with `https://`",
    )


@check
def link_leads_nowhere(linked: Linked) -> Iterator[Problem]:
    """A link leads to a page, or to a heading of a page, that is not there.

    Bad:

        about: Read [the rules](pages/atendance.md)

    Good:

        about: Read [the rules](pages/attendance.md)
    """
    handbook = linked.handbook
    headings = {page.slug: _headings(page) for page in handbook.pages}
    for address, link, target in _in_texts(handbook):
        yield from _lost(link, target, address, headings, linked.made)
    for page, link, target in _on_pages(handbook):
        yield from _lost(link, target, place_on(page, link), headings, linked.made)


def _lost(
    link: str,
    target: Target,
    address: Address,
    headings: Mapping[str, frozenset[str]],
    made: frozenset[str],
) -> Iterator[Problem]:
    match target.leads:
        case Leads.HANDBOOK if target.path not in made:
            yield finding(
                f"the handbook makes no page `{target.path}`, to which `{link}` leads",
                address,
                known_hint(target.path, made - {""}, "as cycles and strands"),
            )
        case Leads.PAGE if target.path not in headings:
            yield finding(
                f"there is no page `{target.path}.md` in pages/, to which `{link}` leads",
                address,
                known_hint(target.path, headings, "to pages/"),
            )
        case Leads.PAGE | Leads.HERE if target.heading not in {"", *headings[target.path]}:
            yield finding(
                f"the page `{target.path}.md` has no heading `{target.heading}`, to which `{link}` leads",
                address,
                known_hint(target.heading, headings[target.path] - OF_EVERY_PAGE, "to the page"),
            )


def media_links(handbook: Handbook) -> Iterator[tuple[Address, str]]:
    """Give each file in media/ that a link leads to."""
    for address, _, target in _in_texts(handbook):
        if target.leads is Leads.MEDIA:
            yield address, target.path
    for page, link, target in _on_pages(handbook):
        if target.leads is Leads.MEDIA:
            yield place_on(page, link), target.path


def _headings(page: FreePage) -> frozenset[str]:
    return OF_EVERY_PAGE.union(_IDS.findall(read_markdown(page.body).html))


Found = tuple[Address, str, Target]
_latest: list[tuple[Handbook, tuple[Found, ...]]] = []


def _in_texts(handbook: Handbook) -> tuple[Found, ...]:
    """Give each link in the version of a text that is shown; several checks ask, one looks."""
    latest = _latest[0] if _latest else None
    if latest is None or latest[0] is not handbook:
        latest = handbook, tuple(_find(handbook))
        _latest[:] = [latest]
    return latest[1]


def _find(handbook: Handbook) -> Iterator[Found]:
    language = handbook.program.item.languages[0]
    for file, item in traversal.items(handbook):
        for address, text in traversal.texts(item, (file,)):
            code, words = text.version(language)
            if text.markdown and _MAY_LINK.search(words):
                from handbook.source.short_texts import links_in  # noqa: PLC0415 - few need it

                for link in links_in(words):
                    yield (*address, code) if code else address, link, target_of(link)


def _on_pages(handbook: Handbook) -> Iterator[tuple[FreePage, str, Target]]:
    for page in handbook.pages:
        for link in dict.fromkeys(read_markdown(page.body).links):
            yield page, link, target_of(link, page.slug)


def place_on(page: FreePage, link: str) -> Address:
    """Find a link on a page; where it is written otherwise than it is read, give the page."""
    found = re.search(rf"(?:[(<]|\]:)\s*({re.escape(link)})", page.body)
    if not link or found is None:
        return (page.file,)
    before = page.body[: found.start(1)]
    line, column = before.count("\n"), len(before) - (before.rfind("\n") + 1)
    return page.file, page.line + line, column + 1, len(link)
