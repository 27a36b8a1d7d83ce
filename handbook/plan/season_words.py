"""What a season keeps and what gave way, in plain sentences: for pages, tables and checks."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import groupby

from handbook.domain.season import LEAST_AT_GOAL, Law
from handbook.domain.values.measures import MeasureSpan
from handbook.plan.model import EnsemblePlan, LawRow, PassageRow, StageSpan
from handbook.records import dataclass
from handbook.schema.music import Passage, Piece


@dataclass(frozen=True, slots=True)
class GaveWay:
    """One passage (or measures that no passage names) for which a law gave way, told once.

    `sentence` begins in lower case and has no stop at its end, as a problem's does; `rows`
    are what it tells of together, so that windows which overlap are one absence.
    """

    law: Law
    sentence: str
    rows: tuple[LawRow, ...]
    piece: Piece | None = None
    passage: Passage | None = None


@dataclass(frozen=True, slots=True)
class Unplayed:
    """Measures that no rehearsal of a stage plays."""

    stage: StageSpan
    piece: Piece
    measures: MeasureSpan


def gave_way(ensemble: EnsemblePlan) -> tuple[GaveWay, ...]:
    """Tell the laws that gave way, the weightiest first; names are ids, in backticks."""
    if ensemble.season is None:
        return ()
    beyond_reach = [
        [piece.item.id, passage.item.id]
        for piece in ensemble.pieces
        for passage in piece.passages
        if not passage.at_goal
    ]
    found: list[GaveWay] = []
    for (law, *subject), rows in groupby(sorted(ensemble.season.unmet, key=_subject), key=_subject):
        together = tuple(rows)
        if law is Law.SETTLED and subject[:2] in beyond_reach and not subject[2]:
            continue  # what never comes to its goal does not come to it by a date
        found += [
            GaveWay(law, _TELL[law](ensemble, part), part, part[0].piece, part[0].passage)
            for part in _apart(law, together)
        ]
    return tuple(found)


def unplayed(ensemble: EnsemblePlan) -> tuple[Unplayed, ...]:
    """List the measures that a stage with music leaves out, by stage and piece."""
    rows = ensemble.season.unmet if ensemble.season else ()
    return tuple(
        Unplayed(_stage(ensemble, row), row.piece, span)
        for row in rows
        if row.law is Law.COVERAGE and row.piece
        for span in [row.measures or (row.passage.measures if row.passage else None)]
        if span
    )


def kept_passages(ensemble: EnsemblePlan) -> tuple[PassageRow, ...]:
    """List the passages of all pieces but those that were dropped."""
    return tuple(
        passage
        for piece in ensemble.pieces
        if piece.item.dropped is None
        for passage in piece.passages
    )


def _subject(row: LawRow) -> tuple[Law, str, str, int]:
    subject = row.passage.id if row.passage else str(row.measures)
    by_date = row.last + 1 if row.on_the_way else 0
    return row.law, row.piece.id if row.piece else "", subject, by_date


def _apart(law: Law, rows: tuple[LawRow, ...]) -> Iterator[tuple[LawRow, ...]]:
    """Tell windows that overlap together, laws about the goal together, all others one by one."""
    if law in {Law.GOAL, Law.SETTLED}:
        yield rows
        return
    if law is not Law.RETURN:
        yield from ((row,) for row in rows)
        return
    run: list[LawRow] = []
    for row in sorted(rows, key=lambda one: one.first):
        if run and row.first > run[-1].last:
            yield tuple(run)
            run = []
        run.append(row)
    yield tuple(run)


def _not_covered(ensemble: EnsemblePlan, rows: tuple[LawRow, ...]) -> str:
    row, stage = rows[0], _stage(ensemble, rows[0])
    span = row.measures or (row.passage.measures if row.passage else None)
    of = f"`{row.passage.id}`, " if row.passage else ""
    return f"{of}{_measures(span)} of `{_piece(row)}`: no rehearsal of the stage `{stage.item.id}` plays them"


def _goal_out_of_reach(ensemble: EnsemblePlan, rows: tuple[LawRow, ...]) -> str:
    passage = _passage(ensemble, rows[0])
    lack, count = max(row.lack for row in rows), len(passage.at_goal)
    comes_to = passage.tempo_by(len(ensemble.rehearsals)) if passage.visits else None
    fast = comes_to.bpm_text if comes_to else ""
    reached = (
        f"is at its goal in {count} {_plural('rehearsal', count)}"
        if count
        else f"climbs to {fast}"
        if fast
        else "is played in no rehearsal"
    )
    return (
        f"`{passage.item.id}` of `{_piece(rows[0])}` {reached}, where {LEAST_AT_GOAL} at "
        f"{passage.item.goal.bpm_text} are wanted: it lacks {lack} {_plural('rehearsal', lack)}"
    )


def _settles_late(ensemble: EnsemblePlan, rows: tuple[LawRow, ...]) -> str:
    passage, by = _passage(ensemble, rows[0]), _day(ensemble, rows[0].last)
    name = f"`{passage.item.id}` of `{_piece(rows[0])}`"
    if rows[0].on_the_way:
        reached, lack = passage.tempo_by(rows[0].last), rows[0].lack
        at = f"is at {reached.bpm_text}" if reached else "is not played"
        wanted = rows[0].on_the_way.tempo.bpm_text
        return f"{name} {at} by {_told(by)}, and not at {wanted}: it lacks {lack} {_plural('rehearsal', lack)} until then"
    since = _day(ensemble, passage.at_goal[0].place) if passage.at_goal else None
    if since and since <= by:
        return (
            f"{name} is not played in the last stage up to {_told(by)}, when it should be settled"
        )
    lack = max(row.lack for row in rows)
    comes = f"on {_told(since)}" if since else "in no rehearsal"
    return (
        f"{name} comes to its goal {comes}, and not by {_told(by)}: it lacks "
        f"{lack} {_plural('rehearsal', lack)} until then"
    )


def _stays_away(ensemble: EnsemblePlan, rows: tuple[LawRow, ...]) -> str:
    passage = _passage(ensemble, rows[0])
    window = ensemble.season.window if ensemble.season else 0
    first, last = _day(ensemble, rows[0].first), _day(ensemble, rows[-1].last)
    return (
        f"`{passage.item.id}` of `{_piece(rows[0])}` stays away from {_told(first)} to "
        f"{_told(last)}, longer than the {window} rehearsals in which each passage comes back"
    )


_TELL = {
    Law.COVERAGE: _not_covered,
    Law.GOAL: _goal_out_of_reach,
    Law.SETTLED: _settles_late,
    Law.RETURN: _stays_away,
}


def _piece(row: LawRow) -> str:
    return row.piece.id if row.piece else ""


def _passage(ensemble: EnsemblePlan, row: LawRow) -> PassageRow:
    """Find the passage of a law; a passage is known by its piece and its id."""
    return next(
        passage
        for piece in ensemble.pieces
        for passage in piece.passages
        if row.piece
        and row.passage
        and (piece.item.id, passage.item.id) == (row.piece.id, row.passage.id)
    )


def _stage(ensemble: EnsemblePlan, row: LawRow) -> StageSpan:
    return ensemble.rehearsals[row.first].stage


def _day(ensemble: EnsemblePlan, place: int) -> date:
    return ensemble.rehearsals[place].rehearsal.day


def _measures(span: MeasureSpan | None) -> str:
    if span is None:
        return "measures"
    return f"m. {span.first}" if span.first == span.last else f"mm. {span.first}-{span.last}"


def _plural(word: str, count: int) -> str:
    return word if count == 1 else f"{word}s"


def _told(day: date) -> str:
    return f"{day:%a %b} {day.day}"
