"""Each player's part, against music21 10.5.1 and the usual fingering charts.

Fingerings: first choices of common practice, no source. Counts: common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from music21 import instrument as m21_instrument
from music21 import interval, pitch

from handbook.domain.counting import count_line
from handbook.domain.rhythm import strokes
from handbook.plan.parts_model import PartPiece, PartPlan
from tests.content_folders import base_files, changed
from tests.plan.planning import MUSIC, lantern, planned

PROGRAM = "program.yaml"
FUNDAMENTALS = "fundamentals.yaml"
BAND = (
    "flute: 4, clarinet: 4, bass-clarinet: 1, alto-saxophone: 2, tenor-saxophone: 1, "
    "baritone-saxophone: 1, trumpet: 4, horn: 2, trombone: 2, euphonium: 1, "
    "euphonium-treble-clef: 1, tuba: 1, timpani: 1, glockenspiel: 1, snare-drum: 1, percussion: 2"
)
WATCH = """        goal: quarter = 96
        watch:
          - {text: The fourth is flat, notes: [Ab]}
          - {text: Low and early, who: [trombone, euphonium, tuba], notes: [Bb2]}
          - {text: Roll, who: [percussion]}
"""
RHYTHMS = """    rhythms:
      - {pattern: q e q e, measures: 17-18}
      - {pattern: e e q h, measures: 1}
      - {pattern: s s s s s s s s h, who: [percussion], rudiment: single paradiddle}
      - {pattern: q q q q, who: [trumpet], sticking: RLRL}
