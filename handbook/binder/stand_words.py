"""The words that the stand view shows beside a block: what to watch, and how it is done."""

from __future__ import annotations

from collections.abc import Iterable

from handbook.binder.model import Binder
from handbook.outputs.components.texts_for import TextView, named_who, text_views
from handbook.outputs.components.watch import WatchView, watch_view
from handbook.plan.model import PassageRow
from handbook.records import dataclass
from handbook.schema.fundamentals import Exercise, Strand
from handbook.source.private_notes import PrivateNote


@dataclass(frozen=True, slots=True)
class BesideBlock:
    """What stands beside a block: things to watch, how it is done, what to listen for, and `private` notes."""

    who: str = ""
    watch: tuple[WatchView, ...] = ()
    how: tuple[TextView, ...] = ()
    listen: tuple[str, ...] = ()
    why: str = ""
    private: tuple[str, ...] = ()


def passage_notes(binder: Binder, row: PassageRow) -> str:
    """Say what to watch in a passage, as HTML; nothing where there is nothing."""
    return _told(
        binder,
        BesideBlock(
            who=named_who(row.item.who),
            watch=tuple(watch_view(binder.context, point) for point in row.item.watch),
            private=said_lines(binder.private.at(row.address)),
        ),
    )


def exercise_notes(
    binder: Binder, strand: Strand, exercise: Exercise, private: Iterable[PrivateNote]
) -> str:
    """Say how an exercise is done and what to listen for, as HTML."""
    say = binder.context.say
    return _told(
        binder,
        BesideBlock(
            who=named_who(exercise.who or strand.who),
            how=text_views(binder.context, exercise.how),
            listen=tuple(map(say, exercise.listen)),
            why=say(strand.why),
            private=said_lines(private),
        ),
    )


def said_lines(notes: Iterable[PrivateNote]) -> tuple[str, ...]:
    """Give the lines of private notes, one after the other."""
    return tuple(line for note in notes for line in note.lines)


def _told(binder: Binder, view: BesideBlock) -> str:
    return binder.render("_stand_notes", view).strip() if view != BesideBlock() else ""
