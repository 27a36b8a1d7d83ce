"""What a player learns first: all of it, each thing once, with the answer behind what is asked.

Fingerings are those of the usual charts: first choices of common practice, no source. The
tables behind them have tests of their own with sources.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from handbook.outputs.components.know_first import KnowFirstView, know_first_view
from handbook.outputs.components.notation import RhythmFigures
from handbook.outputs.components.part_music import shared_by_parts
from handbook.outputs.page import Context
from tests.demo import demo_plan
from tests.domain.test_fingerings import CHARTS


@cache
def lists(band: str, language: str = "en") -> dict[str, KnowFirstView]:
    """What each player of a band of the demo's last cycle learns first."""
    cycle = demo_plan().cycles[-1]
    ensemble = next(one for one in cycle.ensembles if one.item.id == band)
    shared = shared_by_parts(Context(demo_plan(), language), cycle, ensemble, RhythmFigures())
    return {part.id: know_first_view(shared, part) for part in ensemble.parts}


def fingerings(view: KnowFirstView) -> dict[str, str]:
    return {str(way.written): way.way for note in view.notes for way in note.ways}


def test_brass_learn_the_fingering_of_each_note_that_the_keys_change() -> None:
    trumpet = lists("beacon")["trumpet"]
    assert [(key.title, str(key.key), key.signature) for key in trumpet.keys] == [
        ("Beacon Fire Variations", "D minor", "1 flat: B♭"),
        ("What the Harbor Kept", "B♭ major", "2 flats: B♭, E♭"),
        ("Night Train to Marrow Point", "G minor", "2 flats: B♭, E♭"),
    ]
    usual = {"B♭3": "1", "B♭4": "1", "E♭4": "2-3", "E♭5": "2", "F♯4": "2"}
    assert {name: fingerings(trumpet)[name] for name in usual} == usual
    trombone = lists("lantern")["trombone"]
    assert trombone.slide
    assert {name: fingerings(trombone)[name] for name in ("B♭2", "E♭3", "C3")} == {
        "B♭2": "1",
        "E♭3": "3",
        "C3": "6",
    }


def test_each_note_of_a_key_and_each_watched_note_is_there_once() -> None:
    cycle = demo_plan().cycles[-1]
    for ensemble in cycle.ensembles:
        for part in ensemble.parts:
            wanted = {
                *(note.written.name for one in part.pieces for note in one.key_notes),
                *(
                    note.written.name
                    for one in part.pieces
                    for point in one.points
                    for note in point.notes
                ),
            }
            found = [note.name for note in lists(ensemble.item.id)[part.id].notes]
            assert len(found) == len(set(found))
            assert set(found) == wanted


def test_each_fingering_is_that_of_the_usual_chart() -> None:
    charts = {name: {pitch.midi: shown for pitch, shown in rows} for name, rows, _ in CHARTS}
    compared = 0
    for band in ("lantern", "harbor"):  # whose euphoniums and tubas have three valves
        for name, view in lists(band).items():
            for way in (way for note in view.notes for way in note.ways if name in charts):
                assert way.way.replace("-", "") == charts[name][way.written.midi], (name, way)
                compared += 1
    assert compared > 30


def test_a_fingering_that_is_not_taught_is_not_asked() -> None:
    clarinet, bells = lists("beacon")["clarinet"], lists("beacon")["glockenspiel"]
    assert [str(note.name) for note in clarinet.note_cards] == ["B♭", "F♯"]
    assert len(clarinet.notes) > 2
    assert bells.note_cards == bells.notes


def test_the_demo_teaches_trills_by_what_the_two_notes_have_in_common() -> None:
    # A is 1-2 and B flat is 1 (the usual chart): one valve stays, the other moves.
    (trill,) = lists("beacon")["trumpet"].trills
    assert (str(trill.lower), str(trill.upper)) == ("A4", "B♭4")
    assert trill.ways == ("Hold the first valve. Trill the second.",)
    chart = {str(pitch): shown for pitch, shown in CHARTS[0][1]}
    assert (chart["A4"], chart["B♭4"]) == ("12", "1")


