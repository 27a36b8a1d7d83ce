"""Words that readers type for what a page calls otherwise, put in when the index is made."""

from __future__ import annotations

import re
from functools import cache

from handbook.outputs.i18n import speech
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.search.typed_words import TABLES


@cache
def _patterns(code: str) -> tuple[tuple[tuple[str, ...], re.Pattern[str], str], ...]:
    """Give the groups of English, whose words stand among keywords, and of a language."""
    codes = dict.fromkeys((SOURCE, code, code.partition("-")[0]))
    return tuple(
        (
            tuple(triggers.split("|")),
            re.compile(rf"(?<!\w)(?:{triggers})(?!\w)", re.IGNORECASE),
            added,
        )
        for own in codes
        for triggers, added in TABLES.get(own, ())
    )


def synonyms(text: str) -> str:
    """Collect what may be typed for the words of a title and its keywords."""
    small = text.lower()  # most texts hold few of the triggers, which is soon seen
    return " ".join(
        added
        for triggers, pattern, added in _patterns(speech().code)
        if any(trigger in small for trigger in triggers) and pattern.search(text)
    )
