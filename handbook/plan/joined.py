"""Pieces that an ensemble plays with another: they belong to that other, and are in its plan."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from handbook.plan.model import EnsemblePlan, JoinedPiece
from handbook.plan.parts import with_joined_parts
from handbook.schema.concert import Appearance, Concert
from handbook.schema.program import Program


def with_joined_pieces(
    concerts: Sequence[Concert], plans: Sequence[EnsemblePlan], program: Program
) -> tuple[EnsemblePlan, ...]:
    """Add to each plan the pieces that its ensemble joins at the concerts, in program order.

    Those that it rehearses by itself stay its own. The others' passages keep the ladder of the
    ensemble whose pieces they are; each player reads them in the pitch of the part.
    """
    by_id = {plan.item.id: plan for plan in plans}
    turns = [turn for concert in concerts for turn in concert.program]
    return tuple(_joined(turns, plan, by_id, program) for plan in plans)


def _joined(
    turns: Sequence[Appearance],
    plan: EnsemblePlan,
    plans: Mapping[str, EnsemblePlan],
    program: Program,
) -> EnsemblePlan:
    named = {one.piece.item.id: one for one in _pieces(turns, plan.item.id, plans)}
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
        if ensemble in turn.joined_by and turn.ensemble in plans and turn.ensemble != ensemble:
            host = plans[turn.ensemble]
            rows = {piece.item.id: piece for piece in host.pieces if piece.item.id not in own}
            yield from (JoinedPiece(host.item, rows[one]) for one in turn.pieces if one in rows)
