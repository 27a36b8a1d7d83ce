"""Whom the opening thanks of each rehearsal go to, so that nobody is forgotten; our own rules."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

_FIRST_SENTENCE = re.compile(r".*?[.!?](?=\s|$)|.+", re.DOTALL)
_FOR = re.compile(r"\bfor\b", re.IGNORECASE)
_NEVER = 10**6  # rehearsals away: more than any cycle has


def thanks_in_turn(
    whom: Sequence[str],
    stated: Sequence[Iterable[str] | None],
    before: Mapping[str, int] | None = None,
) -> tuple[str | None, ...]:
    """Choose whom to thank at each rehearsal for which nothing is `stated`; None for the others.

    `stated` has for each rehearsal those who are thanked there, none for everyone, and None
    where someone is wanted. All that is stated counts from the start, that of later rehearsals
    too. Who has the fewest thanks comes next, so that no two counts differ by more than one
    in the end; where what is stated alone makes a larger difference, the others come up
    to it as far as there are rehearsals. Among those with as few, it is whoever is furthest from
    thanks of their own on either side, then who had the fewest in the cycles `before`, then who
    stands first. Nobody is chosen if there is nobody in `whom`.
    """
    earlier = before or {}
    days: dict[str, list[int]] = {one: [] for one in whom}
    for place, those in enumerate(stated):
        for one in set(those or ()) & days.keys():
            days[one].append(place)
    chosen: list[str | None] = []
    for place, those in enumerate(stated):
        if those is not None or not whom:
            chosen.append(None)
            continue
        best = min(
            whom,
            key=lambda one: (len(days[one]), -_distance(place, days[one]), earlier.get(one, 0)),
        )
        days[best].append(place)
        chosen.append(best)
    return tuple(chosen)


def _distance(place: int, days: Iterable[int]) -> int:
    return min((abs(place - day) for day in days), default=_NEVER)


def thanked_in(sentence: str, names: Mapping[str, Iterable[str]]) -> tuple[str, ...]:
    """Find whom an English sentence thanks, among ids with the `names` that each goes by.

    Only the first sentence counts, and of it what stands before "for", since what follows tells
    what the thanks are for: "Thank you, trumpets, for playing softly enough that we all heard
    the flutes" thanks the trumpets. Of names within each other the longest counts ("low
    brass", not "brass"), in any letter case. In the order in which they stand there.
    """
    found = _FIRST_SENTENCE.match(sentence.strip())
    addressed = _FOR.split(found[0])[0] if found else ""
    spans: list[tuple[int, int, str]] = []
    for name, whose in sorted(
        ((name, whose) for whose, those in names.items() for name in those),
        key=lambda pair: -len(pair[0]),
    ):
        words = r"[\s-]+".join(re.escape(word) for word in re.split(r"[\s-]+", name) if word)
        for match in re.finditer(rf"(?<!\w){words}(?!\w)", addressed, re.IGNORECASE):
            start, end = match.span()
            if not any(start < other_end and first < end for first, other_end, _ in spans):
                spans.append((start, end, whose))
    return tuple(dict.fromkeys(whose for _, _, whose in sorted(spans)))
