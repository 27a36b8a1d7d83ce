"""Sheets typeset as tagged PDF (ISO 14289-1, PDF/UA-1): the only module that knows Typst.

What a sheet says reaches the layout as JSON, so no text of the content is ever read as code;
the layout is `site_templates/sheets/`, and nothing else can be read.
The same sheet gives the same bytes on every run.
"""

from __future__ import annotations

import hashlib
import json
import os
import unicodedata
from collections.abc import Iterable
from functools import cache
from html import escape
from threading import local
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from handbook.domain.history import NO_HISTORY, History
from handbook.domain.imposition import saddle_stitched
from handbook.outputs.html.formatting import month_day_year
from handbook.outputs.html.words import texts_digest
from handbook.outputs.i18n import gettext, speaking
from handbook.outputs.i18n.languages import direction
from handbook.outputs.sheets.model import Imprint, Layout, MadeSheet
from handbook.outputs.sheets.nodes import nodes_of, steps_that_give, texts_of
from handbook.outputs.sheets.qr import qr_drawing
from handbook.outputs.sheets.typefaces import MUSIC, SIGNS, TEXT, Typefaces, typefaces
from handbook.records import dataclass
from handbook.resources import templates_folder

if TYPE_CHECKING:
    import typst

_MARK = "\x02"
_UNKNOWN = "?"
"""Set for a letter that no font has."""
_SIGNLESS = frozenset(map(chr, range(0xFE00, 0xFE10)))
"""Variation selectors, which only say how the letter before them looks (The Unicode Standard, 23.4)."""
_MARK_LETTERS = 6
_MOST_FOLDED = 48
"""More pages than can be folded into one another (common practice, no source)."""


_FULL = 250_000
"""Letters, by the square of their size in points, with which a page is mostly full: reckoned from the
demo, to begin with lines that are close. A wrong guess costs a layout more, and changes nothing."""


class SheetFaultError(Exception):
    """The typesetter did not take a sheet: a fault of ours, since its texts come as data."""


def imprint_of(
    path: str,
    words: str,
    site: str | None,
    history: History = NO_HISTORY,
    zone: ZoneInfo | None = None,
) -> Imprint:
    """Give what stands at the foot of a sheet: the site, and the publication since which it says so.

    `words` is the digest of what it says, `site` the full address of the site, `zone` that of
    the school.
    """
    changed = history.page_changed(path, words)
    found = next((one for one in history.standing if one.instant == changed), None)
    if found is None or zone is None:
        return Imprint(site or "")
    return Imprint(site or "", found.number, found.instant.astimezone(zone).date())


def words_digest(sheet: MadeSheet) -> str:
    """Give the digest of all that a sheet says by itself. SHA-256, in hex.

    It is asked of each sheet of a build, also of those that are kept, so the HTML is not read as a tree.
    """
    return texts_digest(f"<title>{escape(sheet.title)}</title>{sheet.html}".encode())


def words_marks(sheet: MadeSheet) -> tuple[str, ...]:
    """Give a short mark of what each page of the layout `pages` says, or of what the whole sheet says.

    Six digits of the digest: of the few versions that one page ever has, two are hardly the same.
    """
    nodes = nodes_of(sheet.html)
    parts = [[node] for node in nodes] if sheet.layout is Layout.PAGES else [nodes]
    return tuple(_digest(part)[:_MARK_LETTERS] for part in parts)


