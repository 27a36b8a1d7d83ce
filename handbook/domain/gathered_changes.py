"""Changes told together: the rehearsals of one band that are new, or no more, in one sentence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from handbook.domain.facts import ChangeKind, Fact, FactChange, Topic
from handbook.records import dataclass

_REHEARSAL = 4  # steps of the key of a rehearsal: cycle, ensemble, the word, the day
_WORD = "rehearsal"
_NO_NOTES: Mapping[date, str] = {}


@dataclass(frozen=True, slots=True)
class GatheredChange:
    """One sentence, and the changes that it tells of."""

    sentence: str
    changes: tuple[FactChange, ...]

    @property
    def readers(self) -> tuple[str, ...]:
        """All whom it concerns, the same for each of its changes; none for everyone."""
        return self.changes[0].readers


def gathered(
    changes: Sequence[FactChange], names: Mapping[str, str], *, headed: bool = False
) -> tuple[GatheredChange, ...]:
    """Tell changes in as few sentences as say the same, each where the first of its changes stands.

    Told together are rehearsals of one band that are no more, and those that are new at the
    same hour. `names` are those of ensembles by their ids; one that is not among them goes
    by its id. Under a heading (`headed`) the name of the one band that a sentence is for is
    not said again.
    """
    groups: dict[object, list[FactChange]] = {}
    for change in changes:
        groups.setdefault(_series(change), []).append(change)
    return tuple(
        GatheredChange(_sentence(found, names, headed=headed), tuple(found))
        for found in groups.values()
    )


def dates_in_words(days: Sequence[date], notes: Mapping[date, str] = _NO_NOTES) -> str:
    """List dates in order, each month once: `Nov 30, Dec 2, 7 and 9`; `notes` stand behind theirs."""
    said, month = [], None
    for day in sorted(set(days)):
        named = f"{day:%b} {day.day}" if (day.year, day.month) != month else str(day.day)
        said.append(f"{named} ({notes[day]})" if day in notes else named)
        month = (day.year, day.month)
    return " and ".join([", ".join(said[:-1]), said[-1]] if len(said) > 1 else said)


def _series(change: FactChange) -> object:
    """Give what is equal for changes that are told together; each other change is alone."""
    cycle, ensemble, *rest = [*change.key.split("/"), "", ""]
    is_rehearsal = change.key.count("/") == _REHEARSAL - 1 and rest[0] == _WORD
    if not is_rehearsal or change.fact.topic is not Topic.DAY or change.fact.day is None:
        return change.key
    if change.kind is ChangeKind.GONE:
        return cycle, ensemble, change.readers, change.kind
    if change.kind is ChangeKind.ADDED:
        return cycle, ensemble, change.readers, change.kind, change.fact.value
    return change.key


def _sentence(changes: Sequence[FactChange], names: Mapping[str, str], *, headed: bool) -> str:
    first = changes[0]
    band = names.get(first.readers[0], first.readers[0]) if len(first.readers) == 1 else ""
    if len(changes) > 1:
        days = [change.fact.day for change in changes if change.fact.day]
        told = f"rehearsals on {dates_in_words(days, _hours_of_several(changes))}"
        of_whom = told if headed else f"{band}, {told}"
        if first.kind is ChangeKind.GONE:
            return f"No longer: {of_whom}"
        return f"New: {of_whom}: {first.fact.value}"
    if not headed or not band:
        return first.sentence
    sides = (_without(side, f"{band}, ") for side in (first.old, first.new))
    sentence = FactChange(*sides).sentence
    return sentence[:1].upper() + sentence[1:]


def _hours_of_several(changes: Sequence[FactChange]) -> Mapping[date, str]:
    """Give the hours on days with several rehearsals, unless they are told of all."""
    hours: dict[date, list[str]] = {}
    for change in changes:
        if change.kind is ChangeKind.GONE and change.fact.day:
            hours.setdefault(change.fact.day, []).append(change.fact.value)
    return {day: " and ".join(found) for day, found in hours.items() if len(found) > 1}


def _without(fact: Fact | None, name: str) -> Fact | None:
    return replace(fact, about=fact.about.removeprefix(name)) if fact else None
