"""What is known of a language by its code (BCP 47)."""

from __future__ import annotations

from functools import cache

from babel import Locale, UnknownLocaleError

from handbook.outputs.i18n.catalogues import SAME, SOURCE, has_catalogue

# As US school districts write them to families, common practice, no source: CLDR has the names
# of languages in Haitian Creole in French.
_IN_HAITIAN = {
    "ar": "arab",
    "de": "alman",
    "en": "angle",
    "es": "panyòl",
    "fa": "pèsi",
    "fr": "fransè",
    "hi": "hindi",
    "ht": "kreyòl ayisyen",
    "it": "italyen",
    "ja": "japonè",
    "ko": "koreyen",
    "pl": "polonè",
    "pt": "pòtigè",
    "ru": "ris",
    "so": "somali",
    "sw": "swahili",
    "tl": "tagalòg",
    "uk": "ikrenyen",
    "vi": "vyetnamyen",
    "zh": "chinwa",
    "zh-hans": "chinwa senplifye",
    "zh-hant": "chinwa tradisyonèl",
}


@cache
def direction(language: str) -> str:
    """Give `rtl` or `ltr`; a language that Babel does not know runs left to right."""
    locale = _locale(language)
    return locale.text_direction if locale else "ltr"


@cache
def own_name(language: str) -> str:
    """Name a language in itself, `Español`; by its code if nobody knows it."""
    name = name_in(language, language)
    return name[:1].upper() + name[1:]


@cache
def name_in(language: str, other: str) -> str:
    """Name a language in another one, as within a sentence; by its code if nobody knows it."""
    if other.lower().partition("-")[0] == "ht":
        code = language.lower()
        for known in (code, SAME.get(code, code), code.partition("-")[0]):
            if known in _IN_HAITIAN:
                return _IN_HAITIAN[known]
    locale, own = _locale(language), _locale(other)
    if locale is None or own is None:
        return language
    whole = own.languages.get(str(locale)) if locale.script else None  # `Simplified Chinese`
    return whole or locale.get_display_name(own) or language


@cache
def spoken(language: str) -> str:
    """Give the language of our own words on a page: its own, or English if they are not translated."""
    return language if has_catalogue(language) else SOURCE


def _locale(language: str) -> Locale | None:
    try:
        return Locale.parse(language, sep="-")
    except (UnknownLocaleError, ValueError):
        return None
