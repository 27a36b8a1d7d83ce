"""Codes of languages: what is taken, and what is offered for names, countries and other spellings.

Sources: BCP 47 (RFC 5646, 2.1.1 on case), ISO 639-1 and 639-3, ISO 3166-1 for the countries.
"""

from __future__ import annotations

import pytest

from handbook.domain.values.unreadable import UnreadableError
from handbook.schema.scalars.languages import parse_language


@pytest.mark.parametrize(
    "code",
    ["en", "es", "es-MX", "zh-Hans", "ht", "so", "hmn", "mww", "prs", "ksw", "pt-BR", "sr-Latn-RS"],
)
def test_codes_of_the_web_are_taken(code: str) -> None:
    assert parse_language(code) == code


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("he_IL", "he-IL"),
        ("ES", "es"),
        ("zh_hans", "zh-Hans"),
        ("ES-mx", "es-MX"),
        ("spanish", "es"),
        ("Español", "es"),
        ("Vietnamese", "vi"),
        ("tiếng việt", "vi"),
        ("haitian creole", "ht"),
        ("creole", "ht"),
        ("العربية", "ar"),
        ("jp", "ja"),
        ("vn", "vi"),
        ("cn", "zh-Hans"),
        ("iw", "he"),
    ],
)
def test_what_is_meant_is_offered(written: str, meant: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_language(written)
    assert refused.value.suggestions == (meant,)
    assert refused.value.sure
    assert parse_language(meant) == meant


@pytest.mark.parametrize("written", ["xx", "q", "", "en us", "e-n"])
def test_anything_else_is_refused(written: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_language(written)
    assert not refused.value.sure
