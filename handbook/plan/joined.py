"""Pieces that an ensemble plays with another: they belong to that other, and are in its plan."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from handbook.plan.model import EnsemblePlan, JoinedPiece
from handbook.plan.parts import with_joined_parts
from handbook.schema.concert import Appearance, Concert
from handbook.schema.program import Ensemble, Program


def whole_bands(
    plans: Sequence[EnsemblePlan], bands: Mapping[str, Ensemble]
) -> Mapping[str, EnsemblePlan]:
    """Give each band its plan for the concert, by its id: that of a band in groups has the pieces and rehearsals of all."""
    found: dict[str, list[EnsemblePlan]] = {}
    for plan in plans:
        found.setdefault(plan.band, []).append(plan)
    return {
        band: own[0] if own[0].item.id == band else _whole_band(bands[band], own)
        for band, own in found.items()
    }


def _whole_band(band: Ensemble, own: Sequence[EnsemblePlan]) -> EnsemblePlan:
    pieces = {piece.item.id: piece for plan in reversed(own) for piece in plan.pieces}
    rehearsals = {row.rehearsal.start: row for plan in own for row in plan.rehearsals}
    return replace(
        own[0],
        item=band,
        pieces=tuple(pieces.values()),
        rehearsals=tuple(rehearsals[start] for start in sorted(rehearsals)),
    )


def with_joined_pieces(
    concerts: Sequence[Concert], plans: Sequence[EnsemblePlan], program: Program
) -> tuple[EnsemblePlan, ...]:
    """Add to each plan the pieces that its ensemble joins at the concerts, in program order.

    Those that it rehearses by itself stay its own. The others' passages keep the ladder of the
    ensemble whose pieces they are (of its first group, if it has any); each player reads them
    in the pitch of the part.
    """
    hosts = {plan.band: plan for plan in reversed(plans)}
    turns = [turn for concert in concerts for turn in concert.program]
    return tuple(_joined(turns, plan, hosts, program) for plan in plans)


def _joined(
    turns: Sequence[Appearance],
    plan: EnsemblePlan,
    plans: Mapping[str, EnsemblePlan],
    program: Program,
) -> EnsemblePlan:
    named = {one.piece.item.id: one for one in _pieces(turns, plan.band, plans)}
    found = tuple(named.values())
    if not found:
        return plan
    pieces = [one.piece for one in found]
    parts = with_joined_parts(program, plan.item, plan.parts, pieces)
    return replace(plan, joined=found, parts=parts)


def _pieces(
    turns: Sequence[Appearance], ensemble: str, plans: Mapping[str, EnsemblePlan]
) -> Iterator[JoinedPiece]:
    own = {piece.item.id for piece in plans[ensemble].pieces}
    for turn in turns:
        if ensemble in turn.joined_by and turn.band in plans and turn.band != ensemble:
            host = plans[turn.band]
            rows = {piece.item.id: piece for piece in host.pieces if piece.item.id not in own}
            yield from (JoinedPiece(host.item, rows[one]) for one in turn.pieces if one in rows)
