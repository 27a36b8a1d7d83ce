"""The notes of a drone: which, how high, and the pure chord above them.

Hertz from the usual table of equal temperament at A = 440 (ISO 16:1975); cents from the
ratios 5:4, 6:5 and 3:2.
"""

from __future__ import annotations

import json
from types import SimpleNamespace
from typing import Any, cast

import pytest

from handbook.domain.values.keys import Mode, parse_concert_key
from handbook.domain.values.pitch import parse_note_name
from handbook.outputs.components.drones import DroneView, drone_view, piece_drones
from handbook.plan.model import EnsemblePlan
from tests.passages import context


def ensemble(*instruments: str) -> EnsemblePlan:
    item = SimpleNamespace(instruments=dict.fromkeys(instruments, 1))
    return cast("EnsemblePlan", SimpleNamespace(item=item))


BAND = ensemble("flute", "trumpet", "string-bass", "percussion", "kazoo")


def of(*instruments: EnsemblePlan, key: str = "", pitch: int = 440) -> DroneView:
    found = parse_concert_key(key) if key else None
    return piece_drones(context(pitch), instruments[0] if instruments else BAND, found)


def data(view: DroneView) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(view.data)["notes"]
    return found


@pytest.mark.parametrize(
    ("key", "notes"),
    [
        ("", [("tuning note", "B♭")]),
        ("Eb major", [("tuning note", "B♭"), ("key note", "E♭")]),
        ("G minor", [("tuning note", "B♭"), ("key note", "G")]),
        ("Bb major", [("tuning note and key note", "B♭")]),
    ],
)
def test_notes_of_a_piece(key: str, notes: list[tuple[str, str]]) -> None:
    assert [(note.role, str(note.name)) for note in of(key=key).notes] == notes


def test_the_program_may_tune_to_another_note() -> None:
    view = piece_drones(context(tuning_note=parse_note_name("F")), BAND, None)
    assert [str(note.name) for note in view.notes] == ["F"]
    assert view.notes[0].hertz == "174.6"  # F3 of the table


def test_strings_alone_tune_to_a() -> None:
    view = of(ensemble("string-bass"))
    assert [str(note.name) for note in view.notes] == ["A"]
    assert view.notes[0].hertz == "220.0"


@pytest.mark.parametrize(
    ("pitch", "hertz"), [(440, 233.082), (442, 233.082 * 442 / 440), (415, 233.082 * 415 / 440)]
)
def test_frequency_follows_the_programs_pitch(pitch: int, hertz: float) -> None:
    view = of(pitch=pitch)
    assert data(view)[0]["hertz"] == pytest.approx(hertz, abs=1e-3)
    assert view.notes[0].hertz == f"{hertz:.1f}"
    assert view.pitch == pitch


@pytest.mark.parametrize(
    ("note", "mode", "tones"),
    [
        ("Bb", Mode.MAJOR, [("Root", "B♭", 0), ("Third", "D", 4), ("Fifth", "F", 7)]),
        ("Eb", Mode.MAJOR, [("Root", "E♭", 0), ("Third", "G", 4), ("Fifth", "B♭", 7)]),
        ("G", Mode.MINOR, [("Root", "G", 0), ("Third", "B♭", 3), ("Fifth", "D", 7)]),
        ("D", Mode.DORIAN, [("Root", "D", 0), ("Third", "F", 3), ("Fifth", "A", 7)]),
        ("F#", Mode.MAJOR, [("Root", "F♯", 0), ("Third", "A♯", 4), ("Fifth", "C♯", 7)]),
        ("Ab", Mode.MINOR, [("Root", "A♭", 0), ("Third", "C♭", 3), ("Fifth", "E♭", 7)]),
        ("B", Mode.LOCRIAN, [("Root", "B", 0), ("Third", "D", 3)]),
    ],
)
def test_chord_tones_are_spelled(note: str, mode: Mode, tones: list[tuple[str, str, int]]) -> None:
    view = drone_view(context(), [("key note", parse_note_name(note), mode)])
    found = [(shown, semitones) for shown, _, semitones, _ in data(view)[0]["tones"]]
    assert found == [(f"{kind} {name}", semitones) for kind, name, semitones in tones]


@pytest.mark.parametrize(
    ("mode", "cents"), [(Mode.MAJOR, [0, -13.69, 1.96]), (Mode.MINOR, [0, 15.64, 1.96])]
)
def test_pure_offsets(mode: Mode, cents: list[float]) -> None:
    view = drone_view(context(), [("key note", parse_note_name("C"), mode)])
    found = [offset for *_, offset in data(view)[0]["tones"]]
    assert found == pytest.approx(cents, abs=0.005)


@pytest.mark.parametrize(
    ("own", "named", "tones"),
    [
        ("C", ("Your", "C", "concert B♭"), ["C", "E", "G"]),
        ("Bb", ("Your", "B♭", "tuning note"), ["B♭", "D", "F"]),
        (None, ("Concert", "B♭", "tuning note"), ["B♭", "D", "F"]),
    ],
)
def test_a_player_reads_the_own_note_and_chord(
    own: str | None, named: tuple[str, str, str], tones: list[str]
) -> None:
    """A trumpet's written C sounds B♭ (the table of instruments), its chord is C, E, G."""
    source = ("tuning note", parse_note_name("Bb"), Mode.MAJOR)
    (note,) = data(drone_view(context(), [source], parse_note_name(own) if own else None))
    whose, name, role = named
    assert note["label"] == [f"{whose} ", name, ""]
    assert note["title"] == f"Drone: {whose.lower()} {name} ({role})"
    assert [shown.split()[-1] for shown, *_ in note["tones"]] == tones
    assert note["hertz"] == pytest.approx(233.082, abs=1e-3)  # B♭3 of the table, whoever reads it


def test_notes_are_named_for_the_ear() -> None:
    note = data(of())[0]
    assert note["spoken"] == "concert B flat, tuning note"
    assert [heard for _, heard, *_ in note["tones"]] == ["Root, B flat", "Third, D", "Fifth, F"]
