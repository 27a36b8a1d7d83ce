"""The site's own typefaces for the typesetter, which takes neither WOFF2 nor variable fonts.

They are made once for a machine and kept in the user's cache; without such a place, for each run.
"""

from __future__ import annotations

import atexit
import hashlib
import os
import shutil
import tempfile
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from io import BytesIO
from itertools import chain
from pathlib import Path
from threading import Lock
from typing import Any

from handbook.domain.tables.letters import OWN_LATIN
from handbook.outputs.faces import Source, all_faces, faces_of
from handbook.records import dataclass
from handbook.resources import templates_folder
from handbook.store import own_folder

TEXT, TITLE = "Handbook Text", "Handbook Title"
SIGNS, MUSIC = "Handbook Signs", "Handbook Music"
_REGULAR, _BOLD = 400, 700
_WITH_MARK = frozenset({"Co", "Cn"})
"""Of what is not printable: private and unassigned characters, for which a font sets an empty box."""
_ON_PAPER = {
    "noto-sans-arabic.arabic.woff2": "vazirmatn.arabic",
    "noto-naskh-arabic.arabic.woff2": "vazirmatn.arabic",
}
"""What is set in place of a typeface whose fonts draw a letter's dots by themselves: a PDF would
say the letter once for each of its parts, to whoever copies it or has it read aloud."""
_PAPER = {
    "noto-sans.paper": (_REGULAR, _BOLD),
    "noto-sans-math.paper": (_REGULAR,),
    "noto-sans-symbols-2.paper": (_REGULAR,),
    "noto-sans-symbols.paper": (_REGULAR,),
}
"""Faces for sheets alone, by the weights there are: letters of names, arrows, ticks and the like."""
_MORE_SIGNS = ("noto-music.doubles", "noto-music.paper")
"""Double accidentals, raised and scaled as the site's own accidentals are, and all other signs of music."""
_VERSION = "3"
"""Raised when what is made of the same sources changes."""
_MAKING = Lock()
"""Held by the thread that makes fonts; another finds them made."""
_STYLES = {_REGULAR: "Regular", _BOLD: "Bold"}
_FAMILY_IDS, _STYLE_IDS, _WHOLE_IDS, _DROPPED_IDS = (1,), (2,), (3, 4, 6), (16, 17, 21, 22, 25)
"""Names of a font as OpenType numbers them (OpenType 1.9.1, "name" table)."""


@dataclass(frozen=True, slots=True)
class _Face:
    """A font file of the site's: the family it is given, at which weights it is wanted."""

    file: Path
    family: str
    weights: tuple[int, ...]


Family = tuple[str, str]
"""A family of fonts, and the letters that it alone sets; with none it sets what those before it lack."""


@dataclass(frozen=True, slots=True)
class Typefaces:
    """Fonts as files in a folder, and the families of text and titles in the order they are asked.

    `signs` are families asked for signs of music that the site's own lack, such as 𝄪.
    """

    folder: Path
    files: tuple[Path, ...]
    text: tuple[Family, ...]
    title: tuple[Family, ...]
    signs: tuple[str, ...] = ()

    def lacking(self, words: str) -> frozenset[str]:
        """Give the characters that no font has; those that set no mark need none."""
        return frozenset(
            one
            for one in set(words)
            if (one.isprintable() or unicodedata.category(one) in _WITH_MARK)
            and ord(one) not in _letters(self.files)
        )


def has_typefaces(language: str) -> bool:
    """Whether the site has letters of its own for a language, so that it has sheets.

    Others, such as Chinese, are left to fonts of the reader's device, which a sheet cannot ask for.
    """
    return faces_of(language) is not None or language.partition("-")[0].lower() in OWN_LATIN


@cache
def typefaces(languages: tuple[str, ...], letters: frozenset[str] = frozenset()) -> Typefaces:
    """Make the fonts for texts in all these languages, and of all that we have those for more `letters`.

    A name is written with its own letters, whichever languages a site speaks. Each face that a
    sheet may have is asked for its words, so it has no more than it needs.
    """
    needed = [faces for one in languages if (faces := faces_of(one))]
    text = _faces(one.text for one in needed)
    title = _faces(one.title for one in needed)
    own, signs = [*_own()], list[_Face]()
    if letters:
        every = _faces(one.text for one in all_faces())
        text += _having(letters, [one for one in (*every, *_on_paper()) if one not in text])
        every = _faces(one.title for one in all_faces())
        title += _having(letters, [one for one in every if one not in title])
        signs += _having(letters, [_paper_face(name, _REGULAR) for name in _MORE_SIGNS])
    with _MAKING:
        made = {face: _made(face) for face in dict.fromkeys((*own, *text, *title, *signs))}
    families = _families(TEXT, text, made)
    titles = (*_families(TITLE, title, made), *families)
    files = tuple(chain.from_iterable(made.values()))
    return Typefaces(_folder(), files, families, titles, tuple(one.family for one in signs))


def letters_of_all() -> frozenset[str]:
    """Give the letters of all typefaces there are for sheets."""
    several = _faces(chain.from_iterable((one.text, one.title) for one in all_faces()))
    signs = (_paper_face(name, _REGULAR) for name in _MORE_SIGNS)
    return frozenset(
        chain.from_iterable(map(_face_letters, (*_own(), *several, *_on_paper(), *signs)))
    )


