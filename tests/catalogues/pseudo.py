"""What stands on pages in words that no catalogue knows.

Every message is said in brackets of one kind, every text of the content in another; what is in
neither was forgotten. `python -m tests.catalogues.pseudo [KIND ...]` lists it by the kinds of pages.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from gettext import NullTranslations
from html.parser import HTMLParser
from pathlib import Path
from unittest.mock import patch

from handbook.outputs.i18n import Speech, speaking
from handbook.outputs.page import Context
from handbook.outputs.site import Renderer, made_pages
from handbook.pipeline import load_plan
from handbook.plan.model import Plan

OPEN, CLOSE = "⟦", "⟧"
OPEN_TEXT, CLOSE_TEXT = "‹", "›"
_READ_ALOUD = ("aria-label", "title", "alt", "placeholder")
_VOID = frozenset(
    [
        "area",
        "base",
        "br",
        "col",
        "embed",
        "hr",
        "img",
        "input",
        "link",
        "meta",
        "source",
        "track",
        "wbr",
    ]
)
_WORD = re.compile(r"[^\W\d_]{2,}")
# Written by a table of formats, not by messages.
_FORMATS = re.compile(
    r"\b(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)[a-z]*\b|\b(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)[a-z]*\b|\b[ap]m\b"
)


class Bracketed(NullTranslations):
    """Says every message in brackets."""

    def gettext(self, message: str) -> str:
        """Say a message."""
        return f"{OPEN}{message}{CLOSE}"

    def pgettext(self, context: str, message: str) -> str:  # noqa: ARG002
        """Say a message."""
        return self.gettext(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """Say a message about a number."""
        return self.gettext(msgid1 if n == 1 else msgid2)

    def npgettext(self, context: str, msgid1: str, msgid2: str, n: int) -> str:  # noqa: ARG002
        """Say a message about a number."""
        return self.ngettext(msgid1, msgid2, n)


class _Forgotten(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found, self._depth = list[str](), 0
        self._open: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        silent = tag in {"script", "style"} or given.get("translate") == "no"
        for name in _READ_ALOUD:
            if given.get(name):
                self.found.extend(_outside(str(given[name])))
        if tag not in _VOID:
            self._open.append((tag, silent or any(one for _, one in self._open)))

    def handle_endtag(self, tag: str) -> None:
        while self._open and self._open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1][1]:
            return
        kept = []
        for sign in data:
            self._depth += (sign in OPEN + OPEN_TEXT) - (sign in CLOSE + CLOSE_TEXT)
            kept.append(" " if self._depth > 0 or sign in CLOSE + CLOSE_TEXT else sign)
        self.found.extend(_outside("".join(kept)))


def _outside(text: str) -> Iterator[str]:
    before = None
    while before != text:
        before, text = text, re.sub("⟦[^⟦⟧‹›]*⟧|‹[^⟦⟧‹›]*›", " ", text)
    left = _FORMATS.sub(" ", text)
    if _WORD.search(left):
        yield " ".join(text.split())


def forgotten(html: str) -> list[str]:
    """Give the words of a page, seen or read aloud, that are in no brackets."""
    reader = _Forgotten()
    reader.feed(html)
    return reader.found


@contextmanager
def bracketing() -> Iterator[None]:
    """Say every message in brackets of one kind within, and every text of the content in another."""
    say, say_to = Context.say, Context.say_to

    def bracketed(words: str) -> str:
        return f"{OPEN_TEXT}{words}{CLOSE_TEXT}" if words else ""

    def pseudo(*_: object) -> AbstractContextManager[Speech]:
        return speaking("qps", Bracketed())

    with (
        pseudo(),
        patch.object(Context, "speaking", pseudo),
        patch.object(Context, "say", lambda *given: bracketed(say(*given))),
        patch.object(Context, "say_to", lambda *given: bracketed(say_to(*given))),
    ):
        yield


def forgotten_of(plan: Plan) -> dict[str, Counter[str]]:
    """Give what was forgotten on the pages of a plan, by kind of page."""
    found: dict[str, Counter[str]] = {}
    with bracketing():
        for made in made_pages(Renderer(), plan):
            found.setdefault(made.page.kind, Counter()).update(forgotten(made.middle))
    return found


def main(kinds: list[str]) -> None:
    """List what was forgotten in the demo."""
    plan = load_plan(Path(__file__).resolve().parents[2] / "content").plan
    assert plan is not None
    for kind, found in forgotten_of(plan).items():
        if not kinds or kind in kinds:
            print(f"== {kind}: {len(found)}")  # noqa: T201
            for words, count in found.most_common():
                print(f"  {count:5} {words[:150]}")  # noqa: T201


if __name__ == "__main__":
    main(sys.argv[1:])
