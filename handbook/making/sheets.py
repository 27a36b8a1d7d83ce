"""Printed sheets, typeset only if their words, or what is said at their foot, are new."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from zoneinfo import ZoneInfo

from handbook.domain.history import History
from handbook.making.content import ReadContent
from handbook.making.kept import KeptBatch
from handbook.making.kept_sheets import WantedSheet, fonts_of, sheets_as_files
from handbook.outputs.model import SiteFile
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.typesetting import imprint_of
from handbook.store import key_of


def sheet_files(
    content: ReadContent, batches: Sequence[KeptBatch], history: History
) -> tuple[list[SiteFile], str]:
    """Give the sheets of all pages; a sheet that says what it said is not made again.

    Nor is it read: of what stands, only the digest of its bytes is kept on the disk. With them
    comes the digest of the machine's fonts, if any sheet has letters of these.
    """
    shared = content.shared()
    site, zone = shared.facts.address, ZoneInfo(shared.zone)
    wanted = list[WantedSheet]()
    for batch in batches:
        for path, words, made_of in batch.batch.sheets:
            imprint = imprint_of(path, words, site, history, zone)
            key = key_of("sheet", content.program, made_of, imprint)
            wanted.append(WantedSheet(path, key, partial(_words, batch, path, imprint)))
    files = sheets_as_files(wanted, content.store)
    return files, fonts_of(wanted, content.store)


def sheet_words(batches: Iterable[KeptBatch]) -> Mapping[str, str]:
    """Give the digest of the words of each sheet by its path."""
    return {path: words for batch in batches for path, words, _ in batch.batch.sheets}


def _words(batch: KeptBatch, path: str, imprint: Imprint) -> tuple[MadeSheet, Imprint]:
    return batch.sheet(path), imprint
