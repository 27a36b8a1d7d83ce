"""Facts and changes in sentences, in the language of the moment."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from handbook.domain.facts import ChangeKind, Fact, FactChange
from handbook.domain.gathered_changes import gathered
from handbook.outputs.components.concert_words import unended
from handbook.outputs.components.event_words import capital
from handbook.outputs.html.formatting import listed, month_day, short_day
from handbook.outputs.i18n import gettext, speech
from handbook.outputs.i18n.formats import formats, with_clauses
from handbook.outputs.i18n.other_language import marked
from handbook.records import dataclass

_NO_NOTES: Mapping[date, str] = {}
_MONTH_FIRST = "MMM d"  # the pattern of a day whose month need not be said again


@dataclass(frozen=True, slots=True)
class ToldChange:
    """One sentence, and the changes that it tells of."""

    sentence: str
    changes: tuple[FactChange, ...]

    @property
    def readers(self) -> tuple[str, ...]:
        """All whom it concerns, the same for each of its changes; none for everyone."""
        return self.changes[0].readers


def fact_words(fact: Fact) -> str:
    """Tell a fact, `Winter Concert, doors: 6:30 pm`."""
    return gettext("%(about)s: %(value)s", about=fact.about, value=fact.value)


def change_in(change: FactChange, language: str, first: str) -> FactChange:
    """Give a change with its facts as they are told in a language of the site, whose `first` is another.

    A fact that was kept before the site had that language stays as it is, with a mark.
    """
    if change.old is None or change.new is None:
        side = _fact_in(change.fact, language, first)
        return FactChange(None, side) if change.old is None else FactChange(side, None)
    return FactChange(*(_fact_in(side, language, first) for side in (change.old, change.new)))


def _fact_in(fact: Fact, language: str, first: str) -> Fact:
    for told in fact.told:
        if told.language == language:
            return replace(fact, about=told.about, value=told.value)
    if language == first:
        return fact
    return replace(fact, about=marked(fact.about, first), value=marked(fact.value, first))


def change_words(change: FactChange) -> str:
    """Tell a change as a family reads it."""
    if change.old is None:
        return gettext("New: %(fact)s", fact=fact_words(change.fact))
    if change.new is None:
        return gettext("No longer: %(fact)s", fact=fact_words(change.fact))
    return _told(change.old, change.new, change.kind)


def _told(old: Fact, new: Fact, kind: ChangeKind) -> str:
    now, before = unended(new.value), unended(old.value)
    if kind is ChangeKind.CANCELLED:
        return gettext(
            "%(about)s: %(why)s; it was %(before)s", about=old.about, why=now, before=old.value
        )
    if old.cancelled and not new.cancelled:
        return gettext("On again: %(fact)s", fact=fact_words(new))
    if kind is ChangeKind.MOVED and old.day:
        return gettext(
            "%(about)s: now %(now)s, moved from %(day)s",
            about=new.about,
            now=now,
            day=short_day(old.day),
        )
    if new.value == old.value:
        return gettext("For other readers than before: %(fact)s", fact=fact_words(new))
    return gettext(
        "%(about)s: now %(now)s, before %(before)s", about=new.about, now=now, before=before
    )


def told_together(
    changes: Sequence[FactChange], names: Mapping[str, str], *, headed: bool = False
) -> tuple[ToldChange, ...]:
    """Tell changes in as few sentences as say the same, each where the first of its changes stands.

    `names` are those of ensembles by their ids; one that is not among them goes by its id.
    Under a heading (`headed`) the name of the one band that a sentence is for is not said again.
    """
    return tuple(
        ToldChange(_sentence(found, names, headed=headed), found) for found in gathered(changes)
    )


def _sentence(changes: Sequence[FactChange], names: Mapping[str, str], *, headed: bool) -> str:
    first = changes[0]
    band = names.get(first.readers[0], first.readers[0]) if len(first.readers) == 1 else ""
    if len(changes) > 1:
        return _of_several(changes, "" if headed else band)
    if not headed or not band:
        return change_words(first)
    sides = (_without(side, band) for side in (first.old, first.new))
    return capital(change_words(FactChange(*sides)))


def _of_several(changes: Sequence[FactChange], band: str) -> str:
    """Tell rehearsals that are no more, or new at the same hour; the name of the band only if it is given."""
    first = changes[0]
    days = dates_in_words(
        [change.fact.day for change in changes if change.fact.day], _hours_of_several(changes)
    )
    if first.kind is ChangeKind.GONE:
        if not band:
            return gettext("No longer: rehearsals on %(days)s", days=days)
        return gettext("No longer: %(band)s, rehearsals on %(days)s", band=band, days=days)
    hours = first.fact.value
    if not band:
        return gettext("New: rehearsals on %(days)s: %(hours)s", days=days, hours=hours)
    return gettext(
        "New: %(band)s, rehearsals on %(days)s: %(hours)s", band=band, days=days, hours=hours
    )


def dates_in_words(days: Sequence[date], notes: Mapping[date, str] = _NO_NOTES) -> str:
    """List dates in order, each month once where it stands first: `Nov 30, Dec 2, 7 and 9`.

    `notes` stand behind theirs.
    """
    said, month = list[str](), None
    shortens = formats(speech().code).month_day == _MONTH_FIRST
    for day in sorted(set(days)):
        named = str(day.day) if shortens and (day.year, day.month) == month else month_day(day)
        said.append(
            gettext("%(day)s (%(hours)s)", day=named, hours=notes[day]) if day in notes else named
        )
        month = (day.year, day.month)
    return listed(said)


def _hours_of_several(changes: Sequence[FactChange]) -> Mapping[date, str]:
    """Give the hours on days with several rehearsals, unless they are told of all."""
    hours: dict[date, list[str]] = {}
    for change in changes:
        if change.kind is ChangeKind.GONE and change.fact.day:
            hours.setdefault(change.fact.day, []).append(change.fact.value)
    return {day: listed(found) for day, found in hours.items() if len(found) > 1}


def below(about: str, heading: str) -> str:
    """Say what a fact is about where it stands under a heading that says the first of it."""
    return about.removeprefix(with_clauses((heading, "")))


def _without(fact: Fact | None, name: str) -> Fact | None:
    return replace(fact, about=below(fact.about, name)) if fact else None