"""


def parts(folder: Path, program: str = "", music: str = "", more: str = "") -> dict[str, PartPlan]:
    files = base_files()
    files = changed(files, PROGRAM, "flute: 6, clarinet: 8, trumpet: 7", BAND)
    files = changed(files, PROGRAM, "rooms:\n", f"{program}rooms:\n")
    text = files[MUSIC].replace(
        "    ensemble: lantern\n", "    ensemble: lantern\n    key: Eb major\n"
    )
    text = text.replace("        goal: quarter = 96\n", WATCH, 1)
    text = text.replace("  - id: tweed-kites", f"{RHYTHMS}{music}  - id: tweed-kites")
    changes = {PROGRAM: files[PROGRAM], MUSIC: text} | ({FUNDAMENTALS: more} if more else {})
    return {part.id: part for part in lantern(planned(folder, changes)).parts}


def piece_of(part: PartPlan) -> PartPiece:
    (piece,) = part.pieces
    return piece


# music21 has these transpositions right; others are checked by the circle of fifths below.
ORACLE = {
    "flute": m21_instrument.Flute,
    "clarinet": m21_instrument.Clarinet,
    "bass-clarinet": m21_instrument.BassClarinet,
    "alto-saxophone": m21_instrument.AltoSaxophone,
    "tenor-saxophone": m21_instrument.TenorSaxophone,
    "baritone-saxophone": m21_instrument.BaritoneSaxophone,
    "trumpet": m21_instrument.Trumpet,
    "horn": m21_instrument.Horn,
    "trombone": m21_instrument.Trombone,
    "tuba": m21_instrument.Tuba,
}


@pytest.mark.parametrize("name", ORACLE)
def test_notes_and_keys_are_written_as_music21_transposes(name: str, tmp_path: Path) -> None:
    piece = piece_of(parts(tmp_path)[name])
    sounds = ORACLE[name]().transposition or interval.Interval("P1")  # type: ignore[no-untyped-call]
    for point in piece.points:
        for note in point.notes:
            written = pitch.Pitch(note.written.name.typed.replace("b", "-"))
            written.octave = note.written.octave
            heard = written.transpose(sounds)
            assert heard.nameWithOctave == str(note.concert).replace("♭", "-").replace("♯", "#")
    assert piece.key is not None
    tonic = pitch.Pitch(piece.key.tonic.typed.replace("b", "-"))
    assert tonic.transpose(sounds).name == "E-"


@pytest.mark.parametrize(
    ("name", "written"),
    [  # concert A flat in concert E flat major, placed where each one plays
        ("flute", "A♭5"),  # the middle of C4 to F6 is nearer to it
        ("clarinet", "B♭4"),
        ("alto-saxophone", "F5"),
        ("trumpet", "B♭4"),
        ("horn", "E♭4"),
        ("trombone", "A♭3"),
        ("euphonium-treble-clef", "B♭4"),
        ("tuba", "A♭2"),
        ("glockenspiel", "A♭4"),
    ],
)
def test_a_note_without_octave_lies_in_the_players_register(
    name: str, written: str, tmp_path: Path
) -> None:
    first = piece_of(parts(tmp_path)[name]).points[0].notes[0]
    assert str(first.written) == written
    assert first.in_range


@pytest.mark.parametrize(
    ("name", "fingered"),
    [
        ("trumpet", "B♭4:1"),
        ("horn", "E♭4:2"),
        ("trombone", "A♭3:3"),
        ("euphonium", "A♭2:1"),
        ("euphonium-treble-clef", "B♭4:1"),
        ("tuba", "A♭2:1"),
    ],
)
def test_brass_get_their_first_choice(name: str, fingered: str, tmp_path: Path) -> None:
    first = piece_of(parts(tmp_path)[name]).points[0].notes[0]
    assert first.usual is not None
    written, shown = fingered.split(":")
    assert first.usual.label == shown
    assert str(first.written.name) == written[:-1]


def test_woodwinds_get_only_the_directors_own_fingerings(tmp_path: Path) -> None:
    own = "fingerings: {clarinet: {A#4: A key and register key}}\n"
    found = parts(tmp_path, own)
    clarinet, flute = (piece_of(found[name]).points[0].notes[0] for name in ("clarinet", "flute"))
    assert (str(clarinet.own), clarinet.usual) == ("A key and register key", None)  # sounds alike
    assert (flute.own, flute.usual, flute.others) == (None, None, ())


def test_a_stated_octave_is_kept_even_out_of_range(tmp_path: Path) -> None:
    found = parts(tmp_path)
    low = {name: piece_of(found[name]).points[1].notes[0] for name in ("trombone", "tuba")}
    assert {name: str(note.written) for name, note in low.items()} == {
        "trombone": "B♭2",
        "tuba": "B♭2",
    }
    assert low["trombone"].usual is not None
    assert low["trombone"].usual.shown == "1"


def test_points_reach_those_they_are_for(tmp_path: Path) -> None:
    found = parts(tmp_path)
    texts = {
        name: [str(p.item.text) for p in piece_of(part).points] for name, part in found.items()
    }
    assert texts["flute"] == ["The fourth is flat"]
    assert texts["euphonium"] == ["The fourth is flat", "Low and early"]
    assert texts["euphonium-treble-clef"] == ["The fourth is flat"]
    for name in ("timpani", "glockenspiel"):
        assert texts[name] == ["The fourth is flat", "Roll"]  # the whole family
    for name in ("snare-drum", "percussion"):
        assert texts[name] == ["Roll"]  # no drum without pitch has a fourth


def test_points_about_notes_reach_a_drum_without_pitch_only_by_name(tmp_path: Path) -> None:
    """What has no definite pitch has no such note; who is named has the director's reasons."""
    point = (
        "    watch: [{text: 'Keep {Bb} low'}, {text: {en: Count, es: 'Cuenta {F#}'}}, {text: 'Wait for the {C}', who: [snare]}, "
        "{text: Listen, notes: [C]}, {text: 'In {braces}'}]\n"
    )
    texts = {
        name: [str(one.item.text) for one in piece_of(part).points if one.passage is None]
        for name, part in parts(
            tmp_path,
            music=point,
            program="languages: [en, es]\n",
        ).items()
    }
    assert texts["snare-drum"] == ["Wait for the {C}", "In {braces}"]
    assert texts["percussion"] == ["In {braces}"]
    for name in ("timpani", "glockenspiel", "tuba"):
        assert texts[name] == ["Keep {Bb} low", "Count", "Listen", "In {braces}"]


def test_points_of_a_passage_reach_only_those_who_play_it(tmp_path: Path) -> None:
    goal = "        goal: dotted quarter = 80\n"
    more = "        who: [trumpet]\n        watch: [{text: Breathe}, {text: Wait, who: [flute]}]\n"
    found = lantern(planned(tmp_path, changed(base_files(), MUSIC, goal, goal + more))).parts
    told = {
        part.id: [(str(p.item.text), p.passage) for p in piece_of(part).points] for part in found
    }
    assert told == {"flute": [], "clarinet": [], "trumpet": [("Breathe", "chase")]}


