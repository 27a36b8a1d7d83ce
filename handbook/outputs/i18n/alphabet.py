"""The order of words in a language, and the letter under which a word is found.

Letters of their own are those of the collations of Unicode CLDR 47; any other sign on a letter
tells no words apart. Chinese stands by its reading in Latin letters, in which the common
characters of GB 2312-80 are ordered (its level 1, rows 16 to 55). The Arabic article is left
aside, as indexes do (common practice, no source).
"""

from __future__ import annotations

import re
from bisect import bisect_right
from unicodedata import combining, normalize

# Each stands after all words of the letter that it is made of, in this order.
_OWN = {"es": "ñ", "vi": "ăâđêôơư"}
_PLAIN = {"đ": "d"}  # which Unicode takes for no letter with a sign
_ARTICLES = {"ar": re.compile(r"ال(?=\w{3})")}
_CHINESE = "zh"
_READINGS = "ABCDEFGHJKLMNOPQRSTWXYZ"  # no reading begins with I, U or V
# The first character of each of these letters.
_FIRST = [one.encode("gb2312") for one in "啊芭擦搭蛾发噶哈击喀垃妈拿哦啪期然撒塌挖昔压匝"]
_LAST = "座".encode("gb2312")
_READ_LIKE = {"乐": "月"}  # among words of music, whose reading the standard does not order it by

Order = tuple[tuple[str, int, str], ...]
"""What a word is sorted by: of each letter its plain one, its rank among those of it, itself."""


def in_order(word: str, language: str) -> Order:
    """Give what a word is sorted by in a language, by its code."""
    return tuple(_letters(word, language))


def first_letter(word: str, language: str) -> str:
    """Give the letter under which a word is found, a capital where there are capitals."""
    plain, rank, letter = next(iter(_letters(word, language)), ("", 0, ""))
    return (letter if rank and letter in _own(language) else plain).upper()


def _letters(word: str, language: str) -> list[tuple[str, int, str]]:
    own, article = _own(language), _ARTICLES.get(_base(language))
    word = normalize("NFC", normalize("NFKC", word).casefold())
    if article and (found_article := article.match(word)):
        word = word[found_article.end() :]
    found: list[tuple[str, int, str]] = []
    for sign in word:
        if _base(language) == _CHINESE and (read := _reading(sign)):
            found.append((read[0], 1, read[1]))
            continue
        for letter in _without_tones(sign, own):
            plain = _PLAIN.get(letter) or _base_of(letter)
            found.append((plain, own.find(letter) + 1 if letter in own else 0, letter))
    return found


def _own(language: str) -> str:
    return _OWN.get(_base(language), "")


def _base(language: str) -> str:
    return language.lower().partition("-")[0]


def _base_of(letter: str) -> str:
    return normalize("NFKD", letter)[:1]


def _without_tones(sign: str, own: str) -> str:
    """Leave of a letter's signs those that make it another letter of the alphabet."""
    parts = normalize("NFKD", sign)
    plain, marks = parts[:1], parts[1:]
    if combining(plain):
        return ""
    made = (normalize("NFC", plain + mark) for mark in marks)
    rest = "".join(mark for mark in marks if not combining(mark))  # of ligatures
    return next((one for one in made if one in own), plain) + rest


def _reading(sign: str) -> tuple[str, str] | None:
    """Give the Latin letter that a Chinese character's reading begins with, and its place in it."""
    try:
        code = _READ_LIKE.get(sign, sign).encode("gb2312")
    except UnicodeEncodeError:
        return None
    if not _FIRST[0] <= code <= _LAST:
        return None
    return _READINGS[bisect_right(_FIRST, code) - 1].lower(), code.hex()
