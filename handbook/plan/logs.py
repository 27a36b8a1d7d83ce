"""From the director's logs to what each rehearsal really reached of each passage."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from handbook.domain.meetings import Rehearsal
from handbook.domain.reached import ReachedTempo
from handbook.domain.values.tempo import Tempo
from handbook.plan.model import EnsemblePlan, PassageRow, PieceRow, ReachedRow, RehearsalRow
from handbook.plan.players import Players
from handbook.plan.steering import PassageKey, passage_keys
from handbook.records import dataclass
from handbook.schema.handbook import Sourced
from handbook.schema.log import Log
from handbook.schema.music import Passage, Piece

Logs = Sequence[Sourced[Log]]


def logs_by_rehearsal(
    logs: Logs, players: Players, rehearsals: Sequence[Rehearsal]
) -> tuple[tuple[Sourced[Log], ...], ...]:
    """Give the logs about each rehearsal, in order."""
    own = [one for one in logs if players.named_by(one.item)]
    return tuple(
        tuple(one for one in own if is_about(one.item, rehearsal)) for rehearsal in rehearsals
    )


def is_about(log: Log, rehearsal: Rehearsal) -> bool:
    """Whether a log is about a rehearsal of its band."""
    on_time = log.start is None or log.start == rehearsal.start.time()
    return log.date == rehearsal.day and on_time


def with_reached(pieces: Sequence[PieceRow], logs: Sequence[Logs]) -> tuple[PieceRow, ...]:
    """Add to each passage what rehearsals reached of it; `logs` are those of each rehearsal.

    A free passage has no climb, and what is said of it changes nothing.
    """
    if not any(logs):
        return tuple(pieces)
    keys = passage_keys([piece.item for piece in pieces])
    found: dict[PassageKey, dict[int, ReachedRow]] = {}
    for place, about in enumerate(logs):
        for log in about:
            for name, row in _entries(place, log):
                for key in keys.get(name, ())[:1]:
                    found.setdefault(key, {}).setdefault(place, row)

    def reached(piece: PieceRow, passage: PassageRow) -> PassageRow:
        own = found.get((piece.item.id, passage.item.id))
        if own is None or passage.item.goal.free:
            return passage
        return replace(passage, reached=tuple(own.values()))

    return tuple(
        replace(piece, passages=tuple(reached(piece, passage) for passage in piece.passages))
        for piece in pieces
    )


@dataclass(frozen=True, slots=True)
class ReachedBeside:
    """What a rehearsal reached of a passage beside what was planned; None for neither."""

    piece: Piece
    passage: Passage
    reached: Tempo | None
    planned: Tempo | None


def reached_beside(ensemble: EnsemblePlan) -> Mapping[int, tuple[ReachedBeside, ...]]:
    """Give what is logged of each rehearsal, by its place, in the order of the pieces."""
    found: dict[int, list[ReachedBeside]] = {}
    for piece in ensemble.pieces:
        for passage in piece.passages:
            planned = {visit.place: visit.rung.tempo for visit in passage.visits}
            for one in passage.reached:
                place = one.at.place
                row = ReachedBeside(piece.item, passage.item, one.at.tempo, planned.get(place))
                found.setdefault(place, []).append(row)
    return {place: tuple(rows) for place, rows in sorted(found.items())}


def minutes_over(row: RehearsalRow) -> int:
    """Give the minutes that a rehearsal ran over; of several logs the most counts."""
    return max((log.item.over for log in row.logs), default=0)


def _entries(place: int, log: Sourced[Log]) -> Iterator[tuple[str, ReachedRow]]:
    for number, entry in enumerate(log.item.reached):
        row = ReachedRow(ReachedTempo(place, entry.tempo), (log.file, "reached", number))
        yield entry.passage, row
    for number, name in enumerate(log.item.not_done):
        yield name, ReachedRow(ReachedTempo(place, None), (log.file, "not_done", number))