def test_any_name_of_an_instrument_reaches_its_players_and_no_others(tmp_path: Path) -> None:
    point = "    watch: [{text: Sax, who: [alto-sax]}, {text: Brass, who: [trumpets, tubas]}, {text: Horns, who: [french-horn]}]\n"
    texts = {
        name: [str(one.item.text) for one in piece_of(part).points if one.passage is None]
        for name, part in parts(tmp_path, music=point).items()
    }
    assert {name: told for name, told in texts.items() if told} == {
        "alto-saxophone": ["Sax"],
        "trumpet": ["Brass"],
        "tuba": ["Brass"],
        "horn": ["Horns"],
    }


def test_families_name_all_their_instruments(tmp_path: Path) -> None:
    point = "    watch: [{text: Low, who: [low-brass]}, {text: Air, who: [winds]}, {text: Both, who: [mallets, flute]}]\n"
    texts = {
        name: [str(one.item.text) for one in piece_of(part).points if one.passage is None]
        for name, part in parts(tmp_path, music=point).items()
    }
    assert texts["tuba"] == texts["euphonium-treble-clef"] == ["Low", "Air"]
    assert texts["flute"] == ["Air", "Both"]
    assert texts["glockenspiel"] == ["Both"]
    assert texts["snare-drum"] == texts["timpani"] == []


def test_timpani_have_tuned_notes_and_no_scale(tmp_path: Path) -> None:
    """The first and fifth note of concert E flat, and what is to be watched, each in F2 to A3."""
    part = parts(tmp_path, more=STRANDS)["timpani"]
    piece = piece_of(part)
    assert (piece.scale, str(piece.key)) == (None, "E♭ major")
    assert [str(note.written) for note in piece.drums] == ["B♭2", "E♭3"]
    assert [str(note.written) for note in piece.points[0].notes] == ["A♭2"]
    # Five notes are more than there are drums, and a scale is none of theirs.
    assert [(one.scale, one.notes) for one in part.exercises] == [(None, ()), (None, ())]


def test_nobody_else_has_drums_to_tune(tmp_path: Path) -> None:
    found = parts(tmp_path)
    assert {piece_of(part).drums for name, part in found.items() if name != "timpani"} == {()}


@pytest.mark.parametrize(("level", "others"), [("beginner", []), ("developing", ["3"])])
def test_beginners_learn_one_fingering(level: str, others: list[str], tmp_path: Path) -> None:
    files = changed(
        base_files(),
        PROGRAM,
        "flute: 6, clarinet: 8, trumpet: 7}\n",
        f"trumpet: 1}}\n    experience: {level}\n",
    )
    text = files[MUSIC].replace(
        "        goal: quarter = 96\n",
        "        goal: quarter = 96\n        watch: [{text: High, notes: [G4]}]\n",
        1,
    )
    (part,) = lantern(planned(tmp_path, {PROGRAM: files[PROGRAM], MUSIC: text})).parts
    (note,) = piece_of(part).points[0].notes
    assert [way.label for way in note.others] == others  # written A4, 1-2


def test_exercises_reach_those_they_are_for(tmp_path: Path) -> None:
    more = STRANDS.replace("level: 1,", "level: 1, who: [winds],").replace(
        "    why: Scales are roads\n", "    why: Scales are roads\n    who: [brass, percussion]\n"
    )
    ids = {
        name: [one.item.id for one in part.exercises]
        for name, part in parts(tmp_path, more=more).items()
    }
    assert ids["trumpet"] == ["first", "second"]
    assert ids["snare-drum"] == ids["glockenspiel"] == ["second"]
    assert ids["flute"] == []


def test_how_it_is_done_reaches_those_it_is_for(tmp_path: Path) -> None:
    how = "how: [{who: [winds], text: Tongue}, {who: [low-brass], text: Low}, {text: All}]"
    more = STRANDS.replace("level: 1,", f"level: 1, {how},")
    told = {
        name: [str(text) for text in part.exercises[0].how]
        for name, part in parts(tmp_path, more=more).items()
    }
    assert told["flute"] == ["Tongue", "All"]
    assert told["tuba"] == ["Tongue", "Low", "All"]
    assert told["snare-drum"] == ["All"]


