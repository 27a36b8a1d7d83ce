"""Drones to tune against: notes, their frequencies, and the chord tones above them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from handbook.domain.tables.instruments import Family, instrument
from handbook.domain.tuning import STRINGS_TUNE_TO, WINDS_TUNE_TO, chord_tuning, drone
from handbook.domain.values.keys import ConcertKey, Mode
from handbook.domain.values.pitch import NoteName
from handbook.domain.values.unreadable import UnreadableError
from handbook.outputs.html.page_data import attribute_json
from handbook.outputs.i18n import gettext, gettext_noop
from handbook.outputs.note_names import sign, spoken
from handbook.outputs.page import Context
from handbook.plan.model import EnsemblePlan
from handbook.records import dataclass

_MINOR_THIRD = frozenset({Mode.MINOR, Mode.DORIAN, Mode.PHRYGIAN, Mode.AEOLIAN, Mode.LOCRIAN})
# Each tone of a chord as it is shown and as it is read aloud.
_TONES = {
    "unison": (gettext_noop("Root %(note)s"), gettext_noop("Root, %(note)s")),
    "minor-third": (gettext_noop("Third %(note)s"), gettext_noop("Third, %(note)s")),
    "major-third": (gettext_noop("Third %(note)s"), gettext_noop("Third, %(note)s")),
    "fifth": (gettext_noop("Fifth %(note)s"), gettext_noop("Fifth, %(note)s")),
}
_FIFTHS_UP = {"unison": 0, "minor-third": -3, "major-third": 4, "fifth": 1}  # to spell a tone
_CENT_PLACES = 6
_GAP = "\0"  # where a button shows the name by itself

DroneSource = tuple[str, NoteName, Mode]
"""What a note is for, in the page's language, the concert note, and the mode whose chord is built on it."""


@dataclass(frozen=True, slots=True)
class DroneNote:
    """A concert note to hold against; `hertz` is written for the octave below middle C."""

    role: str
    name: NoteName
    hertz: str


@dataclass(frozen=True, slots=True)
class DroneView:
    """Drones: `pitch` is the program's A in hertz, `data` JSON for the script."""

    pitch: int
    notes: tuple[DroneNote, ...]
    data: Markup


def piece_drones(context: Context, ensemble: EnsemblePlan, key: ConcertKey | None) -> DroneView:
    """Show the drones of a piece: the note the ensemble tunes to, and the key's own note."""
    tuning = _tuning_name(context, ensemble)
    if key is None:
        return drone_view(context, [(gettext("tuning note"), tuning, Mode.MAJOR)])
    if key.tonic == tuning:
        return drone_view(context, [(gettext("tuning note and key note"), tuning, key.mode)])
    return drone_view(
        context,
        [
            (gettext("tuning note"), tuning, Mode.MAJOR),
            (gettext("key note"), key.tonic, key.mode),
        ],
    )


def drone_view(
    context: Context, notes: Sequence[DroneSource], own: NoteName | None = None
) -> DroneView:
    """Show drones on concert notes at the program's pitch; `own` is what a player reads for them."""
    pitch = context.plan.program.pitch
    return DroneView(
        pitch=pitch,
        notes=tuple(DroneNote(role, name, f"{drone(name, pitch):.1f}") for role, name, _ in notes),
        data=attribute_json(
            {
                "notes": [
                    {
                        **_called(role, name, own),
                        "hertz": drone(name, pitch),
                        "tones": list(_tones(own or name, mode)),
                    }
                    for role, name, mode in notes
                ]
            }
        ),
    )


def _called(role: str, name: NoteName, own: NoteName | None) -> dict[str, object]:
    """Name a drone as its reader does: `Your C (concert B♭)`, `Concert B♭ (tuning note)`.

    `label` holds what stands before, in and behind the bold name on a button.
    """
    read = own or name
    heard = spoken(read)
    if own is not None and own != name:
        role, role_heard = (
            gettext("concert %(note)s", note=one) for one in (sign(name), spoken(name))
        )
    else:
        role_heard = role
    if own is None:
        label = gettext("Concert %(note)s", note=_GAP)
        title = gettext("Drone: concert %(note)s (%(role)s)", note=sign(read), role=role)
        note = gettext("concert %(note)s", note=heard)
    else:
        label = gettext("Your %(note)s", note=_GAP)
        title = gettext("Drone: your %(note)s (%(role)s)", note=sign(read), role=role)
        note = gettext("your %(note)s", note=heard)
    before, _, behind = label.partition(_GAP)
    return {
        "label": [before, sign(read), behind],
        "role": role,
        "title": title,
        "note": note,
        "spoken": gettext("%(note)s, %(role)s", note=note, role=role_heard),
    }


def _tones(root: NoteName, mode: Mode) -> Iterator[list[object]]:
    """Give each chord tone: what it is with its note, the same read aloud, semitones, cents to sound pure."""
    for tone in chord_tuning("minor" if mode in _MINOR_THIRD else "major"):
        kind = tone.interval.id
        if kind == "fifth" and mode is Mode.LOCRIAN:
            continue  # its fifth is diminished and has no one pure size
        note = NoteName.from_fifths(root.fifths + _FIFTHS_UP[kind])
        cents = round(tone.offset, _CENT_PLACES)
        shown, heard = _TONES[kind]
        yield [
            gettext(shown, note=sign(note)),
            gettext(heard, note=spoken(note)),
            tone.interval.semitones,
            cents,
        ]


def _tuning_name(context: Context, ensemble: EnsemblePlan) -> NoteName:
    """Give the program's tuning note, B♭ if it names none, or A where only strings play."""
    families = {family for name in ensemble.item.instruments if (family := _family(name))}
    if families == {Family.STRINGS}:
        return STRINGS_TUNE_TO
    return context.plan.program.tuning_note or WINDS_TUNE_TO


def _family(name: str) -> Family | None:
    try:
        return instrument(name).family
    except UnreadableError:
        return None
