"""The director's own notes: all of them on one page, and those that belong to one rehearsal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from handbook.binder.model import Binder, BinderFile
from handbook.checks import traversal
from handbook.loader.loading import cycle_of
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.i18n.other_language import bare
from handbook.plan.model import BlockRow, CyclePlan, EnsemblePlan, PieceRow, RehearsalRow
from handbook.records import dataclass
from handbook.source.private_notes import PrivateNote

PATH = "private-notes.html"


@dataclass(frozen=True, slots=True)
class OwnNote:
    """A note with what it is about, as a page of the site names that."""

    about: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NoteGroup:
    """The notes of one part of the content, in the order of its files."""

    title: str
    notes: tuple[PrivateNote, ...]


def files(binder: Binder) -> Iterator[BinderFile]:
    """List all notes on one page; no page where there is none."""
    groups = tuple(_groups(binder))
    if groups:
        yield binder.page(
            "private_notes",
            groups,
            PATH,
            title=gettext("Private notes"),
            about=gettext("All that stands under private in your files, with its place."),
        )


def _groups(binder: Binder) -> Iterator[NoteGroup]:
    say, shown = binder.context.say, _shown_cycles(binder)
    names = {cycle.id: say(cycle.item.name) for cycle in binder.plan.cycles}
    for name in reversed(shown):
        title = names.get(name) or gettext("%(cycle)s (draft)", cycle=name)
        yield from _group(title, (one for one in binder.private.notes if _cycle(one) == name))
    rest = [one for one in binder.private.notes if not _cycle(one)]
    yield from _group(gettext("For all cycles"), rest)


def _group(title: str, notes: Iterable[PrivateNote]) -> Iterator[NoteGroup]:
    if found := tuple(notes):
        yield NoteGroup(title, found)


def _shown_cycles(binder: Binder) -> list[str]:
    """Give the cycles of the binder, and if it has all that are planned, drafts too."""
    asked = [cycle.id for cycle in binder.cycles]
    if len(asked) < len(binder.plan.cycles):
        return asked
    drafts = sorted({_cycle(one) for one in binder.private.notes} - {*asked, ""})
    return [*asked, *drafts]


def _cycle(note: PrivateNote) -> str:
    return cycle_of(note.file)


def notes_of_rehearsal(
    binder: Binder, cycle: CyclePlan, ensemble: EnsemblePlan, row: RehearsalRow
) -> tuple[OwnNote, ...]:
    """Give the notes of a day, of concerts and events on it, and of what is played, in that order, each once."""
    return _once(_in_order(binder, cycle, ensemble, row))


def notes_of_day(binder: Binder, cycle: CyclePlan, day: date, band: str) -> tuple[OwnNote, ...]:
    """Give the notes of the concerts and events of a day that a band by its id is at, each once."""
    return _once(_of_day(binder, cycle, day, band))


def told_lines(notes: Iterable[OwnNote]) -> list[list[str]]:
    """Give each line of notes with what it is about, as the stand view reads them."""
    return [[bare(note.about), line] for note in notes for line in note.lines]


_Notes = tuple[PrivateNote, ...]


def _once(told: Iterable[tuple[str, _Notes]]) -> tuple[OwnNote, ...]:
    found: dict[PrivateNote, str] = {}
    for about, notes in told:
        for note in notes:
            found.setdefault(note, about)
    return tuple(OwnNote(about, note.lines) for note, about in found.items())


def _of_day(binder: Binder, cycle: CyclePlan, day: date, band: str) -> Iterator[tuple[str, _Notes]]:
    """Give the notes of a concert with all that belongs to it, those of an event, and of that day of it."""
    say, private = binder.context.say, binder.private
    for concert in cycle.held_concerts:
        if concert.item.date == day and band in concert.item.players:
            yield say(concert.item.name), private.within(concert.address)
    for event in binder.plan.events:
        days = [one for one in event.days if one.first <= day <= one.last and not one.cancelled]
        if days and event.is_for(band):
            of_days = {note for one in event.days for note in private.within(one.address)}
            today = {note for one in days for note in private.within(one.address)}
            yield (
                say(event.item.name or event.item.kind),
                tuple(
                    note
                    for note in private.within(event.address)
                    if note in today or note not in of_days
                ),
            )


def _in_order(
    binder: Binder, cycle: CyclePlan, ensemble: EnsemblePlan, row: RehearsalRow
) -> Iterator[tuple[str, _Notes]]:
    say, within = binder.context.say, binder.private.within
    for entry in row.entries:
        yield gettext("This day"), within((cycle.address[0], entry.field, entry.place))
    yield from _of_day(binder, cycle, row.rehearsal.day, ensemble.band)
    for log in row.logs:
        yield gettext("What was logged"), within((log.file,))
    warm_ups = {one.level: at for at, one in traversal.warm_ups(binder.handbook)}
    if ensemble.warm_up and ensemble.warm_up.level in warm_ups:
        yield say(ensemble.warm_up.name), within(warm_ups[ensemble.warm_up.level])
    exercises = {one.id: at for at, one in traversal.exercises(binder.handbook)}
    pieces = {one.item.id: one for one in ensemble.pieces}
    pieces |= {one.piece.item.id: one.piece for one in ensemble.joined}
    for block in row.blocks:
        if block.exercise and block.exercise.id in exercises:
            yield say(block.exercise.name), within(exercises[block.exercise.id])
        if block.piece and block.piece.id in pieces:
            yield from _of_music(binder, pieces[block.piece.id], block)


def _of_music(binder: Binder, piece: PieceRow, block: BlockRow) -> Iterator[tuple[str, _Notes]]:
    """Give the notes of a piece itself, and of those of its passages that a block plays."""
    title = binder.context.say(piece.item.title)
    yield title, binder.private.at(piece.address)
    played = block.stretch.passages if block.stretch else (block.passage,)
    for passage in piece.passages:
        if passage.item in played:
            name = binder.context.say(passage.item.name)
            yield with_commas((title, name)), binder.private.within(passage.address)
