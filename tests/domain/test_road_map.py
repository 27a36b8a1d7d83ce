"""Orders of parts against orders written out by hand, and against music21's expander of repeats.

What D.C., D.S., Fine and coda mean is common practice; music21 (music21.repeat.Expander) is the
outside check.
"""

from __future__ import annotations

from typing import Any

import pytest
from music21 import bar, meter, note, repeat, spanner, stream

from handbook.domain.road_map import (
    Jump,
    Leg,
    LegKind,
    OrderStep,
    RouteFault,
    Sign,
    parse_order_step,
    road_map,
    route_faults,
    signs_by_part,
    times_played,
)
from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.unreadable import UnreadableError


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("verse", OrderStep("verse")),
        ("verse x2", OrderStep("verse", 2)),
        ("second-ending × 3", OrderStep("second-ending", 3)),
        ("verse X20", OrderStep("verse", 20)),
        ("D.C.", OrderStep(jump=Jump.DA_CAPO)),
        ("dc al fine", OrderStep(jump=Jump.DA_CAPO_AL_FINE)),
        ("Da Capo al Coda", OrderStep(jump=Jump.DA_CAPO_AL_CODA)),
        ("D. S. al Coda.", OrderStep(jump=Jump.DAL_SEGNO_AL_CODA)),
        ("dal segno", OrderStep(jump=Jump.DAL_SEGNO)),
        ("DS AL FINE", OrderStep(jump=Jump.DAL_SEGNO_AL_FINE)),
        ("to coda", OrderStep(jump=Jump.TO_CODA)),
        ("Fine", OrderStep(jump=Jump.FINE)),
        ("fine", OrderStep("fine")),
        ("coda", OrderStep("coda")),
    ],
)  # fmt: skip
def test_entries_are_read(text: str, step: OrderStep) -> None:
    assert parse_order_step(text) == step
    assert parse_order_step(str(step)) == step


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("2x verse", ("verse x2",)),
        ("First Ending", ("first-ending",)),
        ("Repeat verse", ("verse x2",)),
        ("D.S. to Coda", ("d-s-to-coda",)),
        ("verse x0", ()),
        ("verse x21", ()),
        ("?", ()),
    ],
)
def test_others_are_refused(text: str, meant: tuple[str, ...]) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_order_step(text)
    assert refused.value.suggestions == meant


# name, measures, signs: with and without the signs of a march in da-capo form.
FORM = {
    "intro": (1, 4),
    "verse": (5, 12),
    "first-ending": (13, 14),
    "second-ending": (15, 16),
    "trio": (17, 24),
    "coda": (25, 28),
}
SIGNS = {"verse": (Sign.SEGNO,), "second-ending": (Sign.FINE,)}


def steps(text: str) -> list[OrderStep]:
    return [parse_order_step(one) for one in text.split(", ")]


_LOWEST = 40


def measures_by_music21(*, jump: str | None, to_coda: bool, fine: bool = False) -> list[int]:
    """Build the form with its signs as a score has them, and let music21 play it."""
    marks: Any = repeat
    streams: Any = stream
    score: Any = streams.Part()
    made = {}
    for number in range(1, 29):
        measure: Any = stream.Measure(number=number)
        if number == 1:
            measure.append(meter.TimeSignature("4/4"))
        measure.append(note.Note(_LOWEST + number, type="whole"))
        made[number] = measure
        score.append(measure)
    if jump is None:
        made[5].leftBarline = bar.Repeat(direction="start")
        made[14].rightBarline = bar.Repeat(direction="end")
        score.insert(0, spanner.RepeatBracket([made[13], made[14]], number=1))
        score.insert(0, spanner.RepeatBracket([made[15], made[16]], number=2))
    else:  # it does not take endings and a jump in one score
        made[5].insert(0, marks.Segno())
    if fine:
        made[16].append(marks.Fine())
    if to_coda:
        made[12].append(marks.Coda())  # the first coda sign is where the players leave
        made[25].insert(0, marks.Coda())
    if jump:
        made[24].append(getattr(marks, jump)())
    played = repeat.Expander(score).process()
    # It numbers the measures anew, so that only their notes tell which they are.
    return [one.pitch.midi - _LOWEST for one in played.recurse().notes]


def measures_by_order(order: str) -> list[int]:
    played = []
    for step in steps(order):
        first, last = FORM[step.part] if step.part else (1, 0)
        played += [*range(first, last + 1)] * step.times
    return played


def test_repeats_with_endings_are_played_as_music21_plays_them() -> None:
    expected = measures_by_music21(jump=None, to_coda=False)
    order = "intro, verse, first-ending, verse, second-ending, trio, coda"
    assert measures_by_order(order) == expected