def _having(letters: frozenset[str], faces: Iterable[_Face]) -> list[_Face]:
    """Leave of faces the first ones that have each of the letters, in all their weights."""
    families, left = set[str](), set(letters)
    kept = list[_Face]()
    for face in faces:
        if left & _face_letters(face) or face.family in families:
            left -= _face_letters(face)
            families.add(face.family)
            kept.append(face)
    return kept


@cache
def _face_letters(face: _Face) -> frozenset[str]:
    with _MAKING:
        return frozenset(map(chr, _letters(tuple(_made(face)))))


def _on_paper() -> Iterator[_Face]:
    for name, weights in _PAPER.items():
        yield from (_paper_face(name, weight) for weight in weights)


def _families(
    own: str, more: Sequence[_Face], made: Mapping[_Face, Sequence[Path]]
) -> tuple[Family, ...]:
    """Put more faces beside an own one, which would set a letter such as ễ as ê and a mark on it.

    Those are left to the face that has the whole letter, since a PDF says each part of a letter.
    """
    has = _letters(
        tuple(chain.from_iterable(files for face, files in made.items() if face.family == own))
    )
    first, last, signs = list[Family](), list[Family](), list[Family]()
    for face in more:
        lacking = sorted(map(chr, _letters(tuple(made[face])) - has))
        latin = "".join(filter(_is_latin, lacking))
        if latin:
            first.append((face.family, latin))
        if face.file.stem.rpartition("-")[0] in _PAPER:  # some of these have letters and signs
            signs.append((face.family, ""))
        elif not latin:
            last.append((face.family, ""))
    return (*dict.fromkeys((*first, (own, ""), *signs, *last)),)


def _is_latin(letter: str) -> bool:
    return letter.isalpha() and unicodedata.name(letter, "").startswith("LATIN")


def _faces(several: Iterable[Iterable[Source]]) -> list[_Face]:
    """List the faces of sources, each once, in the order of their files' names."""
    sources = sorted(set(chain.from_iterable(several)), key=lambda source: source.file)
    return [*dict.fromkeys(chain.from_iterable(map(_of_source, sources)))]


def _of_source(source: Source) -> Iterator[_Face]:
    folder = templates_folder() / "faces"
    name = _ON_PAPER.get(source.file)
    if name:
        yield from (_paper_face(name, weight) for weight in (_REGULAR, _BOLD))
        return
    weights = (_REGULAR, _BOLD) if " " in source.weights else (_REGULAR,)
    yield _Face(folder / source.file, f"Handbook {source.file.removesuffix('.woff2')}", weights)


def _paper_face(name: str, weight: int) -> _Face:
    file = templates_folder() / "faces" / f"{name}-{weight}.woff2"
    return _Face(file, f"Handbook {name}", (weight,))


def _own() -> Iterator[_Face]:
    folder = templates_folder() / "assets" / "fonts"
    yield _Face(folder / "atkinson-hyperlegible-next.woff2", TEXT, (_REGULAR, _BOLD))
    yield _Face(folder / "fraunces.woff2", TITLE, (_REGULAR,))
    yield _Face(folder / "accidentals-400.woff2", SIGNS, (_REGULAR,))
    yield _Face(folder / "accidentals-700.woff2", SIGNS, (_BOLD,))
    yield _Face(folder / "music-signs.woff2", MUSIC, (_REGULAR,))


def _made(face: _Face) -> list[Path]:
    made = list[Path]()
    for weight in face.weights:
        place = _folder() / f"{face.file.stem}-{weight}.ttf"
        if not place.is_file():
            half = place.with_suffix(f".{os.getpid()}")
            half.write_bytes(_font(face.file.read_bytes(), face.family, weight))
            half.replace(place)
        made.append(place)
    return made


@cache
def _folder() -> Path:
    """Give the folder for what is made of these very sources, since the typesetter takes all that is in one."""
    sources = sorted(templates_folder().glob("assets/fonts/*.woff2")) + sorted(
        (templates_folder() / "faces").glob("*.woff2")
    )
    made_of = hashlib.sha256(_VERSION.encode())
    for source in sources:
        made_of.update(source.read_bytes())
    kept = own_folder("typefaces")
    if kept is not None:
        folder = kept / made_of.hexdigest()[:32]
        folder.mkdir(mode=0o700, exist_ok=True)
        return folder
    folder = Path(tempfile.mkdtemp(prefix="handbook-typefaces-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


def _font(content: bytes, family: str, weight: int) -> bytes:
    """Make a plain font of one weight, with a name by which no other font goes."""
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - seldom needed: what is made is kept
    from fontTools.varLib.instancer import instantiateVariableFont  # noqa: PLC0415

    font: Any = TTFont(BytesIO(content), recalcTimestamp=False)
    if "fvar" in font:
        font = instantiateVariableFont(font, {"wght": weight})
    names = font["name"]
    style = _STYLES[weight]
    for number in _DROPPED_IDS:
        names.removeNames(nameID=number)
    whole = f"{family} {style}"
    for numbers, said in ((_FAMILY_IDS, family), (_STYLE_IDS, style), (_WHOLE_IDS, whole)):
        for number in numbers:
            names.setName(said.replace(" ", "-") if number == 6 else said, number, 3, 1, 0x409)  # noqa: PLR2004
    font["OS/2"].usWeightClass = weight
    font.flavor = None
    made = BytesIO()
    font.save(made, reorderTables=None)
    return made.getvalue()


@cache
def _letters(files: tuple[Path, ...]) -> frozenset[int]:
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - seldom needed

    return frozenset(chain.from_iterable(TTFont(file, lazy=True).getBestCmap() for file in files))
