"""What has been stays: the rehearsals before a piece of news, as they were planned then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from handbook.domain.meetings import Rehearsal
from handbook.plan.model import EnsemblePlan, RehearsalRow
from handbook.plan.season_need import Past


def held_rows(
    before: EnsemblePlan | None, since: date | None, rehearsals: Sequence[Rehearsal]
) -> tuple[RehearsalRow, ...]:
    """Give the rows of the plan before that lie ahead of the news and are still held."""
    if before is None or since is None:
        return ()
    held = []
    for row, now in zip(before.rehearsals, rehearsals, strict=False):
        if row.rehearsal.day >= since or row.rehearsal.start != now.start:
            break
        held.append(row)
    return tuple(held)


def past_music(before: EnsemblePlan | None, since: date | None, held: int) -> Past | None:
    """Give the music of the first `held` rehearsals as it was planned then."""
    if before is None or since is None:
        return None
    rows = before.rehearsals[:held]
    return Past(
        since,
        tuple(tuple(block.music for block in row.agenda.blocks if block.music) for row in rows),
        before.pieces,
    )


def keeping(held: Sequence[RehearsalRow], rows: Sequence[RehearsalRow]) -> tuple[RehearsalRow, ...]:
    """Put the held rows in place of the new ones; only how many there are may differ."""
    return (
        *(
            replace(old, rehearsal=new.rehearsal, stage=new.stage, entries=new.entries)
            for old, new in zip(held, rows, strict=False)
        ),
        *rows[len(held) :],
    )
