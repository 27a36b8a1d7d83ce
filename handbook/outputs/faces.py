"""Typefaces for letters that the site's own lack, cut to what the pages of a language write.

The sources lie in `site_templates/faces`, and none is published as it is. What is made of them
stands behind the site's own typefaces, so that English words and figures look alike in all
languages. Chinese, Japanese and Korean are left to the device, which has faces for them: a page
would need from 100 to 150 kilobytes more.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Iterable, Iterator
from functools import cache
from io import BytesIO

from handbook.domain.tables.letters import LANGUAGES
from handbook.outputs import addresses
from handbook.outputs.i18n.catalogues import catalogue_text
from handbook.outputs.model import OutputFile
from handbook.records import dataclass
from handbook.resources import templates_folder

STYLE = "faces.css"
_FONTS = "fonts/"
_LATIN_1 = 0xFF
"""The last letter that the site's own typefaces surely have; they have other signs, but no letters."""
_NAMES_KEPT = (0, 13, 14)
"""Copyright, license and its address, which the SIL Open Font License wants in each copy."""


@dataclass(frozen=True, slots=True)
class Source:
    """A typeface by its file; `weights` and `size` are as CSS has them, `size` beside the site's own."""

    file: str
    weights: str = "200 800"
    size: str = ""

    @property
    def license(self) -> str:
        """The name of the file with its license."""
        return f"{self.file.partition('.')[0]}-OFL.txt"


@dataclass(frozen=True, slots=True)
class Faces:
    """What a writing system needs; of two sources that have a letter the first gives it.

    The `alphabet` is always there, since readers type, too. Without `title` the typeface of the
    text serves for both.
    """

    text: tuple[Source, ...]
    title: tuple[Source, ...] = ()
    alphabet: str = ""


# Letters of each as Unicode CLDR has them (exemplar characters), less those of Latin-1.
_LATIN = "ĀāĂăĄąĆćĊċČčĎďĐđĒēĖėĘęĚěĞğĠġĢģĦħĪīĮįİıĶķĹĺĻļĽľŁłŃńŅņŇňŌōŐőŔŕŘřŚśŞşŠšŢţŤťŪūŮůŰűŲųŴŵŶŷŸŹźŻżŽžȘșȚț"
_VIETNAMESE = "ĂăĐđĨĩŨũƠơƯư" + "".join(
    unicodedata.normalize("NFC", vowel + tone)
    for vowel in "aăâeêioôơuưyAĂÂEÊIOÔƠUƯY"
    for tone in "\u0300\u0301\u0303\u0309\u0323"
)
_CYRILLIC = "".join(map(chr, range(0x400, 0x460))) + "Ґґ"
_ARABIC = "".join(map(chr, (*range(0x621, 0x63B), *range(0x640, 0x653), 0x670))) + "،؛؟٪"

_NOTO_SIZE = "92.5%"  # its x-height of 536 becomes the 496 of the text's typeface
_OWN_LATIN = Source("atkinson-hyperlegible-next.latin.woff2")
_TITLE_LATIN = Source("fraunces.latin.woff2", "580")
_BY_SCRIPT = {
    "Latin": Faces((_OWN_LATIN,), (_TITLE_LATIN,), _LATIN),
    "Vietnamese": Faces(
        (
            _OWN_LATIN,
            Source("noto-sans.vietnamese.woff2", size=_NOTO_SIZE),
        ),
        (_TITLE_LATIN, Source("fraunces.vietnamese.woff2", "580")),
        _VIETNAMESE,
    ),
    "Cyrillic": Faces((Source("noto-sans.cyrillic.woff2", size=_NOTO_SIZE),), alphabet=_CYRILLIC),
    "Arabic": Faces(
        (Source("noto-sans-arabic.arabic.woff2"),),
        (Source("noto-naskh-arabic.arabic.woff2", "200 800"),),
        _ARABIC,
    ),
}
_SCRIPT_OF = {one: script for script, several in LANGUAGES.items() for one in several}


def faces_of(language: str) -> Faces | None:
    """Give what a language (BCP 47) needs beside the site's own typefaces; None for nothing."""
    primary, *more = language.lower().split("-")
    return None if "latn" in more else _BY_SCRIPT.get(_SCRIPT_OF.get(primary, ""))


def all_faces() -> tuple[Faces, ...]:
    """Give what there is for all writing systems, the Latin letters of our own typefaces first."""
    return tuple(_BY_SCRIPT.values())


