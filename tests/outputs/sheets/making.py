"""Sheets made of a few lines of HTML."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from handbook.domain.values.paper import Paper
from handbook.outputs.sheets.model import Imprint, Layout, MadeSheet
from handbook.outputs.sheets.typesetting import typeset

SITE = "https://band.example.org/"
PUBLISHED = Imprint(SITE, 3, date(2026, 11, 20))
_SHEET = MadeSheet(
    path="winter/concert/family-beacon.pdf",
    title="Winter Concert: Beacon",
    language="en",
    spoken="en",
    html="",
    page="winter/concert/",
    paper=Paper.LETTER,
    points=12,
    one_page=True,
    landscape=False,
    layout=Layout.FLOW,
    head="Bands of the school",
    notice="",
    languages=("en",),
)


def sheet_of(html: str, **given: Any) -> MadeSheet:
    return replace(_SHEET, html=html, **given)


def pdf_of(html: str, imprint: Imprint = PUBLISHED, **given: Any) -> bytes:
    return typeset(sheet_of(html, **given), imprint)
