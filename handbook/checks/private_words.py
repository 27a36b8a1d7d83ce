"""Words by which an author means to keep something off the site, where they keep nothing."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.problems import Address, Problem, Severity
from handbook.schema.handbook import FreePage, Handbook

# What nobody says but of a remark; `private` alone may be said of a lesson or a school.
_REMARK = (
    r"(?:private[ _-](?:notes?|remarks?|comments?|info|stuff|only)|notas? privadas?"
    r"|not public|do not publish)"
)
_PRIVATE = rf"(?:{_REMARK}|private|privad[oa])"
_IN_BRACKETS = rf"(?:\[{_PRIVATE}\]|\({_PRIVATE}\)|\{{{_PRIVATE}\}})"
# A colon or a dash between the word and what is kept; one in a word, as in `private-school`, parts nothing.
_PARTED = r"[*_]* ?(?:(?::|-+|–)(?=[*_]*(?:\s|$))|—)"
_TERM = re.compile(
    rf"(?i){_PRIVATE}|(?:internal|my) notes?|notes? to (?:my)?self|draft"
    rf"|(?:{_IN_BRACKETS}|{_PRIVATE} ?(?:[:–—]|-+ )).*"
)
# At the start of a line, of a sentence or of a table's cell, whatever marks stand before it.
_LINE = re.compile(
    rf"(?im)(?:^|\||(?<=[.!?] ))[ \t>*_#+-]*(?P<said>{_PRIVATE}{_PARTED}"
    rf"|{_IN_BRACKETS}(?!\()"  # with an address behind it, it is a link
    r"|draft ?: *(?:yes|true|on|no|false|off)\b|(?:published|public) ?: *(?:no|false|off)\b)"
)
# All of a heading, of a line that is as strong as one, or of a cell.
_TITLE = re.compile(
    rf"(?im)^[ \t>]*(?:\#+[ \t]+[*_]*|[*_]{{2,3}})(?P<said>{_REMARK})[*_# \t]*$"
    rf"|\|[ \t*_]*(?P<cell>{_REMARK})(?=[ \t*_]*\|)"
    rf"|^(?P<lined>{_REMARK})[ \t]*\n(?==+|-+[ \t]*$)"
)
_LOOKS_SO = re.compile("(?i)priva|public|publish|draft")
_WORDS = "words"
# The end or the beginning of a name by which programs and people call a copy or a version.
_SECOND = re.compile(
    r"(?P<of>.+?)-(?:copy|copies|draft|old|new|final|backup|bak|version|edited|copia|borrador|v?\d)(?:-\d+)?"
)
_SECOND_BEFORE = re.compile(r"(?:copy-of|draft|old|new|copia-de|borrador)-(?P<of>.+)")


@check
def private_line(handbook: Handbook) -> Iterator[Problem]:
    """A line of a page or of a text says that it is private, or that the page is a draft.

    Nothing reads such a line: a page and a text are public as a whole. A remark of your own
    stands in a YAML file under `private:`, in small letters, and a page that is not ready
    outside of `pages/`, or with a dot before its name.

    Bad:

        Come to every rehearsal.

        private: ask who can drive

    Good:

        Come to every rehearsal.
    """
    for file, item in traversal.items(handbook):
        for address, text in traversal.texts(item, (file,)):
            for code, words in text.versions:
                for said, _ in islice(_said_in(words), 1):
                    yield _said(said, (*address, code) if code else address)
    for page in handbook.pages:
        for said, at in _said_in(page.body):
            yield _said(said, _on_page(page, at, len(said)))


def _said_in(words: str) -> Iterator[tuple[str, int]]:
    """Give what is said to be private, and where it begins, in order."""
    if not _LOOKS_SO.search(words):
        return
    found = {
        match.start(name): match[name]
        for pattern in (_LINE, _TITLE)
        for match in pattern.finditer(words)
        for name in pattern.groupindex
        if match[name]
    }
    yield from ((said, at) for at, said in sorted(found.items()))


def _said(said: str, address: Address) -> Problem:
    return finding(
        f"`{said}` keeps nothing private here: all of this is public",
        address,
        "take it out; a remark of your own belongs under `private:` in a YAML file, a page that is not ready outside of pages/",
    )


def _on_page(page: FreePage, at: int, length: int) -> Address:
    before = page.body[:at]
    line, column = before.count("\n"), at - (before.rfind("\n") + 1)
    return page.file, page.line + line, column + 1, length


@check
def private_term(handbook: Handbook) -> Iterator[Problem]:
    """Among the terms of `words` stands one that is meant for a private remark.

    Every term and its meaning are shown. Only `private:` in small letters is kept off the
    site.

    Bad:

        words:
          Private: Two players are still waiting for an instrument

    Good:

        private: Two players are still waiting for an instrument
    """
    for file, item in traversal.items(handbook):
        for address, _ in traversal.texts(item, (file,)):
            if len(address) > 1 and address[-2] == _WORDS and _TERM.fullmatch(str(address[-1])):
                yield finding(
                    f"`{address[-1]}` is shown as a term, with all that is said of it",
                    address,
                    "write `private:` in small letters, beside `words:` and not under it",
                    on_key=True,
                )


@check
def second_page(handbook: Handbook) -> Iterator[Problem]:
    """A page has the name of a copy or of another version.

    All pages are published, so that families would find two that say nearly the same.

    Bad:

        pages/trip.md pages/trip-copy.md

    Good:

        pages/trip.md
    """
    slugs = {page.slug for page in handbook.pages}
    for page in handbook.pages:
        folder, slash, name = page.slug.rpartition("/")
        for pattern in (_SECOND, _SECOND_BEFORE):
            found = pattern.fullmatch(name)
            first = f"{folder}{slash}{found['of']}" if found else ""
            if first in slugs:
                yield finding(
                    f"this looks like a second version of {first}.md, and both are published",
                    (page.file,),
                    "keep one of them; the other may stay with a dot before its name",
                    Severity.WARNING,
                )
