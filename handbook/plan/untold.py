"""Lost rehearsals that nobody dated: which lines of the content would keep what was said before them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from handbook.plan.players import players_of
from handbook.plan.school_days import days_of
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.cycle import Cancellation, Cycle, ExtraMeeting
from handbook.schema.handbook import Handbook, Sourced


@dataclass(frozen=True, slots=True)
class LostRehearsal:
    """A rehearsal that is not held on its day any more: ids of its cycle and its ensemble."""

    cycle: str
    ensemble: str
    day: date


def untold(handbook: Handbook, lost: Iterable[LostRehearsal]) -> tuple[Address, ...]:
    """Give the closures, cancellations and moves that took rehearsals and say nothing under `told`.

    In the order of the rehearsals, each once. What `held_until` of the cycle dates is none.
    """
    cycles = {content.id: content for content in handbook.cycles}
    found: dict[Address, None] = {}
    for one in lost:
        content = cycles.get(one.cycle)
        if content is None:
            continue
        held = content.cycle.item.held_until
        if held is None or one.day <= held:
            year = handbook.years[content.cycle.item.year]
            closed = (
                (year.file, "closures", place)
                for place, closure in enumerate(year.item.closures)
                if closure.told is None and one.day in days_of(closure, year.item)
            )
            found |= dict.fromkeys(closed)
            found |= dict.fromkeys(_own(handbook, content.cycle, one))
    return tuple(found)


def _own(handbook: Handbook, cycle: Sourced[Cycle], lost: LostRehearsal) -> Iterator[Address]:
    """Give the lines of the cycle itself that took a rehearsal away."""
    whose = [
        players
        for band in handbook.program.item.ensembles
        for players in players_of(band)
        if players.id == lost.ensemble
    ]
    taken: tuple[tuple[str, int, Cancellation | ExtraMeeting, date | None], ...] = (
        *(("cancelled", place, one, one.date) for place, one in enumerate(cycle.item.cancelled)),
        *(("extra", place, one, one.instead_of) for place, one in enumerate(cycle.item.extra)),
    )
    for field, place, entry, day in taken:
        named = any(players.named_by(entry) for players in whose)
        if named and entry.told is None and day == lost.day:
            yield (cycle.file, field, place)
