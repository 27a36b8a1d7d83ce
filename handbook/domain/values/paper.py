"""Sizes of paper that sheets are printed on."""

from __future__ import annotations

from enum import StrEnum


class Paper(StrEnum):
    """Letter is of ANSI/ASME Y14.1, 8.5 by 11 in; A4 of ISO 216, 210 by 297 mm."""

    LETTER = "letter"
    A4 = "a4"
