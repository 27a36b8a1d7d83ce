"""Which names of pieces and passages a sentence mentions; the project's own rules."""

from __future__ import annotations

import re
from collections.abc import Iterable

_ASIDE = re.compile(r"\s*\([^)]*\)")
_FRACTION = re.compile(r"(?<![\d/.,])\d{1,2}/\d{1,2}(?![\d/])")
_SENTENCE_ENDS = frozenset(".!?:;¡¿")
_LEAST_WORDS = 2  # of a title without its ending


def names_in(text: str, names: Iterable[str]) -> tuple[str, ...]:
    """Give the names that a text mentions, in the order in which they stand there.

    Whole words only, and of names within each other the longest. What a name has in
    brackets is left out. A name of several words counts in any letter case; one of a
    single word only with its own capitals and within a sentence (or in quotes), since
    `opening` may be any opening. A title also counts without its ending from a small
    word on (`Night Train` for `Night Train to Marrow Point`), with its own capitals, if
    two words are left.
    """
    spellings = [(spelling, name) for name in names for spelling in _spellings(name)]
    spellings.sort(key=lambda pair: -len(pair[0].pattern))
    found: list[tuple[int, int, str]] = []
    for spelling, name in spellings:
        for match in spelling.finditer(text):
            start, end = match.span()
            alone = not re.search(r"\s", match[0])
            inside = any(start < other_end and first < end for first, other_end, _ in found)
            if not inside and not (alone and _begins_sentence(text, start)):
                found.append((start, end, name))
    return tuple(dict.fromkeys(name for _, _, name in sorted(found)))


def meters_in(text: str) -> tuple[str, ...]:
    """Give what looks like a meter, such as 7/8, each once, in the order it stands there."""
    return tuple(dict.fromkeys(_FRACTION.findall(text)))


def _spellings(name: str) -> Iterable[re.Pattern[str]]:
    words = _ASIDE.sub("", name).split()
    if not words:
        return
    yield _whole(words, any_case=len(words) > 1)
    small = next((place for place, word in enumerate(words) if word[0].islower()), 0)
    if small >= _LEAST_WORDS:
        yield _whole(words[:small], any_case=False)


def _whole(words: Iterable[str], *, any_case: bool) -> re.Pattern[str]:
    pattern = r"(?<!\w)" + r"\s+".join(re.escape(word) for word in words) + r"(?!\w)"
    return re.compile(pattern, re.IGNORECASE if any_case else 0)


def _begins_sentence(text: str, start: int) -> bool:
    before = text[:start].rstrip()
    return not before or before[-1] in _SENTENCE_ENDS
