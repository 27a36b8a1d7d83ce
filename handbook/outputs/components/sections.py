"""Sections that rehearse by themselves: who, in which room, on which passages."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from handbook.outputs import addresses
from handbook.outputs.components.leaders import led_by
from handbook.outputs.components.part_links import part_name
from handbook.outputs.components.section_rooms import section_name
from handbook.outputs.components.weeks import measures
from handbook.outputs.html import formatting
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, EnsemblePlan, RehearsalRow
from handbook.plan.parts import takes_part
from handbook.plan.parts_model import PartPlan
from handbook.plan.steering import PassageKey, SectionPlan
from handbook.records import dataclass
from handbook.schema.music import Passage, Piece


@dataclass(frozen=True, slots=True)
class SectionPassage:
    """A passage that a section works on.

    `path` leads to it, or is empty where it stands on no page of the reader's. No minutes
    leaves them to the section.
    """

    piece: str
    passage: str
    measures: str
    path: str
    minutes: int | None


@dataclass(frozen=True, slots=True)
class SectionView:
    """A section on its day; `players` are its instruments as the ensemble counts them."""

    day: date
    date: str
    time: str
    name: str
    players: str
    room: str
    directions: str
    passages: tuple[SectionPassage, ...]
    led_by: str = ""


def section_views(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, row: RehearsalRow
) -> tuple[SectionView, ...]:
    """Show the sections of a rehearsal as they were written; paths are those of the pieces' pages."""

    def path(key: PassageKey) -> str:
        return f"{addresses.piece(cycle.id, ensemble.item.id, key[0])}#{key[1]}"

    return tuple(_view(context, ensemble, row, one, path) for one in row.day_plan.sections)


def part_sections(
    context: Context, ensemble: EnsemblePlan, part: PartPlan
) -> tuple[SectionView, ...]:
    """Show the sections that a part's players are in; paths are places on the part's own page."""
    played = {(piece.item.id, passage) for piece in part.pieces for passage in piece.passages}

    def path(key: PassageKey) -> str:
        return f"#{'-'.join(key)}" if key in played else ""

    return tuple(
        _view(context, ensemble, row, section, path)
        for row in ensemble.rehearsals
        for section in row.day_plan.sections
        if _is_in(part, section)
    )


def _is_in(part: PartPlan, section: SectionPlan) -> bool:
    return takes_part(part.id, part.instrument, section.who)


def _view(
    context: Context,
    ensemble: EnsemblePlan,
    row: RehearsalRow,
    section: SectionPlan,
    path: Callable[[PassageKey], str],
) -> SectionView:
    rooms = context.plan.program.rehearsal_rooms
    room = rooms.get(section.room or "", row.room)
    known = {
        (piece.item.id, passage.id): (piece.item, passage)
        for piece in ensemble.pieces
        for passage in piece.item.passages
    }
    return SectionView(
        day=row.rehearsal.day,
        date=formatting.short_day(row.rehearsal.day),
        time=formatting.span(row.rehearsal.start, row.rehearsal.end),
        name=section_name(context, section),
        players=with_commas(part_name(part) for part in ensemble.parts if _is_in(part, section)),
        room=context.say(room.name) if room else "",
        directions=context.say(room.directions) if room else "",
        passages=tuple(
            _passage(context, *known[wish.key], path(wish.key), wish.minutes)
            for wish in section.passages
        ),
        led_by=led_by(context, context.plan.program.leaders(section.led_by)),
    )


def _passage(
    context: Context, piece: Piece, passage: Passage, path: str, minutes: int | None
) -> SectionPassage:
    return SectionPassage(
        piece=context.say(piece.title),
        passage=context.say(passage.name),
        measures=measures(passage.measures.first, passage.measures.last),
        path=path,
        minutes=minutes,
    )
