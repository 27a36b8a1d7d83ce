"""What to look out for in a piece or passage, as pages for all show it."""

from __future__ import annotations

from handbook.domain.values.pitch import NoteName
from handbook.outputs.components.texts_for import named_who
from handbook.outputs.components.weeks import measures
from handbook.outputs.page import Context
from handbook.records import dataclass
from handbook.schema.music import WatchPoint


@dataclass(frozen=True, slots=True)
class WatchView:
    """One thing to look out for."""

    text: str
    where: str
    who: str
    notes: tuple[NoteName, ...]


def watch_view(context: Context, point: WatchPoint) -> WatchView:
    """Show one, with its notes in concert pitch and whom it is for."""
    return WatchView(
        text=context.say(point.text),
        where=measures(point.measures.first, point.measures.last) if point.measures else "",
        who=named_who(point.who),
        notes=tuple(note if isinstance(note, NoteName) else note.name for note in point.notes),
    )
