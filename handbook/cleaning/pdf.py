"""PDF documents (ISO 32000-1, 7.5, 12.5, 14.3) without what is said of them and of their author."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from io import BytesIO
from typing import Any

from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, StreamObject

from handbook.cleaning.jpeg import clean_jpeg
from handbook.cleaning.model import DAMAGED, UncleanError

logging.getLogger("pypdf").addHandler(logging.NullHandler())  # a director has no use for its notes

_MOST_OBJECTS = 10_000
# What programs note about a document or a part of it, what is packed into it, and scripts.
_SAID = (
    *("/Metadata", "/PieceInfo", "/LastModified", "/AF", "/AA", "/JS", "/EmbeddedFiles"),
    *("/JavaScript", "/Collection", "/OpenAction", "/Perms", "/SpiderInfo", "/Threads"),
)
_OF_AUTHOR = ("/T", "/M", "/CreationDate", "/NM", "/RC", "/Subj")  # of a note on a page
_REMARKS = frozenset(
    {"/Text", "/Popup", "/FileAttachment", "/Sound", "/Movie", "/Caret", "/Redact"}
)
_SCRIPTED = frozenset({"/JavaScript", "/Launch", "/SubmitForm", "/ImportData"})
_PICTURE = "/DCTDecode"


def clean_pdf(raw: bytes) -> bytes:
    """Keep the pages, their structure and links; earlier versions of it, and all else, go.

    Raises UncleanError for a document that is locked, cannot be read, or has more than
    10,000 objects.
    """
    try:
        reader = PdfReader(BytesIO(raw))
        if reader.is_encrypted:
            raise UncleanError("is locked with a password")  # noqa: TRY301 - told as it is
        if sum(map(len, reader.xref.values())) + len(reader.xref_objStm) > _MOST_OBJECTS:
            raise UncleanError("is too large a document")  # noqa: TRY301
        writer = PdfWriter(clone_from=reader)
        for held in _dictionaries(writer):
            _strip(held)
        # What nothing leads to any more is left behind by copying once again.
        last = PdfWriter(clone_from=PdfReader(BytesIO(_written(writer))))
        last.pdf_header = reader.pdf_header
        return _written(last)
    except UncleanError:
        raise
    except Exception as error:  # whatever the library meets in a broken document
        raise UncleanError(DAMAGED) from error


def text_of_pdf(raw: bytes, pages: int) -> Iterator[str]:
    """Give the lines of the first pages; nothing of a document that cannot be read."""
    try:
        for page in PdfReader(BytesIO(raw)).pages[:pages]:
            yield from page.extract_text().splitlines()
    except Exception:  # noqa: BLE001 - as above
        return


def _dictionaries(writer: PdfWriter) -> Iterator[DictionaryObject]:
    waiting: list[Any] = list(writer._objects)  # noqa: SLF001 - it has no other list of them
    while waiting:
        held = waiting.pop()
        if isinstance(held, DictionaryObject):
            yield held
            waiting.extend(held.values())
        elif isinstance(held, ArrayObject):
            waiting.extend(held)


def _strip(held: DictionaryObject) -> None:
    for key in _SAID:
        held.pop(key, None)
    if held.get("/S") in _SCRIPTED:
        held.clear()
    if "/Rect" in held and held.get("/Subtype") != "/Widget":
        for key in _OF_AUTHOR:
            held.pop(key, None)
    notes = held.get("/Annots")
    notes = notes.get_object() if notes is not None else None
    if isinstance(notes, ArrayObject):
        kept = [one for one in notes if one.get_object().get("/Subtype") not in _REMARKS]
        held[NameObject("/Annots")] = ArrayObject(kept)
    if isinstance(held, StreamObject) and held.get("/Filter") in (_PICTURE, [_PICTURE]):
        held._data = clean_jpeg(held._data)  # noqa: SLF001 - as it is stored, not unpacked


def _written(writer: PdfWriter) -> bytes:
    writer.metadata = None
    writer._ID = None  # noqa: SLF001 - made of the time of the first saving by some programs
    made = BytesIO()
    writer.write(made)
    return made.getvalue()
