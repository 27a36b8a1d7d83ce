"""Free pages as MkDocs's Markdown: Python-Markdown, with what suits prose of the theme's.

On top of Markdown: tables, footnotes, definition lists, notes (`!!!`) and folds (`???`),
and `~~no longer~~`. HTML is shown as it was written, never as HTML; who reads a page for
publishing refuses it by `tags`. Nothing of a page is loaded: a picture becomes a link.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache
from html import unescape
from string import punctuation
from unicodedata import category
from xml.etree.ElementTree import Element

from markdown import Markdown
from markdown.extensions import Extension
from markdown.extensions.admonition import AdmonitionExtension
from markdown.extensions.def_list import DefListExtension
from markdown.extensions.footnotes import FootnoteExtension
from markdown.extensions.sane_lists import SaneListExtension
from markdown.extensions.smarty import SmartyExtension
from markdown.extensions.tables import TableExtension
from markdown.extensions.toc import TocExtension
from markdown.inlinepatterns import (
    InlineProcessor,
    SimpleTagInlineProcessor,
    SubstituteTagInlineProcessor,
)
from markdown.postprocessors import Postprocessor
from markdown.preprocessors import Preprocessor
from markdown.treeprocessors import Treeprocessor
from markdown.util import AtomicString
from pymdownx.details import DetailsExtension
from pymdownx.highlight import HighlightExtension
from pymdownx.saneheaders import SaneHeadersExtension
from pymdownx.superfences import SuperFencesCodeExtension

from handbook.domain.anchors import anchor_of
from handbook.records import dataclass
from handbook.source.links import SAFE_SCHEMES, scheme_of
from handbook.source.list_indents import set_in_by_four

_TAG = r"(<(?:/?[A-Za-z][^<>@ ]*(?:[ ][^<>]*)?>|!--(?:.{0,1000}?-->)?|![A-Za-z\[]|\?))"
_AUTOLINK = r"<([A-Za-z][A-Za-z0-9+.-]{1,31}:[^\s<>]*)>"
_MAIL = r"<([A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]+@[A-Za-z0-9.-]+)>"
_ENTITY = re.compile(r"&(?:[A-Za-z][A-Za-z0-9]*|#[0-9]+|#[xX][0-9A-Fa-f]+);")
_UNSEEN = {"Cc", "Cf", "Cs", "Co", "Cn"}  # controls, direction marks, halves, and no characters
_JOINERS = frozenset("\u200c\u200d")
_QUOTES = {
    "left-single-quote": "‘",
    "right-single-quote": "’",
    "left-double-quote": "“",
    "right-double-quote": "”",
}
_PRESSING = frozenset(
    {"warning", "caution", "attention", "danger", "error", "failure", "fail", "missing", "bug"}
)
_TAGS = re.compile(r"</?([a-z0-9]+)[^>]*>")
_HEADING = re.compile(r"<h[1-6][^>]*>.*?</h[1-6]>", re.DOTALL)
_WHOLE_TAG = re.compile(r"(<[^>]*>)")
_FOOTNOTE_MARKS = re.compile(r'<sup id="fnref.*?</sup>|<a class="footnote-backref".*?</a>')
_BRACKETS = re.compile(r"\]\(|[\[\])]|\n[ ]*\n")
_DEEPEST = 100
_WIDE = "table"  # the class of what may be wider than the screen
_APART = frozenset(
    {"p", "li", "dt", "dd", "td", "th", "tr", "h1", "h2", "h3", "h4", "h5", "h6", "br"}
    | {"div", "summary", "pre", "blockquote", "hr", "table", "ul", "ol", "dl"}
)


@dataclass(frozen=True, slots=True)
class MarkdownText:
    """A text as HTML, its words for search, and what is to be looked at before publishing.

    `tags` are pieces of HTML as they were written, `links` the addresses it leads to.
    """

    html: str
    words: str
    tags: tuple[str, ...]
    links: tuple[str, ...]

    @property
    def opening(self) -> str:
        """The words that stand before any heading; if there are none, those below the first."""
        return next(filter(None, map(_words, _HEADING.split(self.html))), "")


@lru_cache(maxsize=256)
def read_markdown(text: str) -> MarkdownText:
    """Read a text; the HTML is safe to publish as it stands, whatever the text holds.

    Raises TooDeepError for a text whose lists, quotations or brackets stand hundreds deep
    in each other: the reader would give up, or take hours.
    """
    if _brackets_deep(text) > _DEEPEST:
        raise TooDeepError
    reader, found = _reader()
    found.clear()
    try:
        html = reader.reset().convert(text)
    except RecursionError:
        _reader.cache_clear()  # it was stopped half-way
        raise TooDeepError from None
    return MarkdownText(html, _words(html), tuple(found.tags), tuple(found.links))


def _brackets_deep(text: str) -> int:
    """Give how many brackets of a kind are open at most at one place of a paragraph."""
    square = round_ = deepest = 0
    for sign in _BRACKETS.findall(text):
        if sign[0] == "\n":
            square = round_ = 0
        elif sign == ")":
            round_ = max(0, round_ - 1)
        else:
            square = max(0, square + (1 if sign == "[" else -1))
            round_ += len(sign) - 1
        deepest = max(deepest, square, round_)
    return deepest


class TooDeepError(Exception):
    """A text is built too deep to be read."""


class _TagsAndLinks:
    """What one text holds."""

    def __init__(self) -> None:
        self.tags: list[str] = []
        self.links: list[str] = []

    def clear(self) -> None:
        self.tags, self.links = [], []


@cache
def _reader() -> tuple[Markdown, _TagsAndLinks]:
    found = _TagsAndLinks()
    reader = Markdown(
        extensions=[  # as objects, since names would be looked for in every installed package
            TableExtension(use_align_attribute=True),
            DefListExtension(),
            SaneListExtension(),
            AdmonitionExtension(),
            DetailsExtension(),
            SaneHeadersExtension(),
            SuperFencesCodeExtension(),
            HighlightExtension(use_pygments=False),
            SmartyExtension(smart_dashes=False, smart_ellipses=False, substitutions=_QUOTES),
            TocExtension(slugify=lambda words, _: anchor_of(words)),
            _Footnotes(BACKLINK_TITLE="{}", SEPARATOR="-"),
            _PlainProse(found),
        ]
    )
    return reader, found


class _Footnotes(FootnoteExtension):
    """Footnotes with anchors by number, since a name may hold anything."""

    def makeFootnoteId(self, id: str) -> str:  # noqa: A002, N802 - the library's names
        return f"fn-{list(self.footnotes).index(id) + 1}"

    def makeFootnoteRefId(self, id: str, found: bool = False) -> str:  # noqa: A002, N802
        number = list(self.footnotes).index(id) + 1
        return str(self.unique_ref(f"fnref-{number}", found))


class _PlainProse(Extension):
    """Nothing passes as HTML, every link is known, and lists are read as people write them."""

    def __init__(self, found: _TagsAndLinks) -> None:
        super().__init__()
        self.found = found

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802 - the library's name
        md.ESCAPED_CHARS = sorted({*md.ESCAPED_CHARS, *punctuation})
        md.preprocessors.deregister("html_block")
        md.preprocessors.register(_ListIndents(md), "lists", 22)
        patterns = md.inlinePatterns
        for pattern in ("autolink", "automail", "html"):
            patterns.deregister(pattern)
        patterns.register(SubstituteTagInlineProcessor(r"\\\n", "br"), "hard-break", 185)
        patterns.register(SimpleTagInlineProcessor(r"(~~)(.+?)~~", "s"), "no-longer", 55)
        patterns.register(_Autolink(_AUTOLINK, md), "autolink", 120)
        patterns.register(_Mail(_MAIL, md), "automail", 110)
        patterns.register(_Tag(_TAG, md, self.found), "html", 90)
        md.treeprocessors.register(_Tidy(md, self.found), "tidy", 12)
        md.postprocessors.register(_VisibleReferences(md), "seen", 0)


class _ListIndents(Preprocessor):
    def run(self, lines: list[str]) -> list[str]:
        return set_in_by_four(lines)


class _Autolink(InlineProcessor):
    def handleMatch(  # type: ignore[override]  # noqa: N802 - the library's name
        self,
        m: re.Match[str],
        data: str,  # noqa: ARG002 - the library's signature
    ) -> tuple[Element, int, int]:
        link = Element("a", href=self._address(m[1]))
        link.text = AtomicString(m[1])
        return link, m.start(0), m.end(0)

    def _address(self, written: str) -> str:
        return self.unescape(written)


class _Mail(_Autolink):
    def _address(self, written: str) -> str:
        return f"mailto:{self.unescape(written)}"


class _Tag(InlineProcessor):
    """Keeps what looks like HTML as text, and remembers it."""

    def __init__(self, pattern: str, md: Markdown, found: _TagsAndLinks) -> None:
        super().__init__(pattern, md)
        self.found = found

    def handleMatch(  # type: ignore[override]  # noqa: N802 - the library's name
        self,
        m: re.Match[str],
        data: str,  # noqa: ARG002 - the library's signature
    ) -> tuple[str, int, int]:
        self.found.tags.append(m[1])
        return m[1], m.start(0), m.end(0)


class _Tidy(Treeprocessor):
    """Makes links safe and single, pictures links, and leaves no style or class of the author's."""

    def __init__(self, md: Markdown, found: _TagsAndLinks) -> None:
        super().__init__(md)
        self.found = found

    def run(self, root: Element) -> None:
        self._referred = {f"#{mark.get('id')}" for mark in root.iter("sup")}
        self._within(root, in_link=False)

    def _within(self, parent: Element, *, in_link: bool) -> None:
        for element in parent:
            if element.tag == "img":
                self._as_link(element)
            if element.tag == "a":
                self._link(element, in_link=in_link)
            elif element.tag in {"td", "th"} and "align" in element.attrib:
                element.set("class", element.attrib.pop("align"))
            elif element.tag == "table" and parent.get("class") != _WIDE:
                _in_a_region(element)
            elif element.tag == "details" or "admonition" in element.get("class", "").split():
                _known_kind(element)
            self._within(element, in_link=in_link or element.tag == "a")

    @staticmethod
    def _as_link(picture: Element) -> None:
        """Name a picture and link to it, since a page may load nothing from elsewhere."""
        words, source = picture.get("alt", ""), picture.get("src", "")
        picture.tag, picture.attrib = "a", {"href": source}
        picture.text = AtomicString(words or source)

    def _link(self, link: Element, *, in_link: bool) -> None:
        address = "".join(filter(_is_seen, unescape(link.get("href", ""))))
        scheme = scheme_of(address)
        unsafe = bool(scheme) and scheme not in SAFE_SCHEMES
        if (unsafe or not in_link) and not link.get("class", "").startswith("footnote"):
            self.found.links.append(address)
        unasked = link.get("class") == "footnote-backref" and address not in self._referred
        if unasked:  # of a footnote that nothing refers to
            link.text = ""
        if in_link or unsafe or unasked:
            link.tag = "span"
            link.attrib.clear()
        else:
            link.set("href", address)


