"""Texts that are not in the language of their page: marked where they are said, told in the HTML.

A mark goes with the text through whatever is made of it, and is turned into an element with the
text's own language once the page is whole. Where no element may stand it is taken out.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from handbook.outputs.i18n.languages import direction
from handbook.records import dataclass

OPEN, PARTING, CLOSE = "\ue000", "\ue001", "\ue002"
"""A marked text is `OPEN code PARTING text CLOSE`; of private use (Unicode 23.5), as in no content."""

_CODE = re.compile(f"{OPEN}[^{PARTING}{CLOSE}<]*{PARTING}")
_MARKS = re.compile(f"{OPEN}[^{PARTING}{CLOSE}<]*{PARTING}|[{OPEN}{PARTING}{CLOSE}]")
_WHOLE = re.compile(f"{OPEN}([^{PARTING}]*){PARTING}([^{OPEN}{CLOSE}]*){CLOSE}")
# Where HTML lets no element stand, or where it would be read as something else (HTML Standard,
# 13.2.6.5: a span in SVG ends it).
_NO_ELEMENTS = ("svg", "script", "style", "option", "title", "textarea")
_BLOCK = re.compile(r"\s*<(?:p|ul|ol|dl|div|table|blockquote|pre|h[1-6]|hr|details)\b")
_TAG = re.compile(r"<(/?)[a-zA-Z][^<>]*?(/?)>")
_EMPTY = re.compile(r"<(?:br|img|input|wbr|hr|source)\b")
_SENTENCE_WORDS = 4
"""What has fewer words is most often a name, which nobody expects to be translated."""


@dataclass(frozen=True, slots=True)
class ToldHtml:
    """HTML without marks; `languages` are those of more than names and titles in it."""

    html: str
    languages: frozenset[str] = frozenset()


def marked(words: str, language: str) -> str:
    """Mark words as those of a language."""
    return f"{OPEN}{language}{PARTING}{words}{CLOSE}" if words else ""


def bare(words: str) -> str:
    """Take all marks out."""
    return _MARKS.sub("", words) if OPEN in words or CLOSE in words else words


def within(words: str, change: Callable[[str], str]) -> str:
    """Change words, and leave the mark around all of them as it is."""
    found = _WHOLE.fullmatch(words)
    return marked(change(found[2]), found[1]) if found else change(words)


def told(html: str, page_language: str) -> ToldHtml:
    """Turn marks in HTML into elements, and take out those in attributes."""
    if OPEN not in html:
        return ToldHtml(html)
    for tag in _NO_ELEMENTS:
        html = _bare_within(html, tag)
    turned = direction(page_language)
    made, languages, at = list[str](), set[str](), 0
    while (start := html.find(OPEN, at)) >= 0:
        made.append(html[at:start])
        code = _CODE.match(html, start)
        at = code.end() if code else start + 1
        if code is None or html.rfind("<", 0, start) > html.rfind(">", 0, start):
            continue
        end = _end(html, at)
        words, language = html[at:end], code[0][1:-1]
        kind = "div" if _BLOCK.match(words) else "span"
        own = direction(language)
        turn = f' dir="{own}"' if own != turned else ""
        made.append(f'<{kind} lang="{language}"{turn}>{words}</{kind}>')
        if len(words.split()) >= _SENTENCE_WORDS and not _is_kept(html, start):
            languages.add(language)
        at = end
    made.append(html[at:])
    return ToldHtml(bare("".join(made)), frozenset(languages))


def _is_kept(html: str, start: int) -> bool:
    """Whether a title or an address begins there, which no translator may change."""
    return 'translate="no"' in html[html.rfind("<", 0, start) : start]


def _bare_within(html: str, tag: str) -> str:
    """Take out the marks in each element of a kind; drawings are long, so no pattern looks through them."""
    made, at = list[str](), 0
    while (start := html.find(f"<{tag}", at)) >= 0:
        end = html.find(f"</{tag}>", start)
        end = len(html) if end < 0 else end
        made += (html[at:start], bare(html[start:end]))
        at = end
    return "".join((*made, html[at:])) if made else html


def _end(html: str, start: int) -> int:
    """Find where a marked text ends: at its mark, unless it was cut or ends within another element."""
    end = html.find(CLOSE, start)
    following = html.find(OPEN, start)
    if end >= 0 and (following < 0 or end < following) and _is_whole(html[start:end]):
        return end
    tag = html.find("<", start)
    ends = [place for place in (tag, following, end) if place >= 0]
    return min(ends, default=len(html))


def _is_whole(html: str) -> bool:
    """Whether every element that begins in a piece of HTML ends in it, and none else does."""
    depth = 0
    for tag in _TAG.finditer(html):
        if tag[2] or _EMPTY.match(tag[0]):
            continue
        depth += -1 if tag[1] else 1
        if depth < 0:
            return False
    return depth == 0
