"""What is learned first is complete, and nothing of it is there twice."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import cast

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.circle_of_fifths import signature
from handbook.domain.tables.instruments import INSTRUMENTS
from handbook.domain.values.keys import ConcertKey, Mode
from handbook.domain.values.pitch import LETTERS, NoteName
from handbook.outputs.components.know_first import know_first_view
from handbook.outputs.components.notation import RhythmFigures
from handbook.outputs.components.part_music import Shared, shared_by_parts
from handbook.outputs.page import Context
from handbook.pipeline import load_plan
from handbook.plan.model import PieceRow, Plan
from handbook.plan.parts import part_plans
from handbook.schema.music import WatchPoint
from tests.content_folders import BASE

names = st.builds(NoteName, st.sampled_from(LETTERS), st.integers(-1, 1))
keys = st.none() | st.builds(
    ConcertKey.from_fifths, st.integers(-7, 7), st.sampled_from(list(Mode))
)
played = st.sampled_from([row.id for row in INSTRUMENTS])
pieces = st.lists(st.tuples(keys, st.lists(names, max_size=4)), min_size=1, max_size=3)


@cache
def base() -> tuple[Plan, Shared]:
    plan = cast("Plan", load_plan(BASE).plan)
    cycle = plan.cycles[-1]
    return plan, shared_by_parts(Context(plan, "en"), cycle, cycle.ensembles[0], RhythmFigures())


def row_of(number: int, key: ConcertKey | None, watched: list[NoteName]) -> PieceRow:
    """A piece in a key with notes to watch."""
    row = base()[1].ensemble.pieces[0]
    point = WatchPoint.model_construct(
        text=row.item.title, measures=None, who=(), notes=tuple(watched)
    )
    changes = {"id": f"piece-{number}", "key": key, "watch": (point,), "passages": ()}
    return replace(row, item=row.item.model_copy(update=changes))


@given(played, pieces)
def test_each_note_of_a_key_and_each_watched_note_is_learned_once(
    instrument: str, stated: list[tuple[ConcertKey | None, list[NoteName]]]
) -> None:
    plan, shared = base()
    band = shared.ensemble.item.model_copy(update={"instruments": {instrument: 1}})
    rows = [row_of(number, key, watched) for number, (key, watched) in enumerate(stated)]
    (part,) = part_plans(plan.program, band, rows, (), {})
    view = know_first_view(shared, part)
    in_keys = {
        name
        for piece in part.pieces
        if piece.key and part.instrument and part.instrument.scales
        for name in signature(piece.key)
    }
    watched = {
        note.written.name for piece in part.pieces for point in piece.points for note in point.notes
    }
    assert sorted(str(one.name) for one in view.notes) == sorted(map(str, in_keys | watched))
    assert len(watched) <= sum(len(names) for _, names in stated)
    for one in view.notes:
        heights = [way.written for way in one.ways]
        assert {height.name for height in heights} == {one.name}
        assert [height.midi for height in heights] == sorted({height.midi for height in heights})
    ids = [card.id for group in view.groups for card in group]
    assert len(ids) == len(set(ids))