def _in_a_region(table: Element) -> None:
    """Let a table that is wider than a phone be moved, with the keyboard too."""
    inner = Element("table")
    inner.extend(table)
    names = ", ".join("".join(cell.itertext()) for cell in table.iter("th"))
    tail = table.tail
    table.clear()
    table.tag, table.tail = "div", tail
    table.attrib = {"class": _WIDE, "role": "region", "aria-label": names, "tabindex": "0"}
    table.append(inner)


def _known_kind(element: Element) -> None:
    """Mark a note as pressing or not, so that no other class of the style is met."""
    pressing = not _PRESSING.isdisjoint(element.get("class", "").split())
    element.set("class", "admonition pressing" if pressing else "admonition")


class _VisibleReferences(Postprocessor):
    """Takes out every character reference that shows nothing or turns the text around.

    Writes quotes outside of tags as references, so that no word looks like an attribute.
    """

    def run(self, text: str) -> str:
        seen = _ENTITY.sub(lambda m: m[0] if _is_seen(unescape(m[0])) else "", text)
        parts = _WHOLE_TAG.split(seen)
        parts[::2] = (words.replace('"', "&quot;") for words in parts[::2])
        return "".join(parts)


def _is_seen(signs: str) -> bool:
    """Whether there are any, and all can be seen; joiners count, which some scripts need."""
    unseen = (category(sign) in _UNSEEN and sign not in _JOINERS for sign in signs)
    return bool(signs) and not any(unseen)


def _words(html: str) -> str:
    """Give what is read of HTML that we wrote, in which no attribute holds a `>`."""
    without = _FOOTNOTE_MARKS.sub("", html)
    text = _TAGS.sub(lambda m: " " if m[1] in _APART else "", without)
    return " ".join(unescape(text).split())
