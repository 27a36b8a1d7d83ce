"""Laws of facts and changes: they follow from what a change is, and hold for any lists."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.facts import (
    ChangeKind,
    Fact,
    FactChange,
    ToldFact,
    Topic,
    compare,
    compose,
    without_parts,
)

KEYS = st.sampled_from(["a", "a/x", "a/x/y", "b", "b/x", "ab", "c"])
DAYS = st.none() | st.sampled_from([date(2026, 11, 30), date(2026, 12, 1), date(2026, 12, 17)])


@st.composite
def facts(draw: st.DrawFn) -> tuple[Fact, ...]:
    keys = draw(st.lists(KEYS, unique=True))
    return tuple(
        Fact(
            key,
            draw(st.sampled_from([(), ("lantern",), ("lantern", "harbor")])),
            draw(st.sampled_from(Topic)),
            key,
            draw(st.sampled_from(["1", "2", "3"])),
            draw(DAYS),
            draw(st.booleans()),
        )
        for key in keys
    )


def what_counts(fact: Fact) -> tuple[object, ...]:
    """Give what a reader must know anew: of a fact about a day also which day it is."""
    own_day = fact.day if fact.topic is Topic.DAY else None
    return fact.value, fact.readers, fact.cancelled, own_day


def applied(
    old: tuple[Fact, ...], changes: tuple[FactChange, ...]
) -> dict[str, tuple[object, ...]]:
    """Make the changes by hand."""
    found = {fact.key: what_counts(fact) for fact in old}
    for change in changes:
        assert found.get(change.key) == (change.old and what_counts(change.old))
        if change.new:
            found[change.key] = what_counts(change.new)
        else:
            del found[change.key]
    return found


@given(facts())
def test_nothing_changes_from_a_list_to_itself(one: tuple[Fact, ...]) -> None:
    assert compare(one, reversed(one)) == ()


@given(facts(), facts())
def test_changes_lead_from_the_old_list_to_the_new(
    old: tuple[Fact, ...], new: tuple[Fact, ...]
) -> None:
    assert applied(old, compare(old, new)) == {one.key: what_counts(one) for one in new}


@given(facts(), facts(), facts())
def test_changes_compose(
    first: tuple[Fact, ...], second: tuple[Fact, ...], third: tuple[Fact, ...]
) -> None:
    both = compose(compare(first, second), compare(second, third))
    assert applied(first, both) == {one.key: what_counts(one) for one in third}
    whole = compare(first, third)
    assert {one.key: one.kind for one in both} == {one.key: one.kind for one in whole}


@given(facts(), facts())
def test_the_nearest_day_comes_first_and_on_a_day_the_most_urgent(
    old: tuple[Fact, ...], new: tuple[Fact, ...]
) -> None:
    found = compare(old, new)
    days = [
        min((side.day for side in (one.old, one.new) if side and side.day), default=date.max)
        for one in found
    ]
    assert days == sorted(days)
    for (day, one), (next_day, other) in zip(
        zip(days, found, strict=True), list(zip(days, found, strict=True))[1:], strict=False
    ):
        assert day < next_day or one.fact.topic <= other.fact.topic


@given(facts(), facts())
def test_parts_of_what_is_new_gone_or_cancelled_go_without_saying(
    old: tuple[Fact, ...], new: tuple[Fact, ...]
) -> None:
    found = compare(old, new)
    kept = without_parts(found)
    kinds = {one.key: one.kind for one in found}
    calls = {
        one.key for one in found if one.kind is ChangeKind.ALTERED and one.fact.topic is Topic.CALL
    }
    wholes = {
        ChangeKind.ADDED: {ChangeKind.ADDED},
        ChangeKind.GONE: {ChangeKind.GONE, ChangeKind.CANCELLED},
    }
    for one in found:
        parts = one.key.split("/")
        above = ["/".join(parts[:n]) for n in range(1, len(parts))]
        said = any(kinds.get(name) in wholes.get(one.kind, set()) for name in above)
        if one.kind is ChangeKind.ALTERED:
            said = any(name in calls for name in above)
        assert (one in kept) is not said


def test_two_facts_of_one_key_are_refused() -> None:
    fact = Fact("a", (), Topic.DAY, "a", "1")
    with pytest.raises(ValueError, match="two facts have the key a"):
        compare([fact, fact], [])


def test_what_is_moved_cancelled_and_on_again() -> None:
    was, now = date(2026, 12, 3), date(2026, 12, 5)
    old = Fact("w/r", ("lantern",), Topic.DAY, "Lantern Band on Thu, Dec 3", "10:05 am", was)
    new = replace(old, day=now)
    off = replace(new, value="cancelled: Ice", cancelled=True)
    kinds = [compare([old], [new]), compare([old], [off]), compare([off], [new])]
    assert [one.kind for (one,) in kinds] == [
        ChangeKind.MOVED,
        ChangeKind.CANCELLED,
        ChangeKind.ALTERED,
    ]
    part = Fact("w/r/room", ("lantern",), Topic.PLACE, "Room", "Gym", was)
    assert compare([part], [replace(part, day=now)]) == ()


def test_what_is_told_in_another_language_is_not_compared() -> None:
    old = Fact("w", (), Topic.CALL, "Doors", "6:30 pm", told=(ToldFact("es", "Puertas", "18:30"),))
    assert compare([old], [replace(old, told=())]) == ()
