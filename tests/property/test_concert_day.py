"""Laws of a reckoned concert day, whatever the director writes.

Nothing in the run of show overlaps; backward steps are in order and never after the first
note, nor on a stage that is not free; resets lead from what stands at the opening to the last set-up.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.loader import load
from handbook.plan.build import build_plan
from handbook.plan.concert_day import Ground, concert_day
from handbook.plan.concert_model import ConcertDay
from handbook.plan.model import EnsemblePlan
from handbook.schema.concert import Concert
from handbook.schema.handbook import Sourced
from tests.oracles.seating import applied

BASE = Path(__file__).parents[1] / "broken" / "_base"
STEPS = (
    "duties",
    "unpack",
    "warm_up",
    "walk",
    "in_place",
    "walk_back",
    "pack",
    "strike",
    "to_door",
)
PIECES = {"harbor": "tweed-kites", "lantern": "button-comets"}

minutes = st.integers(0, 60).map(str)
pauses = st.lists(
    st.fixed_dictionaries(
        {
            "what": st.sampled_from(["remarks", "changeover", "intermission"]),
            "minutes": st.integers(1, 20).map(str),
        }
    ),
    max_size=3,
)
turns = st.lists(
    st.tuples(st.sampled_from(sorted(PIECES)), st.integers(1, 3), pauses), min_size=1, max_size=5
)
allowances = st.dictionaries(st.sampled_from(STEPS), minutes)
things = st.dictionaries(
    st.sampled_from(["chair", "stand", "riser"]), st.integers(0, 60).map(str), max_size=3
)


@cache
def base() -> tuple[Ground, dict[str, EnsemblePlan]]:
    handbook = load(BASE).handbook
    assert handbook is not None
    (content,) = handbook.cycles
    assert content.concert is not None
    (cycle,) = build_plan(handbook).plan.cycles
    ground = Ground(
        content.concert,
        handbook.program,
        next(iter(handbook.years.values())),
        handbook.program.item.venues[0],
        ZoneInfo(handbook.program.item.time_zone),
        "en",
    )
    return ground, {plan.item.id: plan for plan in cycle.ensembles}


@st.composite
def days(draw: st.DrawFn) -> ConcertDay:
    ground, plans = base()
    data = {
        "name": "Concert",
        "date": "2026-12-10",
        "downbeat": draw(st.sampled_from(["7:00 pm", "6:35 pm", "11:30 pm"])),
        "venue": "hall",
        "gap_seconds": draw(st.integers(0, 90).map(str)),
        "changeover": draw(st.integers(0, 10).map(str)),
        "program": [
            {"ensemble": who, "pieces": [PIECES[who]] * count, "before": before}
            for who, count, before in draw(turns)
        ],
        "closing": draw(pauses),
        "allowances": draw(allowances),
        "calls": [{"ensemble": "harbor", "minutes": draw(allowances)}],
        "seating": {"opening": draw(things)},
    }
    concert = Sourced(ground.concert.file, Concert.model_validate(data))
    return concert_day(replace(ground, concert=concert), plans)


@settings(deadline=None, max_examples=150)
@given(days())
def test_the_run_of_show_has_no_overlap_and_no_hole(found: ConcertDay) -> None:
    assert found.seconds == sum(row.seconds for row in found.rows)
    for before, after in pairwise(found.rows):
        assert before.end == after.start
        assert before.start <= before.end
    assert found.rows[-1].end == found.ends


@settings(deadline=None, max_examples=150)
@given(days())
def test_steps_are_in_order_around_the_notes(found: ConcertDay) -> None:
    assert found.seating is not None
    for group in found.groups:
        times = group.times
        steps = (
            times.call,
            times.duties,
            times.unpack,
            times.warm_up,
            times.walk,
            times.in_place,
            times.first_note,
            times.last_note,
            times.off_stage,
            times.packing,
            times.packed,
            times.ready,
            times.pick_up,
        )
        assert list(steps) == sorted(steps)
        assert (times.call.minute % 5, times.pick_up.minute % 5) == (0, 0)
        free = [turn.free for turn in found.seating.turns if turn.start == times.first_note]
        assert all(times.in_place >= moment for moment in free if moment is not None)
        played = [row for row in found.rows if group.ensemble in row.ensembles]
        assert (times.first_note, times.last_note) == (played[0].start, played[-1].end)


@settings(deadline=None, max_examples=150)
@given(days())
def test_resets_end_at_the_last_set_up(found: ConcertDay) -> None:
    assert found.seating is not None
    stands = found.seating.opening
    for turn in found.seating.turns:
        stands = applied(stands, turn.change)
        assert stands == turn.setup
        assert all(found.seating.largest.of(thing) >= count for thing, count in stands.counts)
