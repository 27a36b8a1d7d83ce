"""What the pages of the binder look like: the site's own styles and typefaces, and a few styles more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from handbook.binder.model import Binder, BinderFile
from handbook.outputs import addresses
from handbook.outputs.faces import faces_for, letters_of
from handbook.outputs.html.school_style import school_style
from handbook.resources import templates_folder

STYLE = f"{addresses.ASSETS}binder.css"
_FONTS = "fonts"
_FOR_GIT = (
    b"# For the director alone: a folder with this file in it is left out of every commit.\n*\n"
)


def joined_parts(folder: Path, suffix: str) -> bytes:
    """Join the parts of a style or script that lie in a folder, one after the other by their names."""
    return b"".join(part.read_bytes() for part in sorted(folder.glob(f"*{suffix}")))


def look_files(binder: Binder, made: Iterable[BinderFile]) -> Iterator[BinderFile]:
    """Give the styles and typefaces beside the pages that were made, and what keeps git away from the folder."""
    templates = templates_folder()
    parts = ("joined/handbook.css", "binder/binder.css")
    style = b"".join(joined_parts(templates / part, ".css") for part in parts)
    pages = (file.content.decode() for file in made if file.path.endswith(".html"))
    letters = {letter for page in pages for letter in letters_of(page)}
    for file in faces_for(binder.context.language, letters):
        if file.path.endswith(".css"):
            style += file.content
        else:
            yield BinderFile(file.path, file.content)
    # What lies beside the page is there at once, so that no other face need stand in for it.
    style = style.replace(b"font-display:optional", b"font-display:block")
    yield BinderFile(STYLE, style + school_style(binder.context).content)
    for font in sorted((templates / "assets" / _FONTS).glob("*.woff2")):
        yield BinderFile(f"{addresses.ASSETS}{_FONTS}/{font.name}", font.read_bytes())
    yield BinderFile(GIT_FILE, _FOR_GIT)


GIT_FILE = ".gitignore"
"""Keeps a binder that lies in a git checkout out of what is committed, and so of what is published with it."""
