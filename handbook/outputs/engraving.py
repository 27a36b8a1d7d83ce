"""Musical examples engraved for the page: the only module that knows Verovio.

The engraver is loaded on the first example, since checking and planning need none. One
example is engraved once in a process however many pages show it. Its ink is the page's
`currentColor`, so that light and dark need one drawing.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from handbook.outputs.flat_svg import FlatSvg, Glyph, flatten
from handbook.outputs.mei import RhythmExample, StaffExample, rhythm_mei, staff_mei

if TYPE_CHECKING:
    import verovio

# With a seed the engraver names its groups alike on every run; what is published has no
# such names left, but a difference could not hide then either.
_SEED = 1
_ENGRAVED_KEPT = 4096

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


@lru_cache(maxsize=_ENGRAVED_KEPT)
def engraved(example: StaffExample | RhythmExample) -> FlatSvg:
    """Engrave an example; the same example gives the same bytes on every run.

    Raises EngravingFaultError if the engraver refuses it.
    """
    source = staff_mei(example) if isinstance(example, StaffExample) else rhythm_mei(example)
    engraver = _engraver("encoded" if "<sb/>" in source else "none")
    if not engraver.loadData(source):
        raise EngravingFaultError(source)
    return flatten(engraver.renderToSVG(1))


def sprite(drawings: Iterable[FlatSvg]) -> tuple[Glyph, ...]:
    """Collect the glyphs of all examples of a page, each once, in the order of their codes."""
    found = {glyph.code: glyph for drawing in drawings for glyph in drawing.glyphs}
    return tuple(found[code] for code in sorted(found))


@cache
def _engraver(breaks: str) -> verovio.toolkit:
    """Make an engraver; one that looks for line breaks takes twice the time over each example."""
    import verovio  # noqa: PLC0415 - thirty megabytes that checking does not need

    verovio.enableLog(verovio.LOG_OFF)
    engraver = verovio.toolkit()
    engraver.setOptions({**_OPTIONS, "breaks": breaks})
    return engraver
