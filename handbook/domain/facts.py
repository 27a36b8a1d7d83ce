"""What readers can act on, fact by fact, and what changed from one list of facts to another."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from enum import IntEnum, StrEnum

from handbook.records import dataclass


class Topic(IntEnum):
    """What a fact is about; the smaller, the sooner a reader must know."""

    DAY = 0  # the day and the hour, or that there is none
    CALL = 1  # when to be there, and when it is over
    PLACE = 2
    THINGS = 3  # what to wear, to bring and to know
    MUSIC = 4  # what is played, in which order, and the steps of the day
    GOAL = 5
    TEMPO = 6  # what to reach in a week


@dataclass(frozen=True, slots=True)
class ToldFact:
    """What a fact says in a language (BCP 47), if that is not the one it is kept in."""

    language: str
    about: str
    value: str


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that a reader can act on.

    The `key` is made of ids, never of positions, so that it stays where a thing stays; each
    but the topmost begins with the key of what it belongs to and a slash. `readers` are ids of
    ensembles, none for everyone. `about` and `value` make its sentence; `told` has them in other
    languages, which are never compared. `day` is the first day that it matters, None for all of
    a cycle; for a fact of the topic DAY the day itself, so that another day of the same key is a
    move. What is `cancelled` stays in the list, says so, and has no parts that readers would
    act on.
    """

    key: str
    readers: tuple[str, ...]
    topic: Topic
    about: str
    value: str
    day: date | None = None
    cancelled: bool = False
    told: tuple[ToldFact, ...] = ()


class ChangeKind(StrEnum):
    """What became of a fact."""

    ADDED = "added"
    GONE = "gone"
    ALTERED = "altered"
    MOVED = "moved"  # to another day
    CANCELLED = "cancelled"


@dataclass(frozen=True, slots=True)
class FactChange:
    """A fact that is new (no `old`), that is no more (no `new`), or that is another than it was."""

    old: Fact | None
    new: Fact | None

    @property
    def kind(self) -> ChangeKind:
        """What became of it."""
        if self.old is None:
            return ChangeKind.ADDED
        if self.new is None:
            return ChangeKind.GONE
        if self.new.cancelled and not self.old.cancelled:
            return ChangeKind.CANCELLED
        moved = _own_day(self.old) != _own_day(self.new)
        return ChangeKind.MOVED if moved else ChangeKind.ALTERED

    @property
    def fact(self) -> Fact:
        """The fact as it is, else as it was."""
        found = self.new or self.old
        assert found is not None, "a change has an old or a new side"
        return found

    @property
    def key(self) -> str:
        """The key of the fact."""
        return self.fact.key

    @property
    def readers(self) -> tuple[str, ...]:
        """All whom it concerns, as it was or as it is; none for everyone."""
        sides = [side.readers for side in (self.old, self.new) if side]
        if not all(sides):
            return ()
        return tuple(dict.fromkeys(one for readers in sides for one in readers))


def compare(old: Iterable[Fact], new: Iterable[Fact]) -> tuple[FactChange, ...]:
    """Give what is unlike in two lists of facts, the most urgent first.

    Urgent is the nearest day, then the topic. Equal are facts of one key whose values and
    readers are equal, and their days if they are about a day.
    """
    return _changes(_by_key(old), _by_key(new))


def compose(first: Iterable[FactChange], second: Iterable[FactChange]) -> tuple[FactChange, ...]:
    """Give the changes from before the first to after the second, which follow one another."""
    earlier = {change.key: change for change in first}
    later = {change.key: change for change in second}
    old = {key: change.old for key, change in (later | earlier).items() if change.old}
    new = {key: change.new for key, change in (earlier | later).items() if change.new}
    return _changes(old, new)


def without_parts(changes: Iterable[FactChange]) -> tuple[FactChange, ...]:
    """Leave out what goes without saying: parts of a thing that is new, gone or cancelled as a whole.

    So are the steps that belong to a call which is another now, and are at another time too.
    """
    found = tuple(changes)
    whole = {(change.key, _OF_PARTS[change.kind]) for change in found if change.kind in _OF_PARTS}
    whole |= {
        (change.key, change.kind)
        for change in found
        if change.kind is ChangeKind.ALTERED and change.fact.topic is Topic.CALL
    }
    return tuple(
        change
        for change in found
        if not any((above, change.kind) in whole for above in _above(change.key))
    )


# What becomes of the parts of a whole, and goes without saying.
_OF_PARTS = {
    ChangeKind.ADDED: ChangeKind.ADDED,
    ChangeKind.GONE: ChangeKind.GONE,
    ChangeKind.CANCELLED: ChangeKind.GONE,
}


def _by_key(facts: Iterable[Fact]) -> Mapping[str, Fact]:
    found: dict[str, Fact] = {}
    for fact in facts:
        if fact.key in found:
            raise ValueError(f"two facts have the key {fact.key}")
        found[fact.key] = fact
    return found


def _changes(old: Mapping[str, Fact], new: Mapping[str, Fact]) -> tuple[FactChange, ...]:
    pairs = (FactChange(old.get(key), new.get(key)) for key in old.keys() | new.keys())
    return tuple(sorted(filter(_differ, pairs), key=_urgency))


def _differ(change: FactChange) -> bool:
    old, new = change.old, change.new
    return not (old and new and _said(old) == _said(new))


def _said(fact: Fact) -> tuple[object, ...]:
    return fact.value, fact.readers, fact.cancelled, _own_day(fact)


def _own_day(fact: Fact) -> date | None:
    return fact.day if fact.topic is Topic.DAY else None


def _urgency(change: FactChange) -> tuple[date, Topic, str]:
    days = [side.day for side in (change.old, change.new) if side and side.day]
    return min(days, default=date.max), change.fact.topic, change.key


def _above(key: str) -> Iterable[str]:
    steps = key.split("/")
    return ("/".join(steps[:length]) for length in range(1, len(steps)))
