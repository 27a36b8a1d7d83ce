"""What a sheet's template wrote, as a tree of plain values for the typesetter.

A template writes HTML with the macros of pages. Of it are kept: headings, paragraphs, lists,
tables, groups with their classes, texts with their language, drawings with what they are
called, and links that lead out of the site. What needs a screen (scripts, buttons, boxes to
tick by a tap, what is hidden) is left out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html import escape
from html.parser import HTMLParser

Node = dict[str, object]
"""An element: `t` its tag, and where it has some `k` its classes, `l` and `d` its language and
direction, `h` where it leads, `n` a number of columns, `a` what a drawing is called, `g` that
something in it may give way, `c` what is in it, texts and elements."""

_LEFT_OUT = frozenset({
    "audio", "button", "datalist", "dialog", "fieldset", "form", "legend", "link", "noscript",
    "script", "select", "style", "summary", "template", "textarea", "video",
})  # fmt: skip
_VOID = frozenset({"br", "hr", "img", "input", "wbr", "link", "meta", "source", "col"})
_SAME = {
    "strong": "b",
    "em": "i",
    "article": "div",
    "header": "div",
    "footer": "div",
    "main": "div",
}
_KNOWN = frozenset({
    "h1", "h2", "h3", "h4", "p", "ul", "ol", "li", "dl", "dt", "dd", "table", "caption", "thead",
    "tbody", "tfoot", "tr", "th", "td", "b", "i", "span", "small", "br", "hr", "div", "section",
    "figure", "figcaption", "svg", "a", "sup", "sub", "blockquote",
})  # fmt: skip
_IN_LINE = frozenset(
    {"b", "i", "span", "small", "a", "sup", "sub", "#text", "br", "wbr", "svg", "box"}
)
_HIDDEN_CLASSES = frozenset({"vh", "screen-only"})
_OUTWARD = ("https:", "http:", "tel:", "mailto:")
_OPEN_HEADS = "<style>.open{fill:none;stroke:#000;stroke-width:1.1}</style>"
"""What a page's styles do with the heads of notes that are not filled."""
_GIVES = "gives-"
_LONGEST = 25
"""Letters of a word that fit into a third of a page in 12 points, or nearly."""
_PIECE = 12
"""Letters after which a longer word may go on in the next line: as many as a day of a month has room for."""
_LONG_WORD = re.compile(rf"[^ \u00a0]{{{_LONGEST + 1},}}")
_MARKS = ".@_/"
_SPACE = re.compile(r"[ \t\r\n\f]+")


@dataclass(slots=True)
class _Opened:
    """An element that is not closed yet; a `hidden` one and all that is in it is left out."""

    tag: str
    node: Node
    hidden: bool


