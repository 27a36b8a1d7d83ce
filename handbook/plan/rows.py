"""Each rehearsal with its stage, purpose, notices and the clock times of its blocks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from handbook.domain.meetings import Rehearsal
from handbook.domain.minutes import Agenda, Block
from handbook.domain.season import MusicKind
from handbook.domain.values.text import Text
from handbook.plan.agendas import CycleAgendas
from handbook.plan.events_model import AwayRow
from handbook.plan.logs import Logs
from handbook.plan.model import BlockRow, PassageRow, PieceRow, RehearsalRow, StageSpan
from handbook.plan.players import Players
from handbook.plan.stages import purposes
from handbook.plan.steering import day_entries
from handbook.schema.cycle import Cycle
from handbook.schema.days import DayWishes
from handbook.schema.program import Program, Room

_MusicRows = Sequence[tuple[PieceRow, PassageRow]]


def rehearsal_rows(
    cycle: Cycle,
    players: Players,
    rehearsals: tuple[Rehearsal, ...],
    spans: tuple[StageSpan, ...],
    pieces: tuple[PieceRow, ...],
    agendas: CycleAgendas,
    program: Program,
    usual_room: Room | None,
    away: Sequence[AwayRow],
    logs: Sequence[Logs],
) -> tuple[RehearsalRow, ...]:
    """Join what is known of each rehearsal; of several entries about it the nearest goes first."""
    rooms = program.rehearsal_rooms
    music = [(piece, passage) for piece in pieces for passage in piece.passages]
    stages = [(span, purpose) for span in spans for purpose in purposes(span)]
    entries = day_entries(cycle, players, rehearsals)
    rows = []
    for place, (rehearsal, (span, purpose)) in enumerate(zip(rehearsals, stages, strict=True)):
        notes = [entry.item for entry in entries[place]]
        agenda = agendas.agendas[place]
        rows.append(
            RehearsalRow(
                place=place,
                rehearsal=rehearsal,
                stage=span,
                purpose=next((note.purpose for note in notes if note.purpose), purpose),
                thanks=next((note.thanks for note in notes if note.thanks), None),
                notices=_notices(notes),
                habit=agendas.habits[place] if agendas.habits else None,
                agenda=agenda,
                blocks=_blocks(place, rehearsal, agenda, agendas, music),
                room=rooms.get(_room(notes) or rehearsal.room or "", usual_room),
                day_plan=agendas.days[place],
                entries=entries[place],
                led_by=program.leaders(
                    next((note.led_by for note in notes if note.led_by), ())
                    or rehearsal.led_by
                    or players.band.led_by
                ),
                missing=tuple(
                    one
                    for one in away
                    if not one.whole and one.overlaps(rehearsal.start, rehearsal.end)
                ),
                logs=tuple(logs[place]),
            )
        )
    return tuple(rows)


def _room(notes: list[DayWishes]) -> str | None:
    return next((note.room for note in notes if note.room), None)


def _notices(notes: list[DayWishes]) -> tuple[Text, ...]:
    return tuple(notice for note in notes for notice in note.notices)


def _blocks(
    place: int, rehearsal: Rehearsal, agenda: Agenda, agendas: CycleAgendas, music: _MusicRows
) -> tuple[BlockRow, ...]:
    rows = []
    for block in agenda.blocks:
        start = rehearsal.start + timedelta(minutes=block.start)
        rows.append(_block(place, block, start, agendas, music))
    return tuple(rows)


def _block(
    place: int, block: Block, start: datetime, agendas: CycleAgendas, music: _MusicRows
) -> BlockRow:
    kind, minutes = block.kind, block.minutes
    if block.music and block.music.kind is MusicKind.PASSAGE:
        piece, passage = music[block.music.index]
        visit = next(visit for visit in passage.visits if visit.place == place)
        return BlockRow(
            kind, start, minutes, piece=piece.item, passage=passage.item, rung=visit.rung
        )
    if block.music:
        stretch = agendas.season.stretches[block.music.index]
        return BlockRow(kind, start, minutes, piece=stretch.piece, stretch=stretch)
    if block.subject is not None and block.subject in agendas.strand_items:
        return BlockRow(
            kind,
            start,
            minutes,
            strand=agendas.strand_items[block.subject],
            exercise=agendas.exercises[block.exercise or ""],
        )
    return BlockRow(kind, start, minutes)
