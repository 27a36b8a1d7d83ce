"""Brass fingerings in words, for who has the page read aloud, and where a note wants to go."""

from __future__ import annotations

from handbook.domain.fingerings import OPEN, Fingering
from handbook.domain.tables.brass import Action
from handbook.domain.tuning import shown_cents
from handbook.domain.values.pitch import NoteName
from handbook.outputs.html.formatting import listed
from handbook.outputs.i18n import gettext, gettext_noop, ngettext, pgettext
from handbook.outputs.note_names import sign

_IN_TUNE = 2  # cents that nobody hears
_POSITIONS = (
    # Translators: of a trombone's slide
    gettext_noop("first position"),
    gettext_noop("second position"),
    gettext_noop("third position"),
    gettext_noop("fourth position"),
    gettext_noop("fifth position"),
    gettext_noop("sixth position"),
    gettext_noop("seventh position"),
)
_F, _B_FLAT = NoteName("F"), NoteName("B", -1)


def fingering_words(way: Fingering) -> str:
    """Say a fingering: `open`, `first and second valves`, `fourth position`."""
    if way.tube.thumb:
        return gettext("thumb valve, %(fingering)s", fingering=_without_thumb(way))
    return _without_thumb(way)


def _without_thumb(way: Fingering) -> str:
    if way.tube.action is Action.SLIDE:
        position = gettext(_POSITIONS[way.lowered])
        return gettext("raised %(position)s", position=position) if way.raised else position
    if way.shown == OPEN:
        return pgettext("brass fingering", "open")
    ordinals = {
        "1": pgettext("valve", "first"),
        "2": pgettext("valve", "second"),
        "3": pgettext("valve", "third"),
        "4": pgettext("valve", "fourth"),
    }
    names = [ordinals[valve] for valve in way.shown]
    # Translators: "first valve", "first and second valves"
    return ngettext("%(which)s valve", "%(which)s valves", len(names), which=listed(names))


def with_side(way: Fingering) -> str:
    """Write an alternate, on a double horn with its side: `T1-2 on the B♭ side`."""
    if not way.sided:
        return way.label
    # Translators: valves of a double horn, on its F side or its B flat side
    return gettext(
        "%(fingering)s on the %(note)s side",
        fingering=way.label,
        note=sign(_B_FLAT if way.tube.thumb else _F),
    )


def tendency(way: Fingering | None) -> str:
    """Say where a note wants to go: `in tune`, `14 cents flat`."""
    if way is None:
        return ""
    shown = shown_cents(way.cents)
    if abs(way.cents) < _IN_TUNE:
        # Translators: these say how a note sounds by itself
        return gettext("in tune")
    cents = int(shown[1:])
    if shown[0] == "+":
        return ngettext("%(num)s cent sharp", "%(num)s cents sharp", cents)
    return ngettext("%(num)s cent flat", "%(num)s cents flat", cents)
