"""The binder's first page: what is in it, the newest cycle first."""

from __future__ import annotations

from collections.abc import Iterable

from handbook.binder.model import INDEX, Binder, BinderFile
from handbook.outputs.i18n import gettext
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class IndexPart:
    """What is about one cycle, or about none: its name and what is listed below it."""

    title: str
    files: tuple[BinderFile, ...]


@dataclass(frozen=True, slots=True)
class IndexView:
    """The parts of the first page."""

    program: str
    parts: tuple[IndexPart, ...]

    @property
    def sheets(self) -> bool:
        """Whether there are sheets to print."""
        return any(file.versions for part in self.parts for file in part.files)


def index(binder: Binder, made: Iterable[BinderFile]) -> BinderFile:
    """List what has a title."""
    listed = [file for file in made if file.title]
    say = binder.context.say
    parts = [(cycle.id, say(cycle.item.name)) for cycle in reversed(binder.cycles)]
    parts.append(("", gettext("For all cycles")))
    found = (
        IndexPart(title, tuple(file for file in listed if file.cycle == cycle))
        for cycle, title in parts
    )
    view = IndexView(say(binder.plan.program.name), tuple(part for part in found if part.files))
    return binder.page("index", view, INDEX, title=gettext("Director’s binder"))
