"""Names of fields and ids in messages: the nearest known ones, and lists of them."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import SequenceMatcher
from itertools import islice

_CLOSE = 0.6
_MOST = 3
# Letters of a name and names to compare it with; no likeness is worth more time.
_LONGEST, _MOST_KNOWN = 60, 300
_SHORTEST = 4  # letters of a name that may be mended unasked


def nearest(
    name: str, known: Iterable[str], most: int = _MOST, alike: float = _CLOSE
) -> tuple[str, ...]:
    """Give at most `most` of the known names that look like `name`, the likeliest first.

    Letter case, hyphens, underscores and spaces do not count. Names are alike from a
    similarity of `alike` up (Ratcliff/Obershelp, as in difflib, 0 to 1), or if one begins
    the other. Nothing is like a name of more than 60 letters, and only the first 300 known
    names are looked at.
    """
    if len(name) > _LONGEST:
        return ()
    wanted = _plain(name)
    scored = [
        (_likeness(wanted, _plain(other)), other)
        for other in islice(known, _MOST_KNOWN)
        if len(other) <= _LONGEST
    ]
    likely = sorted((-score, other) for score, other in scored if score >= alike)
    return tuple(other for _, other in likely[:most])


def surely_meant(name: str, known: Iterable[str]) -> str | None:
    """Give the known name that `name` is but for one slip, or None if that is not sure.

    A slip is one letter more, less or other, or two neighbors changed about; letter case,
    hyphens, underscores and spaces do not count. It is sure only if no other name is as near
    or one slip away too. Short names and numbers in names are never taken for slips.
    """
    wanted = _plain(name)
    if len(wanted) < _SHORTEST or len(name) > _LONGEST:
        return None
    near = {other: _slips(wanted, _plain(other)) for other in islice(known, _MOST_KNOWN)}
    same = [other for other, slips in near.items() if slips == 0]
    close = same or [other for other, slips in near.items() if slips == 1]
    if len(close) != 1 or _digits(wanted) != _digits(close[0]):
        return None
    return close[0]


def _digits(name: str) -> list[str]:
    return [letter for letter in name if letter.isdigit()]


def _slips(one: str, other: str) -> int:
    """Count the slips between two words: the restricted edit distance of Damerau, cut off above two."""
    if abs(len(one) - len(other)) > 2:  # noqa: PLR2004 - what is further off is not asked for
        return 3
    before: list[int] = []
    above = list(range(len(other) + 1))
    for row, letter in enumerate(one, 1):
        here = [row]
        for column, opposite in enumerate(other, 1):
            cost = min(above[column] + 1, here[-1] + 1, above[column - 1] + (letter != opposite))
            if row > 1 < column and letter == other[column - 2] and one[row - 2] == opposite:
                cost = min(cost, before[column - 2] + 1)
            here.append(cost)
        before, above = above, here
    return above[-1]


def _plain(name: str) -> str:
    return "".join(letter for letter in name.casefold() if letter not in "-_ ")


def _likeness(wanted: str, other: str) -> float:
    if wanted and (other.startswith(wanted) or wanted.startswith(other)) and other:
        return max(_CLOSE, SequenceMatcher(None, wanted, other).ratio())
    return SequenceMatcher(None, wanted, other).ratio()


def shortened(name: str) -> str:
    """Cut a name after 60 letters."""
    return name if len(name) <= _LONGEST else f"{name[:_LONGEST]}…"


def listed(names: Iterable[str], last: str = "and") -> str:
    """Write names as a person would: `a`, `b` and `c`, each in backticks; long ones are cut."""
    quoted = [f"`{shortened(name)}`" for name in names]
    if len(quoted) < 2:  # noqa: PLR2004 - one name needs no comma
        return "".join(quoted)
    return f"{', '.join(quoted[:-1])} {last} {quoted[-1]}"
