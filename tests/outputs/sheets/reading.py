"""What a PDF holds, read by libraries that have no part in making it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

import pikepdf
import pypdf


@dataclass(frozen=True)
class Letters:
    """A run of text: what it says, how large it is in points, in which font, where it begins across and up the page."""

    text: str
    points: float
    font: str
    x: float
    y: float


@dataclass
class Element:
    """An element of the structure tree (ISO 32000-1, 14.7): its type and those in it."""

    kind: str
    alt: str = ""
    language: str = ""
    children: list[Element] = field(default_factory=list)

    def walk(self) -> Iterator[Element]:
        yield self
        for child in self.children:
            yield from child.walk()


def page_texts(content: bytes) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(BytesIO(content)).pages]


def words_of(text: str) -> str:
    """Leave of a text what is compared: words, not where lines break."""
    return re.sub(r"\s+", " ", text.replace("\u00a0", " ").replace("\u00ad", "")).strip()


def runs(content: bytes) -> list[Letters]:
    found: list[Letters] = []

    def take(text: str, _cm: Any, matrix: Any, font: Any, size: float) -> None:
        if text.strip():
            scale = abs(matrix[3]) or abs(matrix[1])
            found.append(
                Letters(
                    text,
                    size * scale * abs(_cm[3]),
                    str((font or {}).get("/BaseFont", "")),
                    float(_cm[4] + matrix[4]),
                    float(_cm[5] + _cm[3] * matrix[5]),
                )
            )

    for page in pypdf.PdfReader(BytesIO(content)).pages:
        page.extract_text(visitor_text=take)
    return found


def structure(content: bytes) -> Element:
    with pikepdf.open(BytesIO(content)) as pdf:
        return _element(pdf.Root.StructTreeRoot)


def _element(node: Any) -> Element:
    made = Element(
        str(node.get("/S", "/Root")).lstrip("/"),
        str(node.get("/Alt", "")),
        str(node.get("/Lang", "")),
    )
    children = node.get("/K", [])
    for child in children if isinstance(children, pikepdf.Array) else [children]:
        if isinstance(child, pikepdf.Dictionary) and "/S" in child:
            made.children.append(_element(child))
    return made


def fonts_embedded(content: bytes) -> dict[str, bool]:
    """Tell of each font whether its file is within (ISO 32000-1, 9.9)."""
    found: dict[str, bool] = {}
    with pikepdf.open(BytesIO(content)) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/FontDescriptor":
                found[str(thing.FontName)] = any(
                    name in thing for name in ("/FontFile", "/FontFile2", "/FontFile3")
                )
    return found


def metadata(content: bytes) -> dict[str, str]:
    with pikepdf.open(BytesIO(content)) as pdf:
        info = {str(name): str(value) for name, value in pdf.docinfo.items()}
        with pdf.open_metadata(set_pikepdf_as_editor=False) as xmp:
            return info | {str(name): str(value) for name, value in xmp.items()}
