"""Codes of languages as the web has them (BCP 47), and what directors write in their place."""

from __future__ import annotations

import re
from functools import cache

from handbook.domain.values.unreadable import UnreadableError
from handbook.schema.scalars import patterns

_CODE = re.compile(patterns.LANGUAGE)
_LETTERS_OF_FEW = 2
_USUAL = frozenset({"en", "es", "vi", "ar", "zh", "ht", "fr", "so", "pt", "ru"})
# Codes of countries and older codes that are taken for those of languages (ISO 3166-1, ISO 639-1).
_TAKEN_FOR = {
    "al": "sq", "br": "pt", "cn": "zh-Hans", "cz": "cs", "dk": "da", "gr": "el", "hk": "zh-Hant",
    "il": "he", "in": "hi", "iw": "he", "jp": "ja", "kh": "km", "kr": "ko", "mx": "es", "np": "ne",
    "ph": "fil", "pk": "ur", "sp": "es", "tw": "zh-Hant", "ua": "uk", "us": "en", "vn": "vi",
}  # fmt: skip


def parse_language(text: str) -> str:
    """Read a code such as `en`, `es-MX` or `zh-Hans`.

    Any code of three letters is taken, since few lists have all languages of families.
    Raises UnreadableError, which offers the code for a name, a country or another spelling.
    """
    if _CODE.fullmatch(text):
        primary = text.partition("-")[0]
        if len(primary) > _LETTERS_OF_FEW or primary in _USUAL or primary in _names():
            return text
    plain = text.strip().replace("_", "-").lower()
    meant = _TAKEN_FOR.get(plain) or _codes().get(plain) or _written(plain)
    if meant:
        raise UnreadableError(f"`{text}` is no language code", (meant,), sure=True)
    raise UnreadableError(f"`{text}` is no language code", ("en", "es"))


def _written(plain: str) -> str:
    """Write a code as it is usual: the language small, a script `Hans`, a region `MX`."""
    primary, *others = plain.split("-")
    if primary not in _names() or not _CODE.fullmatch(plain):
        return ""
    shown = (one.upper() if len(one) == _LETTERS_OF_FEW else one.capitalize() for one in others)
    return "-".join((primary, *shown))


@cache
def _names() -> dict[str, str]:
    """Name languages in English by their codes (Unicode CLDR)."""
    from babel import Locale  # noqa: PLC0415 - asked for where there is a language besides English

    return dict(Locale("en").languages)


@cache
def _codes() -> dict[str, str]:
    """Give the codes of languages by their names in English and in themselves."""
    from babel import Locale  # noqa: PLC0415

    found = {name.lower(): code.replace("_", "-") for code, name in _names().items()}
    for code in sorted(_USUAL):
        found[Locale(code).languages[code].lower()] = code
    return found | {"creole": "ht", "farsi": "fa", "mandarin": "zh-Hans", "chinese": "zh-Hans"}
