"""What a rehearsal needs in the room: recordings and whatever must lie ready, each once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handbook.domain.minutes import BlockKind
from handbook.plan.model import EnsemblePlan, PieceRow, RehearsalRow
from handbook.plan.warm_ups import exercises_by_id
from handbook.records import dataclass
from handbook.schema.fundamentals import Exercise, WarmUp
from handbook.schema.materials import Material
from handbook.schema.music import Piece

Subject = WarmUp | Exercise | Piece
"""What a thing is needed for; nothing for the day as a whole."""


@dataclass(frozen=True, slots=True)
class NeedRow:
    """One thing that is needed; `subjects` are what it is for, in the order they come that day.

    A recording or picture is a file in media/. It has no `text` of its own where it is that of its
    subject, such as the recording of a piece.
    """

    text: str | None
    where: str | None
    media: str | None
    subjects: tuple[Subject, ...]


def needs_of(ensemble: EnsemblePlan, row: RehearsalRow) -> tuple[NeedRow, ...]:
    """List what a rehearsal needs: what the day itself asks for, then in the order of its blocks.

    What is said word by word alike of several things is one, for all of them.
    """
    found: dict[tuple[str | None, str | None, str | None], list[Subject]] = {}
    for need, subject in _needs(ensemble, row):
        subjects = found.setdefault(need, [])
        if subject is not None and subject not in subjects:
            subjects.append(subject)
    return tuple(NeedRow(*need, tuple(subjects)) for need, subjects in found.items())


_Need = tuple[str | None, str | None, str | None]


def _needs(ensemble: EnsemblePlan, row: RehearsalRow) -> Iterator[tuple[_Need, Subject | None]]:
    for entry in row.entries:
        for one in entry.item.materials:
            yield _said(one), None
    for subject in _subjects(ensemble, row):
        for recording in _recordings(subject):
            yield (None, None, recording), subject
        for one in subject.materials:
            yield _said(one), subject


def _recordings(subject: Subject) -> Iterator[str]:
    found = [subject.recording if isinstance(subject, Piece) else subject.media]
    if isinstance(subject, WarmUp):
        found += [step.media for step in subject.steps]
    yield from (one for one in found if one is not None)


def _said(one: Material) -> _Need:
    return one.text, one.where, one.media


def _subjects(ensemble: EnsemblePlan, row: RehearsalRow) -> Iterator[Subject]:
    """Give what is played, in order: of the blocks, then of the sections; some of it comes twice."""
    for block in row.blocks:
        if block.kind == BlockKind.WARM_UP and block.minutes and ensemble.warm_up:
            yield ensemble.warm_up
            exercises = exercises_by_id(strand.item for strand in ensemble.strands)
            named = (exercises.get(step.exercise or "") for step in ensemble.warm_up.steps)
            yield from (one for one in named if one is not None)
        yield from (one for one in (block.exercise, block.piece) if one is not None)
    pieces = {piece.item.id: piece.item for piece in _pieces(ensemble)}
    for section in row.day_plan.sections:
        yield from (pieces[wish.key[0]] for wish in section.passages if wish.key[0] in pieces)


def _pieces(ensemble: EnsemblePlan) -> Iterable[PieceRow]:
    return (*ensemble.pieces, *(joined.piece for joined in ensemble.joined))