def test_drums_have_rhythms_and_no_notes(tmp_path: Path) -> None:
    piece = piece_of(parts(tmp_path)["snare-drum"])
    assert (piece.key, piece.scale, piece.points[0].notes) == (None, None, ())
    assert len(piece.rhythms) == 3


@pytest.mark.parametrize(
    ("name", "tuning"),
    [("flute", "F5"), ("trumpet", "G4"), ("horn", "C4"), ("tuba", "F2")],
)
def test_the_program_names_the_tuning_note(name: str, tuning: str, tmp_path: Path) -> None:
    found = parts(tmp_path, "tuning_note: F\n")[name].tuning
    assert found is not None
    assert (str(found.written), str(found.concert.name)) == (tuning, "F")


def test_percussion_is_not_tuned_to_the_band(tmp_path: Path) -> None:
    found = parts(tmp_path)
    assert {found[name].tuning for name in ("timpani", "glockenspiel", "snare-drum")} == {None}


def test_a_rhythm_takes_the_meter_of_its_place_in_the_form(tmp_path: Path) -> None:
    rows = [one.row for one in piece_of(parts(tmp_path)["flute"]).rhythms]
    assert [str(row.meter) for row in rows] == ["6/8", "4/4"]
    assert [count_line(row.counts[0]) for row in rows] == ["1 a 2 a", "1 & 2 3 (4)"]


def test_the_program_chooses_how_rhythms_are_counted(tmp_path: Path) -> None:
    rows = piece_of(parts(tmp_path, "counting: ta-ti\n")["flute"]).rhythms
    assert count_line(rows[1].row.counts[0]) == "ti ti ta ta-a"


def test_a_rudiment_gives_the_hands(tmp_path: Path) -> None:
    paradiddle = piece_of(parts(tmp_path)["percussion"]).rhythms[2].row.rhythm
    assert "".join(map(str, strokes(paradiddle))) == "RLRRLRLLR"  # and again from the start


def test_an_instrument_of_ones_own_reads_like_a_known_one(tmp_path: Path) -> None:
    files = changed(base_files(), PROGRAM, "trumpet: 7", "cornet-2: 7, kazoo: 1")
    files = changed(files, PROGRAM, "rooms:\n", "reads_like: {cornet-2: cornet}\nrooms:\n")
    plan = lantern(planned(tmp_path, {PROGRAM: files[PROGRAM]}))
    read = {part.id: part.instrument and part.instrument.id for part in plan.parts}
    assert read == {"flute": "flute", "clarinet": "clarinet", "cornet-2": "cornet", "kazoo": None}
    assert [part.players for part in plan.parts] == [6, 8, 7, 1]


STRANDS = """strands:
  - id: technique
    name: Technique
    why: Scales are roads
    exercises:
      - {id: first, name: First, level: 1, rehearsals: 4, scale: Bb major, notes: [Bb, C, D, Eb, F]}
      - {id: second, name: Second, level: 2, rehearsals: 60, rhythm: q. e h}
      - {id: never, name: Never, level: 3, scale: Eb major}
"""


def test_exercises_of_the_cycle_are_spelled_for_the_player(tmp_path: Path) -> None:
    trumpet = parts(tmp_path, more=STRANDS)["trumpet"]
    assert [one.item.id for one in trumpet.exercises] == ["first", "second"]
    first, second = trumpet.exercises
    assert first.scale is not None
    assert str(first.scale.key) == "C major"
    assert [way.label if way else "" for way in first.scale_ways] == [
        *("0", "1-3", "1-2", "1"),  # written C4 to F4
        *("0", "1-2", "2", "0"),
    ]
    assert [str(note.written) for note in first.notes] == ["C4", "D4", "E4", "F4", "G4"]
    assert second.row is not None
    assert count_line(second.row.counts[0]) == "1 (2) & 3 (4)"