class _SheetReader(HTMLParser):
    """Reads the HTML of our own templates, which close what they open."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root: Node = {"t": "div", "c": []}
        self._open = [_Opened("", self.root, hidden=False)]
        self._svg: list[str] = []
        self._depth = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin an element."""
        given = {name: value or "" for name, value in attrs}
        if self._depth or tag == "svg":
            self._begin_drawing(tag, given)
            return
        if tag == "input" and given.get("type") == "checkbox":
            self._add({"t": "box"})
            return
        if tag in _VOID:
            if tag in _KNOWN:
                self._add({"t": tag})
            return
        hidden = self._open[-1].hidden or _is_hidden(tag, given)
        node = _node(tag, given)
        if not hidden:
            self._add(node)
        self._open.append(_Opened(tag, node, hidden))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Take an element that is empty."""
        if self._depth:
            self._svg.append(self.get_starttag_text() or "")
            return
        self.handle_starttag(tag, attrs)
        if tag not in _VOID:
            self.handle_endtag(tag)

    def handle_endtag(self, tag: str) -> None:
        """End an element."""
        if self._depth:
            self._svg.append(f"</{tag}>")
            self._depth -= tag == "svg"
            if not self._depth:
                self._end_drawing()
            return
        if tag in _VOID:
            return
        while len(self._open) > 1:
            if self._open.pop().tag == tag:
                break

    def handle_data(self, data: str) -> None:
        """Take a text."""
        if self._depth:
            self._svg.append(escape(data, quote=False))
        elif not self._open[-1].hidden:
            self._add(_SPACE.sub(" ", data))

    def _begin_drawing(self, tag: str, given: dict[str, str]) -> None:
        if not self._depth:
            self._svg = []
            called = given.get("aria-label", "")
            node: Node = {"t": "svg"}
            if given.get("class"):
                node["k"] = given["class"].split()
            node["a"] = "" if given.get("aria-hidden") == "true" else called
            self._open.append(_Opened("svg", node, self._open[-1].hidden))
        self._depth += tag == "svg"
        self._svg.append(self.get_starttag_text() or "")

    def _end_drawing(self) -> None:
        found = self._open.pop()
        found.node["s"] = _standing_alone("".join(self._svg))
        if not found.hidden:
            self._add(found.node)

    def _add(self, child: Node | str) -> None:
        inside = self._open[-1]
        if not inside.hidden:
            children = inside.node.setdefault("c", [])
            assert isinstance(children, list)
            children.append(child)


def nodes_of(html: str) -> list[Node | str]:
    """Read the HTML of a sheet; the same HTML gives the same tree."""
    reader = _SheetReader()
    reader.feed(html)
    reader.close()
    return _tidied(reader.root.get("c", []))


def texts_of(nodes: Iterable[object]) -> list[str]:
    """Give all texts of a tree in order, with what its drawings are called."""
    found = list[str]()
    _gather(nodes, found)
    return found


def _gather(nodes: Iterable[object], found: list[str]) -> None:
    for node in nodes:
        if isinstance(node, str):
            found.append(node)
        elif isinstance(node, dict):
            if "a" in node:
                found.append(node["a"])
            if "c" in node:
                _gather(node["c"], found)


def steps_that_give(nodes: object) -> int:
    """Give the highest number of what may give way where not all fits on one page: of classes `gives-1`, `gives-2`."""
    if isinstance(nodes, list):
        return max(map(steps_that_give, nodes), default=0)
    if not isinstance(nodes, dict) or "g" not in nodes:
        return 0
    own = (int(one[len(_GIVES) :]) for one in nodes.get("k", ()) if one.startswith(_GIVES))
    return max(*own, steps_that_give(nodes.get("c", [])), 0)


def _node(tag: str, given: dict[str, str]) -> Node:
    tag = _SAME.get(tag, tag)
    node: Node = {"t": tag if tag in _KNOWN else "span"}
    if given.get("class"):
        node["k"] = given["class"].split()
    for name, short in (("lang", "l"), ("dir", "d")):
        if given.get(name):
            node[short] = given[name]
    if tag == "a" and given.get("href", "").startswith(_OUTWARD):
        node["h"] = given["href"]
    for name, short in (("colspan", "n"), ("rowspan", "r"), ("start", "n")):
        if given.get(name, "").isdigit():
            node[short] = int(given[name])
    return node


def _is_hidden(tag: str, given: dict[str, str]) -> bool:
    return (
        tag in _LEFT_OUT
        or "hidden" in given
        or not _HIDDEN_CLASSES.isdisjoint(given.get("class", "").split())
    )


def _standing_alone(svg: str) -> str:
    """Let a drawing stand outside of a page, whose ink is black."""
    if "xmlns=" not in svg.partition(">")[0]:
        svg = svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
    if 'class="open"' in svg:
        head, end, rest = svg.partition(">")
        svg = f"{head}{end}{_OPEN_HEADS}{rest}"
    return svg.replace("currentColor", "#000")


def _tidied(children: object) -> list[Node | str]:
    """Leave out space between blocks, as a browser does; that at the edges of a line the typesetter drops.

    Space at the edge of a text is a text of its own, which the typesetter then need not look for.
    """
    assert isinstance(children, list)
    is_line = all(_is_in_line(child) for child in children)
    made: list[Node | str] = []
    for child in children:
        if isinstance(child, str):
            made += _parted(child) if is_line or child.strip() else []
            continue
        if "c" in child:
            child["c"] = _tidied(child["c"])
            if not _is_in_line(child) and not any(_says(one) for one in child["c"]):
                continue
        if _may_change(child):
            child["g"] = True
        made.append(child)
    return made


def _may_change(node: Node) -> bool:
    """Whether it, or something in it, gives way or stands in place of what did."""
    own, inside = node.get("k", ()), node.get("c", ())
    assert isinstance(own, (list, tuple))
    assert isinstance(inside, (list, tuple))
    return any(one == "instead" or one.startswith(_GIVES) for one in own) or any(
        not isinstance(one, str) and "g" in one for one in inside
    )


def _parted(words: str) -> list[Node | str]:
    bare = words.strip(" ")
    before, after = words.startswith(" "), words.endswith(" ") and bool(bare)
    inside = [bare] if _LONG_WORD.search(bare) is None else _breakable(bare)
    return [one for one in (" " * before, *inside, " " * after) if one]


def _breakable(words: str) -> Iterator[Node | str]:
    """Let a word that may be longer than a line, such as an address, go on in the next one.

    What stands there is an element, so that whoever copies the word has no letter of ours in it.
    """
    last = 0
    for word in _LONG_WORD.finditer(words):
        for place in _places(word[0]):
            yield words[last : word.start() + place]
            yield {"t": "wbr"}
            last = word.start() + place
    yield words[last:]


def _places(word: str) -> Iterator[int]:
    """Give where a long word may go on: behind its marks, and where it has none for long.

    What changes a letter stays with the letter, and no line begins with a mark.
    """
    last = 0
    for place, letter in enumerate(word):
        behind_mark = word[place - 1] in _MARKS if place else False
        if word[place - 1] == "-":
            last = place  # the typesetter parts words there by itself
        elif letter.isalnum() and (behind_mark or place - last >= _PIECE):
            yield place
            last = place


def _says(child: Node | str) -> bool:
    return not isinstance(child, str) or bool(child.strip())


def _is_in_line(child: Node | str) -> bool:
    return isinstance(child, str) or child["t"] in _IN_LINE
