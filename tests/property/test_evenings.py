"""Laws of the evenings at home, whatever a band plays and a player does."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.domain.evenings import longest_wait
from handbook.domain.home_days import HomeDays, HomeEvening, home_evenings
from handbook.plan.evenings import HomeSet
from tests.home_days import after, some_days, some_set, some_ticks

BANDS = st.integers(0, 2**32).map(Random)
FEWEST, MOST, SHORTEST = 2, 4, 2


def drawn(random: Random) -> tuple[HomeDays, HomeSet]:
    days = some_days(random)
    return days, some_set(random, days)


def played(evening: HomeEvening) -> list[str]:
    return [share.id for share in evening.shares if not share.exercise]


def there_are(days: HomeDays, own: HomeSet, evening: HomeEvening) -> list[str]:
    """The passages that are practiced on an evening, by the rule for opening and closing."""
    meet = days.meets[evening.meet].day
    return [
        one.id
        for one in days.passages
        if one.id in own.passages and one.opens <= meet and evening.day < one.closes
    ]


@settings(max_examples=40, deadline=None)
@given(BANDS)
def test_the_minutes_are_shared_out_to_the_last_one(random: Random) -> None:
    days, own = drawn(random)
    for evening in home_evenings(days, own.passages, own.exercises, some_ticks(random, own)):
        names = [share.id for share in evening.shares]
        assert sum(share.minutes for share in evening.shares) == evening.minutes
        assert len(set(names)) == len(names)
        assert all(share.minutes >= (1 if share.exercise else SHORTEST) for share in evening.shares)
        passages, there = played(evening), there_are(days, own, evening)
        assert set(passages) <= set(there)
        assert min(FEWEST, len(there)) <= len(passages) <= MOST
        exercises = set(days.meets[evening.meet].exercises) & set(own.exercises)
        assert len(names) - len(passages) == bool(exercises)
        assert not exercises or names[0] in exercises


@settings(max_examples=40, deadline=None)
@given(BANDS)
def test_each_passage_comes_back(random: Random) -> None:
    days, own = drawn(random)
    evenings = home_evenings(days, own.passages, own.exercises)
    if not evenings or not own.passages:
        return
    least = [5 if one.resting else one.minutes for one in evenings]
    wait = longest_wait(len(own.passages), least)
    for name in own.passages:
        waited = 0
        for evening in evenings:
            waited = waited + 1 if name in there_are(days, own, evening) else 0
            assert waited <= wait
            waited = 0 if name in played(evening) else waited


@settings(max_examples=40, deadline=None)
@given(BANDS)
def test_what_is_played_next_has_half_of_the_places(random: Random) -> None:
    days, own = drawn(random)
    since_meet: dict[int, set[str]] = {}
    for evening in home_evenings(days, own.passages, own.exercises):
        since = since_meet.setdefault(evening.meet, set())
        plays = days.meets[evening.meet].plays
        pressing = plays & {*there_are(days, own, evening)} - since
        chosen = played(evening)
        if pressing - {*chosen}:
            by_turns = max(1, len(chosen) // 2)
            assert len(pressing & {*chosen}) >= len(chosen) - by_turns
        since.update(chosen)


@settings(max_examples=40, deadline=None)
@given(BANDS)
def test_a_later_rehearsal_changes_no_evening_before_the_one_ahead_of_it(random: Random) -> None:
    days, own = drawn(random)
    place = random.randrange(1, len(days.meets))
    names = [one.id for one in days.passages]
    other = replace(
        days.meets[place],
        minutes=random.randint(5, 60),
        plays=frozenset(name for name in names if random.random() < 0.5),
        exercises=("e1", "e3"),
    )
    changed = replace(days, meets=(*days.meets[:place], other, *days.meets[place + 1 :]))

    def before(of: HomeDays) -> list[HomeEvening]:
        planned = home_evenings(of, own.passages, own.exercises)
        return [one for one in planned if one.meet < place]

    assert before(changed) == before(days)


@settings(max_examples=40, deadline=None)
@given(BANDS)
def test_ticks_move_only_what_is_ahead_and_only_if_something_was_left(random: Random) -> None:
    days, own = drawn(random)
    planned = home_evenings(days, own.passages, own.exercises)
    as_planned = {one.day: [share.id for share in one.shares] for one in planned}
    assert home_evenings(days, own.passages, own.exercises, as_planned) == planned
    tonight = after(random.randrange(50))
    ticks = some_ticks(random, own)
    earlier = {day: names for day, names in ticks.items() if day < tonight}

    def until(done: dict[date, list[str]]) -> list[HomeEvening]:
        found = home_evenings(days, own.passages, own.exercises, done)
        return [one for one in found if one.day <= tonight]

    assert until(ticks) == until(earlier)
