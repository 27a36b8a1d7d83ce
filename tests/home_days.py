"""Bands with evenings at home, drawn at random."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

from handbook.domain.home_days import HomeDays, HomePassage, Meet
from handbook.plan.evenings import HomeSet

FIRST = date(2026, 10, 26)


def after(days: int) -> date:
    return FIRST + timedelta(days=days)


def some_days(random: Random) -> HomeDays:
    """Draw a band: rehearsals, concerts, breaks, and passages that open and close."""
    at = sorted(random.sample(range(50), random.randint(2, 16)))
    passages = [
        HomePassage(
            f"piece-{place % 3}/p{place}",
            random.randint(1, 3),
            after(random.choice([-400, -400, 0, *at])),
            random.choice([date.max, date.max, after(random.choice(at))]),
            tuple((after(7 * week), random.randint(0, 60)) for week in range(random.randint(1, 7))),
        )
        for place in range(random.randint(0, 14))
    ]
    names = [one.id for one in passages]
    rehearsed = names if random.random() < 0.5 else names[: len(names) // 3]
    shortest = random.choice([5, 5, 10, 15, 120])
    return HomeDays(
        tuple(
            Meet(
                after(day),
                random.choice([0, *[random.randint(5, shortest)] * 6]),
                frozenset(random.sample(rehearsed, random.randint(0, len(rehearsed)))),
                tuple(f"e{n}" for n in range(5) if random.random() < 0.6),
            )
            for day in at
        ),
        tuple(passages),
        frozenset(after(random.choice(at)) for _ in range(random.randint(0, 2))),
        frozenset(after(day) for day in range(random.randint(20, 24), random.randint(22, 30))),
    )


def some_set(random: Random, days: HomeDays) -> HomeSet:
    """Draw what a part has of it."""
    names = [one.id for one in days.passages if random.random() < 0.8]
    return HomeSet(tuple(names), tuple(f"e{n}" for n in range(5) if random.random() < 0.7))


def some_ticks(random: Random, own: HomeSet) -> dict[date, list[str]]:
    """Draw what was done on some days, also beside what was planned."""
    names = [*own.passages, *own.exercises]
    share = random.choice([0, 0.2, 0.9])
    return {
        after(day): random.sample(names, random.randint(0, min(len(names), 4)))
        for day in range(50)
        if random.random() < share
    }
