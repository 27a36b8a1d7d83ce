"""What a rehearsal needs in the room, for the plan as JSON."""

from __future__ import annotations

from typing import Any

from handbook.plan.materials import Subject, needs_of
from handbook.plan.model import EnsemblePlan, RehearsalRow
from handbook.schema.fundamentals import Exercise, WarmUp
from handbook.schema.music import Piece


def materials_json(ensemble: EnsemblePlan, row: RehearsalRow) -> dict[str, Any]:
    """List what must lie ready, where anything must, and what for: none for the whole day."""
    rows = [
        {
            "text": one.text,
            "where": one.where,
            "media": one.media,
            "for": [_subject(subject) for subject in one.subjects],
        }
        for one in needs_of(ensemble, row)
    ]
    return {"materials": rows} if rows else {}


def _subject(subject: Subject) -> dict[str, Any]:
    match subject:
        case WarmUp():
            return {"warm_up": subject.level}
        case Exercise():
            return {"exercise": subject.id}
        case Piece():
            return {"piece": subject.id}
