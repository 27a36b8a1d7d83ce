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
from handbook.outputs.page import Context
from handbook.plan.model import EnsemblePlan
from handbook.records import dataclass

_MINOR_THIRD = frozenset({Mode.MINOR, Mode.DORIAN, Mode.PHRYGIAN, Mode.AEOLIAN, Mode.LOCRIAN})
_TONES = {"unison": "Root", "minor-third": "Third", "major-third": "Third", "fifth": "Fifth"}
_FIFTHS_UP = {"unison": 0, "minor-third": -3, "major-third": 4, "fifth": 1}  # to spell a tone
_CENT_PLACES = 6

DroneSource = tuple[str, NoteName, Mode]
"""What a note is for, the concert note, and the mode whose chord is built on it."""


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
        return drone_view(context, [("tuning note", tuning, Mode.MAJOR)])
    if key.tonic == tuning:
        return drone_view(context, [("tuning note and key note", tuning, key.mode)])
    return drone_view(
        context, [("tuning note", tuning, Mode.MAJOR), ("key note", key.tonic, key.mode)]
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
    """Name a drone as its reader does: `Your C (concert B♭)`, `Concert B♭ (tuning note)`."""
    transposes = own is not None and own != name
    read = own or name
    return {
        "whose": "Concert" if own is None else "Your",
        "name": str(read),
        "spoken": read.spoken,
        "role": f"concert {name}" if transposes else role,
        "roleSpoken": f"concert {name.spoken}" if transposes else role,
    }


def _tones(root: NoteName, mode: Mode) -> Iterator[list[object]]:
    """Give each chord tone: what it is, note, note read aloud, semitones, cents to sound pure."""
    for tone in chord_tuning("minor" if mode in _MINOR_THIRD else "major"):
        kind = tone.interval.id
        if kind == "fifth" and mode is Mode.LOCRIAN:
            continue  # its fifth is diminished and has no one pure size
        note = NoteName.from_fifths(root.fifths + _FIFTHS_UP[kind])
        cents = round(tone.offset, _CENT_PLACES)
        yield [_TONES[kind], str(note), note.spoken, tone.interval.semitones, cents]


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