def test_counts_of_measures_follow_the_order() -> None:
    order = "intro, verse, first-ending, verse, second-ending, trio, D.S. al Coda, verse, coda"
    counts = times_played(steps(order))
    assert counts == {
        "intro": 1, "verse": 3, "first-ending": 1, "second-ending": 1, "trio": 1, "coda": 1,
    }  # fmt: skip
    # By hand: 4 + 8 + 2 + 8 + 2 + 8 + 8 + 4 measures.
    assert len(measures_by_order(order)) == 44


def test_a_road_map_has_a_leg_for_each_stretch_without_a_break() -> None:
    order = "intro, verse, first-ending, verse, second-ending, trio, D.S. al Coda, verse, coda"
    signs = signs_by_part([(name, SIGNS.get(name, ())) for name in FORM])
    form = [(name, MeasureSpan(*span), signs[name]) for name, span in FORM.items()]
    assert road_map(form, steps(order)) == (
        Leg(LegKind.BEGIN, ((0, 1), (1, 1), (2, 1)), MeasureSpan(1, 14)),
        Leg(LegKind.BACK, ((1, 1),), MeasureSpan(5, 12)),
        Leg(LegKind.AHEAD, ((3, 1), (4, 1)), MeasureSpan(15, 24)),
        Leg(LegKind.TO_SEGNO, ((1, 1),), MeasureSpan(5, 12), Jump.DAL_SEGNO_AL_CODA),
        Leg(LegKind.TO_CODA, ((5, 1),), MeasureSpan(25, 28)),
    )
    repeated = road_map(form, steps("intro, verse x3, first-ending"))
    assert repeated == (Leg(LegKind.BEGIN, ((0, 1), (1, 3), (2, 1)), MeasureSpan(1, 14)),)


@pytest.mark.parametrize(
    ("order", "faults"),
    [
        ("intro, verse, trio, D.S. al Coda, verse, coda", []),
        ("intro, verse, trio, D.S. al Coda, verse, To Coda, coda", []),
        ("intro, verse, trio, D.C. al Fine, intro, verse, second-ending, Fine", []),
        ("intro, verse, trio, D.S. al Fine, verse, second-ending", []),
        ("intro, trio, D.C., verse", [(2, RouteFault.NOT_FIRST)]),
        ("intro, trio, D.S., intro", [(2, RouteFault.NOT_SEGNO)]),
        ("intro, trio, D.S. al Coda, verse", [(2, RouteFault.NOT_CODA)]),
        ("intro, verse, D.S. al Fine, verse, trio", [(2, RouteFault.NOT_AT_FINE)]),
        ("intro, verse, Fine", [(2, RouteFault.NOT_AT_FINE)]),
        ("intro, Fine, verse", [(1, RouteFault.FINE_EARLY)]),
        ("intro, verse, D.C.", [(2, RouteFault.NOTHING)]),
        ("intro, verse, D.C., Fine", [(2, RouteFault.NOTHING), (3, RouteFault.NOT_AT_FINE)]),
        ("intro, verse, To Coda, coda", [(2, RouteFault.NO_AL_CODA)]),
        ("intro, trio, D.S. al Coda, verse, To Coda, trio, coda", [(4, RouteFault.NOT_CODA)]),
    ],
)  # fmt: skip
def test_words_must_be_followed_by_what_they_mean(
    order: str, faults: list[tuple[int, RouteFault]]
) -> None:
    signs = signs_by_part([(name, SIGNS.get(name, ())) for name in FORM])
    assert route_faults(signs, steps(order)) == faults


def test_without_signs_there_is_nowhere_to_go() -> None:
    bare = {"intro": (), "verse": (), "trio": ()}
    assert route_faults(bare, steps("intro, verse, D.S., verse")) == [(2, RouteFault.NO_SEGNO)]
    assert route_faults(bare, steps("intro, D.C. al Coda, intro")) == [(1, RouteFault.NO_CODA)]
    assert route_faults(bare, steps("intro, D.C. al Fine, intro, verse, Fine")) == []


@pytest.mark.parametrize(
    ("jump", "to_coda", "fine", "order"),
    [
        ("DalSegnoAlCoda", True, False, "intro, verse, first-ending, second-ending, trio, D.S. al Coda, verse, coda"),
        ("DalSegnoAlFine", False, True, "intro, verse, first-ending, second-ending, trio, D.S. al Fine, verse, first-ending, second-ending, Fine"),
        ("DaCapoAlFine", False, True, "intro, verse, first-ending, second-ending, trio, D.C. al Fine, intro, verse, first-ending, second-ending, Fine"),
        ("DaCapoAlCoda", True, False, "intro, verse, first-ending, second-ending, trio, D.C. al Coda, intro, verse, coda"),
    ],
)  # fmt: skip
def test_an_order_is_what_music21_plays(jump: str, to_coda: bool, fine: bool, order: str) -> None:
    signs = signs_by_part([(name, SIGNS.get(name, ())) for name in FORM])
    assert route_faults(signs, steps(order)) == []
    expected = measures_by_music21(jump=jump, to_coda=to_coda, fine=fine)
    assert measures_by_order(order) == expected
