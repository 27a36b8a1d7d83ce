"""A season is planned as it was: whoever changes its plans on purpose writes the file anew.

How good the plans are is judged in tests/solver; here only that a change of the code does not
move what a band has been told, without anybody meaning it to.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from handbook.domain.season import Mix, MusicBlock, MusicKind, PassageNeed, SeasonDay, SeasonNeed
from handbook.domain.season_planner import plan_season
from tests.solver.seasons import random_season, tight_season

KEPT = Path(__file__).with_name("seasons_kept.txt")
LETTERS = {MusicKind.PASSAGE: "p", MusicKind.JOIN: "j", MusicKind.RUN: "r"}


def steered(seed: int) -> SeasonNeed:
    """Draw a season with orders for some days, at times a dropped passage, at times some days held."""
    need, draw = random_season(seed), random.Random(f"orders {seed}")
    days = [_ordered(need, day, draw) for day in need.days]
    passages = list(need.passages)
    if draw.random() < 0.3:
        place = draw.randrange(len(passages))
        passages[place] = replace(passages[place], dropped=True)
    need = replace(need, days=tuple(days), passages=tuple(passages))
    if draw.random() < 0.4:
        blocks = plan_season(need).blocks
        held = draw.randint(1, len(days) - 1)
        days[:held] = [
            replace(day, held=row, minutes=sum(block.minutes for block in row))
            for day, row in zip(days[:held], blocks, strict=False)
        ]
    return replace(need, days=tuple(days))


def crowded(seed: int) -> SeasonNeed:
    """Draw a season of more passages than its rehearsals hold, so that each one's room is another's."""
    draw = random.Random(f"crowded {seed}")
    count, passages = draw.randint(10, 16), draw.randint(8, 14)
    return SeasonNeed(
        days=tuple(
            SeasonDay(draw.randint(8, 20), int(2 * place >= count), 3, 10) for place in range(count)
        ),
        passages=tuple(
            PassageNeed(visits, draw.randint(count // 2, count - 2), visits * draw.randint(1, 3))
            for visits in (draw.randint(1, 6) for _ in range(passages))
        ),
        stretches=(),
        mixes=(Mix(1, 0, 0),) * 2,
        window=draw.randint(3, passages),
    )


def _ordered(need: SeasonNeed, day: SeasonDay, draw: random.Random) -> SeasonDay:
    if not day.minutes or draw.random() < 0.5:
        return day
    runs = [
        (place, stretch.minutes[day.stage])
        for place, stretch in enumerate(need.stretches)
        if stretch.kind is MusicKind.RUN and stretch.minutes[day.stage] < day.minutes
    ]
    wished = [(draw.randrange(len(need.passages)), draw.choice((None, None, 4)))]
    return replace(day, runs=tuple(runs[:1]), passages=tuple(wished))


def seasons() -> Iterator[tuple[str, SeasonNeed]]:
    yield from ((f"random {seed}", random_season(seed)) for seed in range(60))
    yield from ((f"tight {seed}", tight_season(seed)) for seed in range(40))
    yield from ((f"steered {seed}", steered(seed)) for seed in range(60))
    yield from ((f"crowded {seed}", crowded(seed)) for seed in range(20))


def shown(rows: tuple[tuple[MusicBlock, ...], ...]) -> str:
    """Write a season: `p0:6 j1:4 | ...`, a day after each bar."""
    return " | ".join(
        " ".join(f"{LETTERS[block.kind]}{block.index}:{block.minutes}" for block in row)
        for row in rows
    )


def test_seasons_are_planned_as_before(rewrite: bool) -> None:
    lines = []
    for name, need in seasons():
        season = plan_season(need)
        lacking = " ".join(
            f"{unmet.law.name.lower()}-{unmet.lack}-{unmet.passage}-{unmet.gap}-{unmet.first}-{unmet.last}"
            for unmet in season.unmet
        )
        lines.append(f"{name}: {shown(season.blocks)} / {lacking}")
    if rewrite:
        KEPT.write_text("\n".join(lines) + "\n", encoding="utf-8")
    assert lines == KEPT.read_text("utf-8").splitlines()
