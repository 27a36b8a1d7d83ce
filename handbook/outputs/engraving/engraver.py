"""Musical examples engraved for the page: the only module that knows Verovio.

The engraver is loaded on the first example, since checking and planning need none. One
example is engraved once in a process however many pages show it. Its ink is the page's
`currentColor`, so that light and dark need one drawing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from html import unescape
from importlib.resources import files
from typing import TYPE_CHECKING

from handbook.outputs.engraving.flat_svg import FlatSvg, Glyph, flatten
from handbook.outputs.engraving.rhythm_layout import RhythmExample
from handbook.outputs.engraving.rhythm_mei import rhythm_mei
from handbook.outputs.engraving.staff_mei import StaffExample, staff_mei

if TYPE_CHECKING:
    import verovio

Example = StaffExample | RhythmExample
Drawings = Mapping[Example, FlatSvg]

# With a seed the engraver names its groups alike on every run; what is published has no
# such names left, but a difference could not hide then either.
_SEED = 1
_ENGRAVED_KEPT = 4096

# The engraver would make room for what is said below the notes, and push these apart. It gets
# a dot in place of each word, and the words come back into the finished drawing.
_WORD = re.compile(r'(<harm xml:id="([^"]+)"[^>]*>)([^<]*)')
_STAND_IN = "."
_QUARTER = re.compile(r'spacing\.packfact="(\d+)"')

# With linear spacing, how many units the engraver gives a quarter note at a factor of 1.
_QUARTER_AT_ONE = 25600

_OPTIONS = {
    "xmlIdSeed": _SEED,
    "pageWidth": 10000,
    "pageHeight": 60000,
    "adjustPageHeight": True,
    "adjustPageWidth": True,
    "noJustification": True,
    "header": "none",
    "footer": "none",
    "mnumInterval": 0,
    "pageMarginTop": 0,
    "pageMarginBottom": 0,
    "pageMarginLeft": 0,
    "pageMarginRight": 0,
    "svgRemoveXlink": True,
    "svgFormatRaw": True,
}


class EngravingFaultError(Exception):
    """The engraver did not take an example: a fault of ours, since authors' slips are found before."""


_known: dict[Example, FlatSvg] = {}
_earlier: list[Callable[[], Drawings]] = []


def use_drawings(earlier: Callable[[], Drawings]) -> None:
    """Take drawings of the same program from before; asked for with the first new example."""
    _earlier[:] = [earlier]


def known_drawings() -> Drawings:
    """Give all drawings of this process, to be taken again."""
    return _known


def engraved(example: Example) -> FlatSvg:
    """Engrave an example; the same example gives the same bytes on every run.

    Raises EngravingFaultError if the engraver refuses it.
    """
    if example not in _known and _earlier:
        _known.update(_earlier.pop()())
    if example not in _known:
        if len(_known) >= _ENGRAVED_KEPT:
            _known.clear()
        _known[example] = _engraved(example)
    return _known[example]


def _engraved(example: Example) -> FlatSvg:
    if isinstance(example, StaffExample):
        return _drawn(staff_mei(example), "encoded")
    source = rhythm_mei(example)
    words = {name: unescape(word) for _, name, word in _WORD.findall(source)}
    found = _QUARTER.search(source)
    if found is None:
        raise EngravingFaultError(source)
    spacing = {
        "spacingNonLinear": 1.0,
        "spacingLinear": int(found[1]) / _QUARTER_AT_ONE,
        "rightMarginMeterSig": 2,  # the most there is
    }
    return _drawn(_WORD.sub(rf"\1{_STAND_IN}", source), "linear", spacing, words)


def _drawn(
    source: str,
    kind: str,
    spacing: dict[str, float] | None = None,
    words: dict[str, str] | None = None,
) -> FlatSvg:
    engraver = _engraver("encoded" if "<sb/>" in source else "none", kind)
    if spacing:
        engraver.setOptions(spacing)
    if not engraver.loadData(source):
        raise EngravingFaultError(source)
    return flatten(engraver.renderToSVG(1), words)


def sprite(drawings: Iterable[FlatSvg]) -> tuple[Glyph, ...]:
    """Collect the glyphs of all examples of a page, each once, in the order of their codes."""
    found = {glyph.code: glyph for drawing in drawings for glyph in drawing.glyphs}
    return tuple(found[code] for code in sorted(found))


@cache
def _engraver(breaks: str, _kind: str) -> verovio.toolkit:
    """Make an engraver; one that looks for line breaks takes twice the time over each example.

    Each kind of example has its own, for an engraver keeps the spacing it was last given.
    Where its fonts lie is told to each: the library knows that by itself only in the thread
    that loaded it, and without them an engraver refuses every example.
    """
    import verovio  # noqa: PLC0415 - thirty megabytes that checking does not need

    verovio.enableLog(verovio.LOG_OFF)
    engraver = verovio.toolkit(False)  # noqa: FBT003 - initFont, which has no keyword
    engraver.setResourcePath(str(files("verovio") / "data"))
    engraver.setOptions({**_OPTIONS, "breaks": breaks})
    return engraver
