"""What the title of an entry in a school's calendar says about its days; the project's own rules.

Only what a title says by itself is sure. What most often means one thing, and may mean
another, comes with a doubt in words; the rest is not understood.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from enum import StrEnum
from functools import lru_cache

from handbook.domain.tables import school_day_words as words
from handbook.records import dataclass


class DayMeaning(StrEnum):
    """What a day of a calendar may be; `otherwise` if only some event is said to be on it."""

    CLOSED = "closed"
    OTHERWISE = "otherwise"
    EARLY = "early"
    LATE = "late"
    LABEL = "label"
    FIRST = "first"
    LAST = "last"
    MAKE_UP = "make up"


@dataclass(frozen=True, slots=True)
class TitleMeaning:
    """What a title says: nothing known if there are no `kinds`; `doubt` says why it is not sure.

    `label` is that of the day, as it was given, and `name` the title without the words that
    say `no school`. `unsettled` is a day that only other knowledge can settle, such as a
    holiday by its name.
    """

    kinds: frozenset[DayMeaning]
    name: str
    label: str | None = None
    doubt: str = ""
    unsettled: bool = False


_ALIKE = str.maketrans({"’": "'", "‘": "'", "–": "-", "—": "-", "‑": "-", "−": "-", "&": " and "})
_SURE = (
    (DayMeaning.CLOSED, words.NO_SCHOOL),
    (DayMeaning.EARLY, words.EARLY),
    (DayMeaning.LATE, words.LATE),
    (DayMeaning.FIRST, words.FIRST),
    (DayMeaning.LAST, words.LAST),
    (DayMeaning.MAKE_UP, words.MAKE_UP),
)
_WITH = frozenset({DayMeaning.EARLY, DayMeaning.LATE, DayMeaning.LABEL})
_TIMES = re.compile(r"\b\d{1,2}(?::\d{2})? ?(?:[ap]\.?m\.?)?(?= |$|-)")
_LETTERS = re.compile(r"\w")


def title_meaning(title: str, labels: Sequence[str] = ()) -> TitleMeaning:
    """Say what a title means, in a year of which days bear `labels`."""
    plain = " ".join(title.translate(_ALIKE).casefold().split())
    text = re.sub(words.EVERYONE, " ", plain)
    kinds: set[DayMeaning] = set()
    rest = text
    for kind, pattern in _SURE:
        found = re.sub(rf"(?<![\w-])(?:{pattern})", " ", rest)
        if found != rest:
            kinds.add(kind)
            rest = found
    label, rest = _label(rest, labels)
    sure_closed = DayMeaning.CLOSED in kinds
    if label is not None and not sure_closed:
        kinds.add(DayMeaning.LABEL)
    unsettled = False
    for pattern in (words.BREAKS, words.STAFF_DAYS, words.HOLIDAYS):
        found = re.sub(rf"(?<![\w-])(?:{pattern})(?!\w)", " ", rest)
        if found != rest and not sure_closed and not kinds - {DayMeaning.CLOSED}:
            kinds.add(DayMeaning.CLOSED)
            unsettled = unsettled or pattern != words.BREAKS
        rest = found
    if kinds == {DayMeaning.LABEL} and _says_more(rest):
        kinds = set()  # such as a day of service
    if kinds == {DayMeaning.CLOSED} and not sure_closed and re.search(words.OTHER_MATTERS, rest):
        kinds = {DayMeaning.OTHERWISE}  # such as an assembly for a holiday
    name = _without_no_school(title) if DayMeaning.CLOSED in kinds else title
    if not kinds:
        return TitleMeaning(frozenset(), title)
    doubt = _doubt(text, rest, frozenset(kinds), sure_closed=sure_closed)
    if not doubt and unsettled and not sure_closed:
        doubt = "nothing says whether there is school"
        return TitleMeaning(frozenset(kinds), name, label, doubt, unsettled=True)
    return TitleMeaning(frozenset(kinds), name, label, doubt)


def same_words(one: str, other: str) -> bool:
    """Whether two names are the same but for letter case, signs, words such as `observed`, and other names of a holiday."""
    return words_of(one) == words_of(other) != ()


@lru_cache(maxsize=20_000)  # last year's names are compared with each title
def words_of(name: str) -> tuple[str, ...]:
    """Give a name's words, one for all names of a holiday, without those that say `no school`."""
    plain = _without_no_school(name).translate(_ALIKE).casefold().replace("'", "")
    plain = re.sub(r"\b(?:observed|observance)\b", " ", plain)
    for one, pattern in words.SAME:
        plain = re.sub(rf"\b(?:{pattern})\b", one, plain)
    return tuple(re.findall(r"\w+", plain))


def _without_no_school(title: str) -> str:
    """Take the words that say `no school` out of a title, unless nothing would be left."""
    plain = title.translate({sign: other for sign, other in _ALIKE.items() if len(other) == 1})
    found = re.sub(rf"(?<![\w-])(?:{words.NO_SCHOOL})", " ", plain, flags=re.IGNORECASE)
    if found == plain:
        return title
    found = re.sub(r"\(\s*\)|\[\s*\]", " ", found)
    found = re.sub(
        r"^(?:[\s\-:,;/.!*]|for\b|due to\b)+|[\s\-:,;/!*(]+$", "", found, flags=re.IGNORECASE
    )
    found = " ".join(re.sub(r"\s+([,;:.!])", r"\1", found).split())
    return found if re.search(r"\w", found) and found.count("(") == found.count(")") else title


def _label(text: str, labels: Sequence[str]) -> tuple[str | None, str]:
    """Find the one label that a title gives its day, and take it out."""
    found: dict[str, str] = {}
    for label in labels:
        own = re.escape(label.casefold())
        whole = (
            rf"\(?{own}\)?"
            if text.strip() in {label.casefold(), f"({label.casefold()})"}
            else r"(?!)"
        )
        pattern = rf"(?<!\w)(?:{own}[- ]?days?|days?[- ]{own}|{whole})(?!\w)"
        without = re.sub(pattern, " ", text)
        if without != text:
            found[label] = without
    if len(found) != 1:
        return None, text
    ((label, rest),) = found.items()
    return label, rest


def _doubt(text: str, rest: str, kinds: frozenset[DayMeaning], *, sure_closed: bool) -> str:  # noqa: PLR0911 - one a doubt
    """Say why a title may mean something else; nothing if it cannot well do so."""
    main = kinds - _WITH
    if (
        len(main) > 1
        or (DayMeaning.CLOSED in kinds and kinds & _WITH)
        or {
            DayMeaning.EARLY,
            DayMeaning.LATE,
        }
        <= kinds
    ):
        return "it says two things at once"
    if re.search(words.SOME_ONLY, text):
        return "it is said of some grades or schools"
    if re.search(words.HEDGES, text):
        return "it is not settled"
    if re.search(words.NEGATED, text):
        return "it says that something is not so"
    if DayMeaning.OTHERWISE in kinds or re.search(words.OTHER_MATTERS, rest):
        return "it may be about another matter"
    left = _says_more(rest)
    edges = re.search(words.EDGES, rest)
    if sure_closed:
        return ""
    if edges and DayMeaning.CLOSED in kinds:
        return "it names where a break begins or ends, and not whether there is school that day"
    if left and main:
        return "its other words may change what it means"
    if edges and left:
        return "its other words may change what it means"
    return ""


def _says_more(rest: str) -> bool:
    """Whether words of their own stand beside those that were understood."""
    return bool(_LETTERS.search(re.sub(words.FILLERS, " ", _TIMES.sub(" ", rest))))
