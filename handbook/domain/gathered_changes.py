"""Changes that are told together: the rehearsals of one band that are new, or no more."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.domain.facts import ChangeKind, FactChange, Topic

_REHEARSAL = 4  # steps of the key of a rehearsal: cycle, ensemble, the word, the day
_WORD = "rehearsal"


def gathered(changes: Sequence[FactChange]) -> tuple[tuple[FactChange, ...], ...]:
    """Put those together that one sentence can tell, each group where its first change stands.

    They are rehearsals of one band that are no more, and those that are new at the same hour.
    All of a group have the same readers.
    """
    groups: dict[object, list[FactChange]] = {}
    for change in changes:
        groups.setdefault(_series(change), []).append(change)
    return tuple(map(tuple, groups.values()))


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