def _digest(nodes: Iterable[object]) -> str:
    words = " ".join(" ".join(texts_of(list(nodes))).split())
    return hashlib.sha256(words.encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class Printed:
    """A sheet as PDF; `lent` if it has letters that only fonts of the machine could have."""

    content: bytes
    lent: bool


def typeset(sheet: MadeSheet, imprint: Imprint) -> bytes:
    """Make the PDF of a sheet. Raises SheetFaultError."""
    return printed(sheet, imprint).content


def printed(sheet: MadeSheet, imprint: Imprint) -> Printed:
    """Make the PDF of a sheet, and tell whether another machine could make another. Raises SheetFaultError."""
    nodes = nodes_of(sheet.html)
    address = f"{imprint.site}{sheet.page}" if imprint.site else ""
    with speaking(sheet.spoken):
        foot = _foot(imprint)
        marks = list(map(version, imprint.marks))
        pages = _page_count()
    said = [*nodes, sheet.title, sheet.head, sheet.notice, imprint.of, *foot, *marks]
    words = "".join(texts_of(said))
    fonts, lacking = _fonts_for(words, sheet.languages)
    unknown = frozenset(one for one in lacking if one in _SIGNLESS or not _is_lent(one))
    steps = list(map(steps_that_give, nodes))
    gives = max(steps, default=0)
    data = {
        "title": sheet.title,
        "language": sheet.language,
        "direction": direction(sheet.language),
        "paper": {"letter": "us-letter"}.get(sheet.paper.value, sheet.paper.value),
        "points": sheet.points,
        "one_page": sheet.one_page,
        "gives": gives,
        "steps": steps,
        "full": gives > 0 or len(words) * sheet.points**2 > _FULL,
        "landscape": sheet.landscape,
        "folded": _folded(sheet) if sheet.layout is Layout.FOLDED else {},
        "layout": sheet.layout.value,
        "head": sheet.head,
        "notice": sheet.notice,
        "foot": foot or marks[:1],
        "marks": marks,
        "pages": pages,
        "code": qr_drawing(address) if address else "",
        "address": address.partition("//")[2].rstrip("/") or imprint.of,
        "text": fonts.text,
        "titles": fonts.title,
        "any_font": lacking > unknown,
        "signs": SIGNS,
        "more_signs": fonts.signs,
        "music": MUSIC,
        "nodes": nodes,
    }
    try:
        made = _typeset(_without(data, unknown), fonts, with_system=lacking > unknown)
    except SheetFaultError:
        if not lacking > unknown:
            raise
        # What the machine's fonts have one by one, they may lack where letters stand together.
        without = {**_without(data, lacking), "any_font": False}
        made = _typeset(without, fonts, with_system=False)
    return Printed(made, bool(lacking - _SIGNLESS))


def _fonts_for(words: str, languages: tuple[str, ...]) -> tuple[Typefaces, frozenset[str]]:
    """Give the typefaces for words, and the letters that none of ours has."""
    fonts = typefaces(languages)
    lacking = fonts.lacking(words)
    if not lacking:
        return fonts, lacking
    fonts = typefaces(languages, lacking)
    return fonts, fonts.lacking(words)


@cache
def _is_lent(letter: str) -> bool:
    """Whether a font of this machine has a letter: found by trying, in less than a millisecond."""
    rules = f'#set document(title: "A")\n#set text(font: "{TEXT}")\n'
    try:
        _compiled(f'{rules}#"a{letter}"'.encode(), typefaces(()), with_system=True)
    except SheetFaultError:
        return False
    return True


@cache
def machine_fonts() -> str:
    """Give a digest of the fonts that this machine has, by their places, sizes and times of change."""
    import typst  # noqa: PLC0415 - a site whose letters we have needs none

    found = typst.Fonts(include_system_fonts=True, include_embedded_fonts=False).fonts()
    told = [
        (path, (stat := os.stat(path)).st_size, stat.st_mtime_ns)  # noqa: PTH116
        for path in sorted({one.path for one in found if one.path})
    ]
    return hashlib.sha256(repr(told).encode()).hexdigest()


def _without(data: dict[str, Any], letters: frozenset[str]) -> dict[str, Any]:
    """Write a question mark for letters; those that only change the one before them go."""
    if not letters:
        return data
    spelled = {
        ord(one): "" if unicodedata.combining(one) or one in _SIGNLESS else _UNKNOWN
        for one in letters
    }
    respelled = _respelled(data, spelled)
    assert isinstance(respelled, dict)
    return respelled


def _respelled(value: Any, spelled: dict[int, str]) -> Any:
    """Write other letters for some in all texts of plain values."""
    if isinstance(value, str):
        return value.translate(spelled)
    if isinstance(value, dict):
        return {key: _respelled(one, spelled) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_respelled(one, spelled) for one in value]
    return value


@cache
def _sides(pages: int, *, turned: bool) -> list[tuple[int, int]]:
    sides = saddle_stitched(pages)
    return [(one.left, one.right) for one in (side.turned if turned else side for side in sides)]


def _folded(sheet: MadeSheet) -> dict[str, list[tuple[int, int]]]:
    """Give which pages stand beside each other in booklets of every size, by how many pages they have."""
    turned = direction(sheet.language) == "rtl"
    return {str(pages): _sides(pages, turned=turned) for pages in range(4, _MOST_FOLDED + 1, 4)}


def _foot(imprint: Imprint) -> list[str]:
    if imprint.number is None or imprint.day is None:
        return []
    day = month_day_year(imprint.day)
    # Translators: at the foot of a printed sheet: number and day of the publication it is from.
    return [gettext("No. %(number)s, %(day)s", number=imprint.number, day=day)]


def version(mark: str) -> str:
    """Say the mark of a sheet's words, by which an old sheet is told from a new one."""
    # Translators: at the foot of a printed sheet and in the list of sheets: a short mark of its words.
    return gettext("Version %(mark)s", mark=mark)


def _page_count() -> list[str]:
    """Give the words around the number of a page and that of all: "", "page", " of ", "pages", ""."""
    # Translators: at the foot of a printed sheet, as "1 of 3".
    words = gettext(
        "%(page)s of %(pages)s", page=f"{_MARK}page{_MARK}", pages=f"{_MARK}pages{_MARK}"
    )
    return words.split(_MARK)


def _typeset(data: dict[str, Any], fonts: Typefaces, *, with_system: bool) -> bytes:
    return _compiled(_main(data), fonts, with_system=with_system)


def _compiled(source: bytes, fonts: Typefaces, *, with_system: bool) -> bytes:
    import typst  # noqa: PLC0415 - a site whose sheets are kept needs none

    compiler = _compiler(fonts, with_system)
    try:
        made = compiler.compile(input=source, format="pdf", pdf_standards="ua-1", timestamp=0)
    except typst.TypstError as error:
        raise SheetFaultError(error.message) from error
    if not isinstance(made, bytes):
        raise SheetFaultError("no PDF")
    return made


def _main(data: dict[str, object]) -> bytes:
    """Write the call of the layout, with the data as a text, which Typst reads as nothing else.

    Not as inputs of the run: Typst keeps what it laid out for the next sheet only as long as
    these stay the same.
    """
    told = json.dumps(data, ensure_ascii=False).replace("\\", "\\\\").replace('"', '\\"')
    return f'#import "/sheet.typ": made\n#made(json(bytes("{told}")))\n'.encode()


class _Compilers(local):
    """The typesetters of a thread, each of which makes one sheet at a time."""

    def __init__(self) -> None:
        self.by_fonts: dict[tuple[Typefaces, bool], typst.Compiler] = {}


_COMPILERS = _Compilers()


def _compiler(fonts: Typefaces, with_system: bool) -> typst.Compiler:
    """Load the typesetter with the site's fonts; those of the system only for letters these lack."""
    found = _COMPILERS.by_fonts.get((fonts, with_system))
    if found is None:
        import typst  # noqa: PLC0415

        found = typst.Compiler(
            root=templates_folder() / "sheets",
            font_paths=_loaded(fonts, with_system),
            ignore_system_fonts=not with_system,
        )
        _COMPILERS.by_fonts[fonts, with_system] = found
    return found


@cache
def _loaded(fonts: Typefaces, with_system: bool) -> typst.Fonts:
    import typst  # noqa: PLC0415

    return typst.Fonts(
        include_system_fonts=with_system, include_embedded_fonts=False, font_paths=[fonts.folder]
    )
