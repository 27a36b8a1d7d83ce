"""Laws of brass fingerings."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.fingerings import alternates, first_choice
from handbook.domain.tables.brass import PARTIAL_SEMITONES, Action
from handbook.domain.tables.instruments import INSTRUMENTS, MAJOR_NINTH_DOWN, instrument
from handbook.domain.transposition import concert_pitch
from handbook.domain.values.pitch import LETTERS, NoteName, WrittenPitch

names = st.builds(NoteName, st.sampled_from(LETTERS), st.integers(-1, 1))
notes = st.builds(WrittenPitch, names, st.integers(1, 6))


@given(notes)
def test_treble_and_bass_clef_euphonium_press_the_same_valves(treble: WrittenPitch) -> None:
    bass = treble.shifted(MAJOR_NINTH_DOWN)
    in_treble, in_bass = (
        first_choice(treble, "euphonium-treble-clef"),
        first_choice(bass, "euphonium"),
    )
    assert (in_treble and in_treble.shown) == (in_bass and in_bass.shown)
    assert (in_treble and in_treble.partial) == (in_bass and in_bass.partial)


@given(notes)
def test_clefs_sound_alike(treble: WrittenPitch) -> None:
    bass = treble.shifted(MAJOR_NINTH_DOWN)
    sounding = [
        concert_pitch(treble, instrument("euphonium-treble-clef")),
        concert_pitch(bass, instrument("euphonium")),
    ]
    assert sounding[0] == sounding[1]


BRASS = [row.id for row in INSTRUMENTS if row.tubes]


@given(notes, st.sampled_from(BRASS), st.sampled_from([3, 4]))
def test_every_way_lands_on_the_note(note: WrittenPitch, name: str, valves: int) -> None:
    usual = first_choice(note, name, valves)
    others = alternates(note, name, valves)
    assert usual not in others
    assert not (usual is None and any(not way.raised for way in others))
    for way in (*((usual,) if usual else ()), *others):
        height = way.tube.fundamental.midi + PARTIAL_SEMITONES[way.partial] - way.lowered
        assert height == note.midi
        if way.tube.action is Action.VALVES:
            added = sum({"1": 2, "2": 1, "3": 3, "4": 5, "0": 0}[valve] for valve in way.shown)
            assert added == way.lowered


@given(notes, st.sampled_from(BRASS))
def test_spelling_does_not_change_the_fingering(note: WrittenPitch, name: str) -> None:
    octave, step = divmod(note.midi - 12, 12)
    naturals = {0: "C", 2: "D", 4: "E", 5: "F", 7: "G", 9: "A", 11: "B"}
    letter, alter = (naturals[step], 0) if step in naturals else (naturals[step - 1], 1)
    assert first_choice(WrittenPitch(NoteName(letter, alter), octave), name) == first_choice(
        note, name
    )
