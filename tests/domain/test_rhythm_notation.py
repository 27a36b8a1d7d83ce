"""The typed notation for rhythms."""

from __future__ import annotations

import pytest
import yaml

from handbook.domain.rhythm import Articulation, RhythmNote, Tuplet
from handbook.domain.rhythm_notation import new_form, parse_rhythm
from handbook.domain.rudiments import Hand, Stroke
from handbook.domain.values.unreadable import UnreadableError


@pytest.mark.parametrize(
    ("text", "note"),
    [
        ("q", RhythmNote("q")),
        ("-q..", RhythmNote("q", dots=2, rest=True)),
        ("e>", RhythmNote("e", articulations=(Articulation.ACCENT,))),
        ("h^", RhythmNote("h", articulations=(Articulation.STRONG_ACCENT,))),
        ("e*", RhythmNote("e", articulations=(Articulation.STACCATO,))),
        ("q.=", RhythmNote("q", dots=1, articulations=(Articulation.TENUTO,))),
        ("q=*", RhythmNote("q", articulations=(Articulation.STACCATO, Articulation.TENUTO))),
        ("q*>", RhythmNote("q", articulations=(Articulation.ACCENT, Articulation.STACCATO))),
        ("q/L", RhythmNote("q", stroke=Stroke(Hand.LEFT))),
        ("q/lR", RhythmNote("q", stroke=Stroke(Hand.RIGHT, graces=1))),
        ("q./rrL", RhythmNote("q", dots=1, stroke=Stroke(Hand.LEFT, graces=2))),
        (
            "e.>/R",
            RhythmNote("e", 1, articulations=(Articulation.ACCENT,), stroke=Stroke(Hand.RIGHT)),
        ),
    ],
)
def test_one_note(text: str, note: RhythmNote) -> None:
    assert parse_rhythm(text).measures == ((note,),)


def test_ties_and_bar_lines() -> None:
    rhythm = parse_rhythm("h q q_ | q h. |")
    assert [[note.tied for note in measure] for measure in rhythm.measures] == [
        [False, False, True],
        [False, False],
    ]


def test_groups_know_where_each_note_starts() -> None:
    groups = [note.tuplet for note in parse_rhythm("3(q e) q 3(e q)").measures[0]]
    places = [str(group.place) if isinstance(group, Tuplet) else "" for group in groups]
    assert places == ["0", "2/3", "", "0", "1/3"]


def test_bar_lines_need_no_spaces_and_lines_may_break() -> None:
    assert parse_rhythm("q q|h") == parse_rhythm(" q  q |\n h ")


@pytest.mark.parametrize(
    ("text", "message", "suggestion"),
    [
        ("q x", "measure 1: `x` is no note or rest", "q q e e q"),
        ("q q | qq", "measure 2: `qq` is no note or rest", "q q"),
        ("seeq.", "measure 1: `seeq.` is no note or rest", "s e e q."),
        ("Q", "measure 1: `Q` is no note or rest", "q q e e q"),
        ("pickup z | q", "the pickup: `z` is no note or rest", "q q e e q"),
        *(
            (text, f"measure 1: `{text}` is a rest, so it takes no accent, hand, tie or slur", "-q")
            for text in ("-q>", "-q/R", "-q_", "-q+", "-q*")
        ),
        ("q>>", "measure 1: `q>>` takes each sign once, and one accent at most", "q>"),
        ("q.>^*", "measure 1: `q.>^*` takes each sign once, and one accent at most", "q.>*"),
        ("- q", "measure 1: `-` is no note or rest", "-q"),
        ("q q-", "measure 1: `q-` is no note or rest", "-q"),
        ("q_+ q", "measure 1: `q_+` is no note or rest", "q q e e q"),
        ("q/RL", "measure 1: one note takes one stroke, but `RL` is 2", "R"),
        ("q/rR", "measure 1: the grace notes of `rR` are not all in the other hand", "lR"),
        ("q_ | -q", "a tie `_` leads to no note", "h_ | q -q"),
        ("q q_", "a tie `_` leads to no note", "h_ | q -q"),
        ("q || q", "measure 2 is empty", "q q e e q"),
        ("", "measure 1 is empty", "q q e e q"),
        ("pickup | q", "the pickup is empty", "q q e e q"),
        ("3(e e e", "measure 1: a group is left open", "3(e e e)"),
        ("3(e e | e)", "measure 1: a group is left open", "3(e e e)"),
        (
            "3(e e)",
            "measure 1: a group of 3 does not hold 3 notes of one value, or as much",
            "3(e e e)",
        ),
        (
            "3()",
            "measure 1: a group of 3 does not hold 3 notes of one value, or as much",
            "3(e e e)",
        ),
        ("3(e 3(e", "measure 1: a group stands within a group", "3(e e e)"),
        ("8(e", "measure 1: `8(` opens no group", "3(e e e)"),
        ("(e e)", "measure 1: `(` opens no group", "3(e e e)"),
        ("e)", "measure 1: `)` closes no group", "3(e e e)"),
    ],
)
def test_what_is_no_rhythm_is_refused_with_its_measure(
    text: str, message: str, suggestion: str
) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_rhythm(text)
    assert refused.value.message == message
    assert refused.value.suggestions[0] == suggestion


@pytest.mark.parametrize(
    "text",
    [
        "q q> e_ | e/lR 3(e e e) -h",
        "-q e* e= q",
        "e+ e* -e e=/R",
        "-w",
        "pickup e | q. e h^",
        "3(q e) q./rrL e",
        "6(s s s s s s) q",
    ],
)
def test_notation_survives_yaml_without_quotes(text: str) -> None:
    """YAML 1.1 plain scalars: no pattern turns into anything but its own text."""
    assert yaml.load(f"rhythm: {text}\n", Loader=yaml.BaseLoader) == {"rhythm": text}
    flow = yaml.load(f"{{rhythm: {text}, meter: 4/4}}\n", Loader=yaml.BaseLoader)
    assert flow == {"rhythm": text, "meter": "4/4"}
    assert parse_rhythm(text)


def test_slurs_lead_from_note_to_note() -> None:
    notes = parse_rhythm("e+ e+ e | q*+ q").measures
    assert [[note.slurred for note in measure] for measure in notes] == [
        [True, True, False],
        [True, False],
    ]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("q rq h", "q -q h"),
        ("rw", "-w"),
        ("h q~|q re. s h", "h q_|q -e. s h"),
        ("3(e re e) q/rL~ | q/rL q", "3(e -e e) q/rL_ | q/rL q"),
        ("pickup re e | q. q.", "pickup -e e | q. q."),
    ],
)
def test_a_rhythm_in_the_old_form_is_turned_over(old: str, new: str) -> None:
    assert new_form(old) == new
    assert new_form(new) is None
    with pytest.raises(UnreadableError, match="old form") as refused:
        parse_rhythm(old)
    assert refused.value.suggestions == (new,)
    assert parse_rhythm(new)


@pytest.mark.parametrize("text", ["q/rL e", "three rests", "rhythm", "q x"])
def test_what_has_no_old_sign_is_left_alone(text: str) -> None:
    assert new_form(text) is None