def first_fonts(language: str) -> tuple[str, ...]:
    """Name the fonts that most pages of a language need, by their places beside `STYLE`."""
    faces = faces_of(language)
    return tuple(map(_place, (*faces.text, *faces.title))) if faces else ()


def letters_of(text: str) -> str:
    """Give the characters in a text that the site's own typefaces may lack, each once, in order."""
    return "".join(sorted(one for one in set(text) if ord(one) > _LATIN_1))


def faces_for(
    language: str, letters: Iterable[str], folder: str = addresses.ASSETS
) -> tuple[OutputFile, ...]:
    """Make the style sheet and the fonts of a language; nothing for one that needs none.

    The fonts have the `letters` beside the alphabet and those of our own messages. The same
    letters give the same bytes.
    """
    faces = faces_of(language)
    if faces is None:
        return ()
    wanted = {*faces.alphabet, *letters_of(catalogue_text(language).decode()), *letters}
    rules, made = list[str](), dict[str, bytes]()
    for family, sources in (("More", faces.text), ("More Title", faces.title)):
        left = set(wanted)
        for source in sources:
            own = sorted(left & _letters(source.file))
            left.difference_update(own)
            made[_place(source)] = _cut(source.file, own)
            rules.append(_rule(family, source, own))
    used = {source.license for source in (*faces.text, *faces.title)}
    return (
        OutputFile(f"{folder}{STYLE}", "".join((_stack(faces), *rules)).encode()),
        *(OutputFile(f"{folder}{place}", font) for place, font in made.items()),
        *(OutputFile(f"{folder}{_FONTS}{name}", text) for name, text in _licenses(used)),
    )


def _stack(faces: Faces) -> str:
    title = '"Handbook More Title",' if faces.title else ""
    return f':root{{--more-text:"Handbook More",;--more-title:{title}"Handbook More",}}\n'


def _rule(family: str, source: Source, letters: Iterable[str]) -> str:
    size = f"size-adjust:{source.size};" if source.size else ""
    return (
        f'@font-face{{font-family:"Handbook {family}";src:url({_place(source)}) format("woff2");'
        f"font-weight:{source.weights};font-display:optional;{size}"
        f"unicode-range:{_ranges(letters)}}}\n"
    )


def _ranges(letters: Iterable[str]) -> str:
    """Write letters in order as ranges: `U+102-103,U+1EA0`."""
    runs = list[list[int]]()
    for one in map(ord, letters):
        if runs and one == runs[-1][1] + 1:
            runs[-1][1] = one
        else:
            runs.append([one, one])
    return ",".join(f"U+{a:X}" if a == b else f"U+{a:X}-{b:X}" for a, b in sorted(runs))


def _place(source: Source) -> str:
    """Give the place of a font beside the style sheet."""
    return f"{_FONTS}{source.file.removesuffix('.woff2').replace('.', '-')}.woff2"


def _licenses(names: Collection[str]) -> Iterator[tuple[str, bytes]]:
    """Give those that do not lie beside the site's own typefaces already."""
    folder = templates_folder() / "faces"
    found = ((name, folder / name) for name in sorted(names))
    return ((name, path.read_bytes()) for name, path in found if path.is_file())


@cache
def _letters(file: str) -> frozenset[str]:
    """Give the letters of a source."""
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - a third of a second, for few sites

    with TTFont(templates_folder() / "faces" / file, lazy=True) as font:
        return frozenset(map(chr, font.getBestCmap()))


def _cut(file: str, letters: Iterable[str]) -> bytes:
    """Cut a font to letters and what they are joined by, as WOFF 2."""
    from fontTools.subset import Options, Subsetter  # noqa: PLC0415 - as above
    from fontTools.ttLib import TTFont  # noqa: PLC0415

    options = Options(
        layout_features=["*"],
        hinting=False,
        name_IDs=[*_NAMES_KEPT],
        drop_tables=["BASE", "DSIG", "MVAR", "STAT", "VORG", "vhea", "vmtx"],
    )
    cut, made = Subsetter(options), BytesIO()
    with TTFont(templates_folder() / "faces" / file, recalcTimestamp=False) as font:
        cut.populate(text="".join(letters))
        cut.subset(font)
        font.flavor = "woff2"
        font.save(made)
    return made.getvalue()
