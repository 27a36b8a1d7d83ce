"""Names of people: lists of them, which are rosters, and single ones."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from handbook.audit.model import Concern, Seen, Words
from handbook.audit.own import OwnWords, words_of
from handbook.audit.tables.given_names import GIVEN_NAMES
from handbook.records import dataclass

LIST_OF_NAMES = Concern(
    "list-of-names",
    "this looks like a list of people's names",
    "keep rosters off the site; say where players find theirs",
    refuses=True,
)
UNFAMILIAR_LIST = Concern(
    "list-of-unfamiliar-names",
    "this may be a list of people's names",
    "if it is a roster, keep it off the site",
    refuses=False,
)
NAME_OF_PERSON = Concern(
    "name-of-a-person",
    "this looks like a person's name",
    "write the role in its place, such as the section leader",
    refuses=False,
)
NAME_IN_FILE_NAME = Concern(
    "name-in-a-file-name",
    "the name of this file looks like a person's",
    "rename the file, and what leads to it",
    refuses=False,
)

LEAST_NAMES = 3  # of a list
_LEAST_UNFAMILIAR = 4  # of a list in which no given name is known
_FURTHEST = 2  # entries between two names of a list, such as an instrument and a number

_CAPITAL = "[A-ZÀ-ÖØ-Þ]"
_LAST = rf"{_CAPITAL}[a-zß-ÿ]+(?:['’-]?{_CAPITAL}[a-zß-ÿ]+)*"
_TWO_WORDS = re.compile(rf"(?<![\w'’-])(?=(({_LAST}) (?:{_CAPITAL}\.? )?({_LAST}))(?!\w))")
_WITH_INITIAL = re.compile(rf"(?<![\w'’-])({_LAST}) {_CAPITAL}\.(?!\w)")
_HONORIFIC = re.compile(
    rf"(?<![\w'’-])(?:Mr|Mrs|Ms|Miss|Mx|Dr|Coach|Señora?|Sra?|Srta|Maestr[oa])\.? ({_LAST})(?!\w)"
)
_WHOLE = re.compile(rf"({_LAST})(?: {_CAPITAL}\.)?((?: {_LAST}){{1,2}})")
_TURNED = re.compile(rf"({_LAST}), ({_LAST})(?: {_CAPITAL}\.?)?")
_SHORT = re.compile(rf"({_LAST}) {_CAPITAL}\.?")
_ENTRY_ENDS = re.compile(r"\n|;|•|·|\||\t| [–—-] |\((?=[a-z])|: ")
_NUMBER_BEFORE = re.compile(r"^\W*(?:\d{1,3}[.):]?\s+)?|\s*\)?\.?$")
_NAMING = frozenset(
    {
        *map(str.casefold, GIVEN_NAMES),
        *("mr", "mrs", "ms", "miss", "mx", "dr", "coach", "señor", "señora", "sr", "sra", "srta"),
        *("maestro", "maestra"),
    }
)
_PAIR = re.compile(rf"{_CAPITAL}[a-zß-ÿ'’-]+[ ,]{{1,2}}{_CAPITAL}")
_NEXT_WORD = re.compile(r" ([A-Z]\w+)")
# What is called by a person's name: Diego Arrieta Middle School.
_PLACES = frozenset(
    {
        *("academy", "arena", "auditorium", "avenue", "center", "church", "college", "elementary"),
        *("field", "gym", "gymnasium", "hall", "high", "junior", "library", "middle", "park"),
        *("performing", "road", "school", "stadium", "street", "theater", "theatre", "university"),
        *("memorial", "day", "jr"),
    }
)
_COMMA = re.compile(r",\s*(?:and\s+|y\s+)?|\s+(?:and|y|&)\s+")


def named_people(text: str, own: OwnWords) -> Iterator[str]:
    """Give what in a text looks like a person's name, each once, in order.

    A known given name with a word that is no plain one, or with an initial; or any word with
    a title such as Ms. before it.
    """
    found: dict[int, str] = {}
    for match in _TWO_WORDS.finditer(text):
        whole, first, last = match.groups()
        after = _NEXT_WORD.match(text, match.end(1))
        if after and after[1].lower() in _PLACES:
            continue
        if first in GIVEN_NAMES and not own.is_plain(last) and not own.is_named(whole):
            found[match.start()] = whole
    for match in _WITH_INITIAL.finditer(text):
        if match[1] in GIVEN_NAMES and not own.is_named(match[0].rstrip(".")):
            found.setdefault(match.start(), match[0])
    for match in _HONORIFIC.finditer(text):
        if not own.is_plain(match[1]) and not own.is_named(match[0]):
            found.setdefault(match.start(), match[0])
    named = dict.fromkeys(found[place] for place in sorted(found))
    return iter(named)


def people(words: Sequence[Words], own: OwnWords, permitted: frozenset[str]) -> Iterator[Seen]:
    """Find lists of names, and names that stand alone.

    Of a list, what is `permitted` does not count.
    """
    listed: set[str] = set()
    for file, runs in groupby(words, key=lambda run: run.file):
        for names in _lists(list(runs), own):
            left = {one.name: one for one in names if one.name.casefold() not in permitted}
            if len(left) >= LEAST_NAMES:
                listed.update(left)
                known = any(one.known for one in left.values())
                yield Seen(LIST_OF_NAMES if known else UNFAMILIAR_LIST, ", ".join(left), file)
    for run in words:
        nobody = run.single.isdisjoint(_NAMING)
        for name in () if nobody else named_people(run.text, own):
            if name not in listed:
                yield Seen(NAME_OF_PERSON, name, run.file)


def named_files(paths: Sequence[str], own: OwnWords) -> Iterator[Seen]:
    """Find addresses that hold a given name and a word that is no plain one beside it."""
    given = {name.lower() for name in GIVEN_NAMES}
    for path in paths:
        for part in path.split("/"):
            parts = re.split(r"[\W_\d]+", part.rpartition(".")[0] or part)
            for first, last in pairwise(parts):
                known = first.lower() in given and len(last) > 1
                if known and not own.is_plain(last) and not own.is_named(f"{first} {last}"):
                    yield Seen(NAME_IN_FILE_NAME, part, path)
                    break


@dataclass(frozen=True, slots=True)
class _NameOrNot:
    """An entry of what may be a list: its name, empty for none, and whether the given name is known."""

    name: str
    known: bool = False


def _lists(runs: Sequence[Words], own: OwnWords) -> Iterator[list[_NameOrNot]]:
    """Give the names of each run of entries that are mostly names."""
    names: list[_NameOrNot] = []
    between = 0
    for entry in (*_entries(runs, own), *([_NameOrNot("")] * (_FURTHEST + 1))):
        if entry.name:
            names.append(entry)
            between = 0
            continue
        between += 1
        if between <= _FURTHEST:
            continue
        known = sum(one.known for one in names)
        least = LEAST_NAMES if known * 2 >= len(names) else _LEAST_UNFAMILIAR
        if len({one.name for one in names}) >= least:
            yield names
        names = []


def _entries(runs: Sequence[Words], own: OwnWords) -> Iterator[_NameOrNot]:
    for run in runs:
        if run.single.isdisjoint(_NAMING) and not _PAIR.search(run.text):
            yield _NameOrNot("")
            continue
        for line in _ENTRY_ENDS.split(run.text):
            bare = _NUMBER_BEFORE.sub("", line.strip())
            turned = _TURNED.fullmatch(bare)
            if turned and (turned[1] in GIVEN_NAMES or turned[2] in GIVEN_NAMES):
                yield _NameOrNot(bare, known=turned[2] in GIVEN_NAMES or turned[1] in GIVEN_NAMES)
                continue
            for piece in _COMMA.split(bare):
                yield _entry(_NUMBER_BEFORE.sub("", piece), own)


def _entry(text: str, own: OwnWords) -> _NameOrNot:
    if text in GIVEN_NAMES:
        return _NameOrNot(text, known=not own.is_plain(text))
    short = _SHORT.fullmatch(text)
    if short and short[1] in GIVEN_NAMES:
        return _NameOrNot(text, known=True)
    whole = _WHOLE.fullmatch(text)
    if whole is None or own.is_named(text) or any(own.is_plain(word) for word in words_of(text)):
        return _NameOrNot("")
    return _NameOrNot(text, known=whole[1] in GIVEN_NAMES)
