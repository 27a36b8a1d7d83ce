"""Engraved music made small: one flat list of shapes instead of nested groups.

An engraver's SVG names every note's group and carries its glyphs and styles with it. A
page needs the ink alone, and each glyph once however many examples stand on it, so
glyphs are told apart by their SMuFL code point and kept beside the shapes.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from markupsafe import Markup, escape

from handbook.outputs.engraving.corrections import mend

_SVG = "{http://www.w3.org/2000/svg}"
_NUMBERS = re.compile(r"-?\d+(?:\.\d+)?")
_LINE = re.compile(r"M(-?\d+) (-?\d+) L(-?\d+) (-?\d+)\s*")
_CODE = re.compile(r"#?(E[0-9A-F]{3})")
_PASSED_OVER = frozenset({"placeholder", "mNum"})  # measure numbers of an example mean nothing
_FLIPPED = "scale(1,-1)"
_NO_FILL = ' fill="none"'
_HALF_NOTEHEAD = 108  # units; words stand centred under the note


class UnknownShapeError(Exception):
    """The engraver drew something that is not known here: a fault of ours."""


@dataclass(frozen=True, slots=True)
class Glyph:
    """A sign of the music font: SMuFL code point and outline, y upward, 1000 to the em."""

    code: str
    path: str


@dataclass(frozen=True, slots=True)
class FlatSvg:
    """Shapes in a box of `width` by `height` units, 180 units from staff line to staff line."""

    width: int
    height: int
    shapes: Markup
    glyphs: tuple[Glyph, ...]


@dataclass(slots=True)
class _Ink:
    """What has been collected: path data by pen, then everything else."""

    lines: dict[tuple[str, bool], list[str]] = field(default_factory=dict)
    others: list[str] = field(default_factory=list)

    def line(self, data: str, pen: str, *, filled: bool = True) -> None:
        self.lines.setdefault((pen, filled), []).append(data)

    def markup(self) -> Markup:
        paths = "".join(
            f'<path d="{"".join(data)}"{_pen(pen)}{_NO_FILL if not filled else ""}/>'
            for (pen, filled), data in sorted(self.lines.items())
        )
        return Markup(paths + "".join(self.others))  # noqa: S704 - words are escaped, all else is the engraver's


def _pen(width: str) -> str:
    return f' stroke-width="{width}"' if width != "0" else ' stroke="none"'


def flatten(svg: str, words: Mapping[str, str] | None = None) -> FlatSvg:
    """Flatten an engraving; the same engraving gives the same bytes.

    `words` replace the text of the groups whose names they stand under.

    Raises UnknownShapeError for elements that no example has needed so far.
    """
    root = ET.fromstring(svg)  # noqa: S314 - made by the engraver a moment ago, not fetched
    glyphs = tuple(_glyphs(root))
    page = root.find(f"{_SVG}svg")
    if page is None:
        raise UnknownShapeError("no page in the engraving")
    _, _, width, height = (int(float(number)) for number in page.attrib["viewBox"].split())
    mend(page, words or {})
    ink = _Ink()
    for element in page:
        _collect(element, ink)
    return FlatSvg(width, height, ink.markup(), tuple(sorted(glyphs, key=lambda one: one.code)))


def _glyphs(root: ET.Element) -> Iterator[Glyph]:
    for definition in root.iterfind(f"{_SVG}defs/{_SVG}g"):
        outline = definition.find(f"{_SVG}path")
        if outline is None or outline.get("transform") != _FLIPPED:
            raise UnknownShapeError(f"glyph {definition.get('id')} is not as expected")
        yield Glyph(_code(definition.get("id", "")), outline.get("d", ""))


def _code(text: str) -> str:
    found = _CODE.match(text)
    if found is None:
        raise UnknownShapeError(f"`{text}` is no glyph of the music font")
    return found[1]


def _collect(element: ET.Element, ink: _Ink) -> None:
    kind = element.tag.removeprefix(_SVG)
    if kind == "g":
        if _PASSED_OVER & set(element.get("class", "").split()):
            return
        if not _moves_nothing(element.get("transform")):
            raise UnknownShapeError(f"a group moved by {element.get('transform')}")
        for child in element:
            _collect(child, ink)
    else:
        _SHAPES.get(kind, _unknown)(element, ink)


def _moves_nothing(transform: str | None) -> bool:
    return transform is None or all(float(part) == 0 for part in _NUMBERS.findall(transform))


def _unknown(element: ET.Element, _ink: _Ink) -> None:
    raise UnknownShapeError(f"`{element.tag.removeprefix(_SVG)}` is not expected in an engraving")


def _use(element: ET.Element, ink: _Ink) -> None:
    x, y, size, _ = _NUMBERS.findall(element.get("transform", ""))
    ink.others.append(
        f'<use href="#m-{_code(element.get("href", ""))}" '
        f'transform="translate({x} {y})scale({size.removeprefix("0")})"/>'
    )


def _path(element: ET.Element, ink: _Ink) -> None:
    data, pen = element.get("d", ""), element.get("stroke-width", "0")
    straight = _LINE.fullmatch(data)
    if straight:
        x1, y1, x2, y2 = straight.groups()
        rest = f"H{x2}" if y1 == y2 else f"V{y2}" if x1 == x2 else f"L{x2} {y2}"
        ink.line(f"M{x1} {y1}{rest}", pen, filled=False)
    else:
        ink.line(" ".join(data.split()), pen)


def _polygon(element: ET.Element, ink: _Ink) -> None:
    ink.line(f"M{'L'.join(element.get('points', '').split())}z", "0")


def _polyline(element: ET.Element, ink: _Ink) -> None:
    points = "L".join(element.get("points", "").split())
    ink.line(f"M{points}", element.get("stroke-width", "0"), filled=False)


def _ellipse(element: ET.Element, ink: _Ink) -> None:
    x, y, radius = (element.get(name, "") for name in ("cx", "cy", "rx"))
    ink.others.append(f'<circle cx="{x}" cy="{y}" r="{radius}"/>')


def _rect(element: ET.Element, ink: _Ink) -> None:
    x, y, width, height = (element.get(name, "0") for name in ("x", "y", "width", "height"))
    ink.line(f"M{x} {y}h{width}v{height}h-{width}z", "0")


def _text(element: ET.Element, ink: _Ink) -> None:
    words = "".join(element.itertext()).strip()
    if not words:
        return
    positioned = next(part for part in element.iter() if part.get("x"))
    x = int(float(positioned.get("x", "0")))
    centred = x if positioned.get("text-anchor") == "middle" else x + _HALF_NOTEHEAD
    ink.others.append(
        f'<text x="{centred}" y="{int(float(positioned.get("y", "0")))}">{escape(words)}</text>'
    )


_SHAPES = {
    "use": _use,
    "path": _path,
    "polygon": _polygon,
    "polyline": _polyline,
    "ellipse": _ellipse,
    "rect": _rect,
    "text": _text,
}
