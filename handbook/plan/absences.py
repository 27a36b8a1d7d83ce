"""Who is at an event and so not in rehearsal: a band as a whole, or some of its players."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC

from handbook.domain.room_use import share_players, sharing_pairs
from handbook.plan.events_model import AwayRow, EventRow
from handbook.plan.parts import is_played, takes_part
from handbook.plan.players import Players
from handbook.plan.shared_players import shared_counts
from handbook.schema.program import Ensemble, Program


def absences(
    events: Sequence[EventRow], players: Players, program: Program, *, there: bool = False
) -> tuple[AwayRow, ...]:
    """Give all times at which players of a band or group are out of class for an event, in order.

    With `there`, the times at which they are at the event, in class time or not.
    """
    found = [
        AwayRow(event, day, *span, who, because, shared)
        for event in events
        for day in event.days
        if (span := (day.span if there else None) or day.away)
        for who, because, shared in _who(event, players, program)
    ]
    return tuple(sorted(found, key=lambda one: one.start.astimezone(UTC)))


def _who(
    event: EventRow, players: Players, program: Program
) -> Iterator[tuple[tuple[str, ...], Ensemble | None, int | None]]:
    """Tell who of a band takes part: nobody, or all or some instruments, or whom it shares.

    A band all of whose players are in the other one is away as a whole.
    """
    if event.is_for(players.band.id):
        item = players.item
        if not is_played(program, item, event.players):
            return
        all_play = item.instruments and all(
            takes_part(name, program.instrument(name), event.players) for name in item.instruments
        )
        yield () if all_play else event.players, None, None
        return
    pairs = sharing_pairs({one.id: one.shares_players_with for one in program.ensembles})
    for other in event.ensembles:
        if share_players([players.band.id], [other.id], pairs):
            pair = frozenset((players.band.id, other.id))
            number = None if event.players else shared_counts(program.ensembles).get(pair)
            all_shared = number is not None and number == players.band.players
            yield event.players, None if all_shared else other, None if all_shared else number
            return