def test_the_notes_of_a_key_are_those_of_its_signature_wherever_they_are_read() -> None:
    # The order of flats: common practice, no source.
    clarinet = next(
        one for one in demo_plan().cycles[-1].ensembles[-1].parts if one.id == "clarinet"
    )
    found = {
        str(one.key): " ".join(str(note.written) for note in one.key_notes)
        for one in clarinet.pieces
    }
    assert found == {
        "D minor": "B♭3 B♭4 B♭5",
        "B♭ major": "B♭3 B♭4 B♭5 E♭4 E♭5",
        "G minor": "B♭3 B♭4 B♭5 E♭4 E♭5",
    }


def test_goal_tempos_are_those_of_the_passages_that_the_player_has() -> None:
    goals = {
        (one.title, str(one.goal)): [place.title for place in one.passages]
        for one in lists("beacon")["flute"].tempos
    }
    assert goals["Beacon Fire Variations", "dotted quarter = 92"] == ["Wind on the ridge"]
    switchyard = [
        {place.title for one in lists("beacon")[name].tempos for place in one.passages}
        for name in ("flute", "trumpet")
    ]
    assert ["Switchyard" in names for names in switchyard] == [False, True]
    assert all(not one.passages for one in lists("lantern")["flute"].tempos[:1])


def test_rhythms_are_asked_without_their_counts_and_hands_are_for_percussion() -> None:
    snare, trumpet = lists("lantern")["snare-drum"], lists("lantern")["trumpet"]
    street = next(one for one in snare.rhythms if one.name == "Street beat")
    assert street.hands == "R L R L R L R L R L R"
    assert street.counts
    assert not set("123&") & set(street.asked.text)
    assert "<text" not in street.asked.shapes
    assert all(not one.hands for one in trumpet.rhythms)
    assert "Street beat" not in {one.name for one in trumpet.rhythms}
    assert not snare.keys
    assert not snare.notes


def test_ids_are_each_once_so_that_a_tick_means_one_thing() -> None:
    for band in ("lantern", "harbor", "beacon"):
        for view in lists(band).values():
            ids = [card.id for group in view.groups for card in group]
            assert len(ids) == len(set(ids))


def test_ids_are_the_same_in_every_language_so_that_a_tick_stays() -> None:
    compared = 0
    for band in ("lantern", "harbor", "beacon"):
        for name, view in lists(band).items():
            other = lists(band, "es")[name]
            ids = [card.id for group in view.groups for card in group]
            assert ids == [card.id for group in other.groups for card in group]
            compared += sum(
                one.name != twin.name for one, twin in zip(view.rhythms, other.rhythms, strict=True)
            )
    assert compared, "no rhythm has a name of its own in Spanish"


def test_pencil_marks_stand_in_order_of_measures_and_a_tempo_where_it_changes() -> None:
    pieces = {one.title: one.marks for one in lists("beacon")["trumpet"].pencil}
    marks = pieces["Beacon Fire Variations"]
    # As music.yaml has them: key, then goals, watched notes and rhythms by their measures.
    assert [mark.where for mark in marks] == [
        *("", "m. 1", "mm. 5–12", "m. 13", "mm. 21–22", "m. 29", "m. 53", "m. 65", "mm. 65–66")
    ]
    tempos = [str(mark.tempo) for mark in marks if mark.tempo]
    assert tempos == [
        *("quarter = 76", "quarter = 120", "dotted quarter = 92", "quarter = 60", "quarter = 144")
    ]
    (march, *_) = lists("lantern")["flute"].pencil
    assert [str(mark.tempo) for mark in march.marks if mark.tempo] == ["quarter = 104"]


def test_what_was_dropped_is_not_learned_and_a_trill_that_comes_twice_is_learned_once() -> None:
    cycle = demo_plan().cycles[-1]
    band = cycle.ensembles[-1]
    shared = shared_by_parts(Context(demo_plan(), "en"), cycle, band, RhythmFigures())
    part = next(one for one in band.parts if one.id == "trumpet")
    first, *others = part.pieces
    dropped = replace(first, item=first.item.model_copy(update={"dropped": cycle.item.starts}))
    twice = tuple(replace(one, trills=one.trills * 2) for one in others)
    view = know_first_view(shared, replace(part, pieces=(dropped, *twice)))
    assert len(view.trills) == 1
    assert "Beacon Fire Variations" not in {one.title for one in view.keys}
    assert "Beacon Fire Variations" not in {one.title for one in view.tempos}
    assert [view.first_until, view.last_from] == [band.stages[0].ends, band.stages[-1].begins]
