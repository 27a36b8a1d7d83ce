"""Where each section of a rehearsal is, where they are not all in the rehearsal's own room."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.plan.model import EnsemblePlan, RehearsalRow
from handbook.plan.parts import takes_part
from handbook.plan.steering import SectionPlan
from handbook.records import dataclass
from handbook.schema.program import Room


@dataclass(frozen=True, slots=True)
class SectionRoom:
    """A section and its room, also in `words`; no `section` for players who are in none.

    `parts` are the ids of its instruments, as far as the ensemble counts them.
    """

    section: SectionPlan | None
    room: Room
    words: str
    parts: tuple[str, ...]


def section_rooms(
    context: Context, ensemble: EnsemblePlan, row: RehearsalRow
) -> tuple[SectionRoom, ...]:
    """Give the sections with their rooms; nothing where all are in the rehearsal's own."""
    known = context.plan.program.rehearsal_rooms
    sections = row.day_plan.sections
    if all(known.get(one.room or "", row.room) == row.room for one in sections):
        return ()
    return tuple(_rooms(context, ensemble, row))


def _rooms(context: Context, ensemble: EnsemblePlan, row: RehearsalRow) -> Iterator[SectionRoom]:
    known, left = context.plan.program.rehearsal_rooms, [part.id for part in ensemble.parts]
    for section in row.day_plan.sections:
        own = tuple(
            part.id for part in ensemble.parts if takes_part(part.id, part.instrument, section.who)
        )
        left = [part for part in left if part not in own]
        room = known.get(section.room or "", row.room)
        if room:
            yield SectionRoom(section, room, _words(context, section, room), own)
    if left and row.room:
        yield SectionRoom(None, row.room, _words(context, None, row.room), tuple(left))


def section_name(context: Context, section: SectionPlan) -> str:
    """Name a section as its players call it, else by its id."""
    return context.say(section.name) or section.id.replace("-", " ").capitalize()


def room_words(context: Context, ensemble: EnsemblePlan, row: RehearsalRow) -> tuple[str, ...]:
    """Say where a rehearsal is, by section where they are apart; nothing if nobody said."""
    apart = section_rooms(context, ensemble, row)
    if not apart:
        return (context.say(row.room.name),) if row.room else ()
    return tuple(one.words for one in apart)


def _words(context: Context, section: SectionPlan | None, room: Room) -> str:
    return gettext(
        "%(section)s: %(room)s",
        section=section_name(context, section) if section else gettext("All other players"),
        room=context.say(room.name),
    )