@pytest.mark.parametrize(
    ("more", "label"),
    [("", "1-2-3"), ("    valves: {euphonium: 4}\n", "2-4")],
)
def test_a_fourth_valve_replaces_one_two_three(more: str, label: str, tmp_path: Path) -> None:
    files = changed(
        base_files(), PROGRAM, "flute: 6, clarinet: 8, trumpet: 7}\n", f"euphonium: 1}}\n{more}"
    )
    text = files[MUSIC].replace(
        "        goal: quarter = 96\n",
        "        goal: quarter = 96\n        watch: [{text: Low, notes: [E2]}]\n",
        1,
    )
    (part,) = lantern(planned(tmp_path, {PROGRAM: files[PROGRAM], MUSIC: text})).parts
    (note,) = piece_of(part).points[0].notes
    assert note.usual is not None
    assert note.usual.label == label


@pytest.mark.parametrize(("more", "side"), [("", "B♭ side"), ("    single_horns: yes\n", "F side")])
def test_single_horns_have_no_b_flat_side(more: str, side: str, tmp_path: Path) -> None:
    files = changed(
        base_files(), PROGRAM, "flute: 6, clarinet: 8, trumpet: 7}\n", f"horn: 2}}\n{more}"
    )
    text = files[MUSIC].replace(
        "        goal: quarter = 96\n",
        "        goal: quarter = 96\n        watch: [{text: High, notes: [Eb4]}]\n",
        1,
    )
    (part,) = lantern(planned(tmp_path, {PROGRAM: files[PROGRAM], MUSIC: text})).parts
    (note,) = piece_of(part).points[0].notes  # written B flat 4
    assert note.usual is not None
    assert note.usual.tube.name == side
    reached = {way.tube.name for way in note.others}
    assert reached <= ({"F side"} if more else {"F side", "B♭ side"})


TRILLS = """    trills:
      - {note: G4, measures: 12, fingering: [{who: [brass], text: Trill the second valve}, {who: [flute], text: The third finger}]}
      - {note: A, who: [clarinet], fingering: Look at {Bb}}
      - {note: Bb, to: Cb, who: [flute, snare-drum]}
"""


def test_trills_are_written_for_their_players_with_the_fingering_that_is_taught(
    tmp_path: Path,
) -> None:
    # Concert G to A flat is A to B flat for a trumpet, E to F for an alto saxophone: common
    # practice, no source. Upper notes in all keys: tests/domain/test_trills.py.
    quoted = TRILLS.replace("Look at {Bb}", '"Look at {Bb}"')
    found = {
        name: [
            (str(one.lower), str(one.upper), [way.version("en")[1] for way in one.ways])
            for one in piece_of(part).trills
        ]
        for name, part in parts(tmp_path, music=quoted).items()
    }
    assert found["trumpet"] == [("A4", "B♭4", ["Trill the second valve"])]
    assert found["alto-saxophone"] == [("E5", "F5", [])]
    assert found["flute"] == [("G4", "A♭4", ["The third finger"]), ("B♭4", "C♭5", [])]
    assert [row[:2] for row in found["clarinet"]] == [("A4", "B♭4"), ("B4", "C5")]
    assert found["snare-drum"] == []


def test_a_trill_of_a_passage_is_for_those_who_play_it(tmp_path: Path) -> None:
    files = base_files()
    text = files[MUSIC].replace(
        "        goal: quarter = 96\n",
        "        goal: quarter = 96\n        who: [flute]\n        trills: [{note: C, to: D}]\n",
        1,
    )
    found = {
        part.id: piece_of(part).trills for part in lantern(planned(tmp_path, {MUSIC: text})).parts
    }
    assert [one.passage for one in found["flute"]] == ["opening"]
    assert not found["trumpet"]


def test_notes_of_the_key_lie_within_the_range_of_the_players(tmp_path: Path) -> None:
    # E flat major for a trumpet is F major; its B flat is fingered 1: the usual charts, no source.
    found = piece_of(parts(tmp_path)["trumpet"]).key_notes
    assert {str(note.written.name) for note in found} == {"B♭"}
    assert {note.usual.label for note in found if note.usual} == {"1"}
    assert all(note.in_range for note in found)
    assert piece_of(parts(tmp_path / "again")["snare-drum"]).key_notes == ()
