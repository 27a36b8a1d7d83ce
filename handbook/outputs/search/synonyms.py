"""Words that readers type for what a page calls otherwise, put in when the index is made."""

from __future__ import annotations

import re
from functools import cache

from handbook.outputs.i18n import speech
from handbook.outputs.i18n.catalogues import SAME, SOURCE
from handbook.outputs.search.typed_words import TABLES

_HAN = re.compile(r"[\u3400-\u9fff]")  # Chinese, in which no space parts words


@cache
def _patterns(code: str) -> tuple[tuple[tuple[str, ...], re.Pattern[str], str], ...]:
    """Give the groups of English, whose words stand among keywords, and of a language."""
    plain = code.lower()
    codes = dict.fromkeys((SOURCE, plain, SAME.get(plain, plain), plain.partition("-")[0]))
    return tuple(
        (
            tuple(triggers.split("|")),
            re.compile("|".join(map(_as_word, triggers.split("|"))), re.IGNORECASE),
            added,
        )
        for own in codes
        for triggers, added in TABLES.get(own, ())
    )


def _as_word(trigger: str) -> str:
    return trigger if _HAN.search(trigger) else rf"(?<!\w){trigger}(?!\w)"


def synonyms(text: str) -> str:
    """Collect what may be typed for the words of a title and its keywords."""
    small = text.lower()  # most texts hold few of the triggers, which is soon seen
    return " ".join(
        added
        for triggers, pattern, added in _patterns(speech().code)
        if any(trigger in small for trigger in triggers) and pattern.search(text)
    )
