"""Typefaces of a language whose letters the site's own lack."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.making.content import ReadContent
from handbook.making.framing import Framing
from handbook.making.kept import KeptBatch
from handbook.making.other_files import kept_files
from handbook.outputs import addresses
from handbook.outputs.faces import faces_for, faces_of
from handbook.store import key_of


def face_files(
    content: ReadContent, pages: Sequence[KeptBatch], framing: Framing
) -> list[KeptBatch]:
    """Make them of the letters that the finished pages have; nothing for most languages."""
    language = framing.language
    if faces_of(language) is None:
        return []
    letters = "".join(sorted({one for batch in pages for one in batch.letters()}))
    folder = f"{addresses.ASSETS}{framing.tree}"
    key = key_of("faces", content.program, language, folder, letters)
    return [kept_files(content, key, lambda: faces_for(language, letters, folder))]
