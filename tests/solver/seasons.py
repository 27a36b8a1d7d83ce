"""Small seasons for the exact solver: some invented, more of them random with fixed seeds."""

from __future__ import annotations

import random

from handbook.domain.season import (
    Mix,
    MusicKind,
    PassageNeed,
    SeasonDay,
    SeasonNeed,
    Stretch,
)

_MINUTES = (8, 10, 12, 14, 15, 18, 20)
_SHARES = (Mix(8, 1, 1), Mix(7, 2, 1), Mix(5, 2, 3))


def random_season(seed: int) -> SeasonNeed:
    """Draw a season of 3 to 7 rehearsals, 1 to 4 passages in one or two pieces, 1 to 3 stages."""
    draw = random.Random(seed)
    count, passages = draw.randint(3, 7), draw.randint(1, 4)
    stages = draw.randint(1, min(3, count - 1))
    of_days = sorted([*range(stages), *(draw.randrange(stages) for _ in range(count - stages))])
    days = tuple(
        SeasonDay(
            draw.choice(_MINUTES) if draw.random() < 0.9 else 0,
            stage,
            shortest=3,
            longest=12 if stage == stages - 1 else draw.choice((6, 8, 10)),
        )
        for stage in of_days
    )
    first_of_last = of_days.index(stages - 1)
    needs = tuple(
        PassageNeed(
            visits=visits,
            settled=min(max(0, count - 2), first_of_last + draw.randint(0, 2)),
            weight=visits * draw.randint(1, 3),
        )
        for visits in (draw.randint(1, 5) for _ in range(passages))
    )
    stretches, gaps = _stretches(draw, passages, stages)
    return SeasonNeed(
        days=days,
        passages=needs,
        stretches=stretches,
        mixes=_SHARES[-stages:],
        window=draw.randint(2, 2 + passages),
        gaps=gaps,
    )


def tight_season(seed: int) -> SeasonNeed:
    """Draw a season in which a rehearsal holds one block or two, and the laws want more."""
    draw = random.Random(seed)
    count, passages = draw.randint(3, 7), draw.randint(2, 4)
    first_of_last = draw.randint(0, count - 1)
    return SeasonNeed(
        days=tuple(
            SeasonDay(draw.choice((3, 3, 4, 6, 7)), int(place >= first_of_last > 0), 3, 10)
            for place in range(count)
        ),
        passages=tuple(
            PassageNeed(visits, draw.randint(0, count - 2), visits * draw.randint(1, 3))
            for visits in (draw.randint(1, 3) for _ in range(passages))
        ),
        stretches=(),
        mixes=_SHARES[-2:],
        window=draw.randint(1, 1 + passages),
    )


def _stretches(draw: random.Random, passages: int, stages: int) -> tuple[tuple[Stretch, ...], int]:
    cut = draw.randint(1, passages)
    found: list[Stretch] = []
    gaps = 0
    for piece, (first, end) in enumerate(((0, cut), (cut, passages))):
        members = tuple(range(first, end))
        if not members:
            continue
        own = range(gaps, gaps + draw.randint(0, 2))
        gaps = own.stop
        slow = draw.randint(3, 7)
        minutes = tuple(max(2, slow - stage) for stage in range(stages))
        found.append(Stretch(MusicKind.RUN, piece, members, frozenset(own), minutes))
        for one in members[:-1]:
            short = tuple(max(1, whole - 2) for whole in minutes)
            found.append(Stretch(MusicKind.JOIN, piece, (one, one + 1), frozenset(own[:1]), short))
    return tuple(found), gaps
