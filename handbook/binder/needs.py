"""What must lie ready for a rehearsal, in words."""

from __future__ import annotations

from handbook.binder.model import Binder
from handbook.outputs.components.recordings import recording_view
from handbook.outputs.i18n import gettext
from handbook.plan.materials import NeedRow
from handbook.records import dataclass
from handbook.schema.music import Piece


@dataclass(frozen=True, slots=True)
class NeedView:
    """A thing that is needed: `what` it is, `where` it lies, and what it is `about`.

    What stands in media/ has the name of its `file`; it is played if it is of `sound`.
    It is not `titled` where nobody named it, and `what` then only says that it is a recording.
    """

    what: str
    where: str
    file: str
    sound: bool
    about: tuple[str, ...]
    titled: bool = True


def need_view(binder: Binder, need: NeedRow) -> NeedView:
    """Say what is needed, where it lies and what for."""
    say = binder.context.say
    shown = recording_view(binder.context, need.media)
    sound = bool(shown and shown.sound)
    kind = gettext("Recording") if sound else gettext("File")
    names = (say(one.title if isinstance(one, Piece) else one.name) for one in need.subjects)
    return NeedView(
        what=need.text or kind,
        where=need.where or "",
        file=need.media or "",
        sound=sound,
        about=tuple(dict.fromkeys(names)),
        titled=bool(need.text),
    )
