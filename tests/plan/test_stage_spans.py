"""When stages begin and end, also when a day is lost on the way."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.stages import StageSplitError
from handbook.plan.model import StageSpan
from handbook.plan.stages import held_spans, stage_spans
from handbook.schema.cycle import Stage

FIRST, LAST = date(2026, 10, 5), date(2026, 12, 17)


def stages(*shares: int) -> list[Stage]:
    typed = {
        "name": "S",
        "purpose": "P",
        "tempo": "50-90",
        "minutes": {"fundamentals": "1", "music": "2"},
        "goals": ["G"],
    }
    return [
        Stage.model_validate({**typed, "id": f"s{place}", "share": str(share)})
        for place, share in enumerate(shares)
    ]


def mondays(count: int) -> list[date]:
    return [FIRST + timedelta(days=7 * week) for week in range(count)]


def counts(spans: Sequence[StageSpan]) -> list[int]:
    return [span.count for span in spans]


def test_a_stage_ends_no_earlier_than_its_last_rehearsal() -> None:
    """Two rehearsals on one day, of which the second opens the next stage."""
    days = [*mondays(3), mondays(3)[-1]]
    first, second = stage_spans(stages(3, 1), days, FIRST, LAST)
    assert (first.count, second.count) == (3, 1)
    assert first.ends == second.begins == days[-1]


def test_a_stage_ends_the_day_before_the_next_begins() -> None:
    first, second = stage_spans(stages(1, 1), mondays(4), FIRST, LAST)
    assert first.ends == second.begins - timedelta(days=1)
    assert second.ends == LAST


def test_a_lost_day_shortens_its_own_stage() -> None:
    """Worked by hand: nine Mondays as 3, 3, 3; the fifth is lost after four have been held."""
    days = mondays(9)
    before = stage_spans(stages(1, 1, 1), days, FIRST, LAST)
    after = held_spans(before, [*days[:4], *days[5:]], 4, LAST)
    assert counts(before) == [3, 3, 3]
    assert counts(after) == [3, 2, 3]
    assert [span.begins for span in after] == [span.begins for span in before]


def test_a_stage_that_would_be_empty_shares_the_days_ahead() -> None:
    """Worked by hand: 3, 1, 3; the one of the middle is lost, so the three left are shared 1 to 3.

    Largest remainder, at least one each: quotas of 3 rehearsals over 1 and 3 are 3/4 and 9/4.
    """
    days = mondays(7)
    before = stage_spans(stages(3, 1, 3), days, FIRST, LAST)
    after = held_spans(before, [*days[:3], *days[4:]], 3, LAST)
    assert counts(before) == [3, 1, 3]
    assert counts(after) == [3, 1, 2]


def test_too_few_days_ahead_for_the_stages_ahead() -> None:
    days = mondays(6)
    before = stage_spans(stages(1, 1, 1), days, FIRST, LAST)
    with pytest.raises(StageSplitError):
        held_spans(before, days[:3], 2, LAST)


@given(st.lists(st.integers(1, 5), min_size=1, max_size=4), st.integers(4, 20), st.data())
def test_what_is_held_keeps_its_stage(shares: list[int], count: int, data: st.DataObject) -> None:
    days = mondays(count)
    before = stage_spans(stages(*shares), days, FIRST, LAST + timedelta(days=200))
    held = data.draw(st.integers(0, count - 1))
    lost = data.draw(st.integers(held, count - 1))
    left = [*days[:lost], *days[lost + 1 :]]
    try:
        after = held_spans(before, left, held, LAST + timedelta(days=200))
    except StageSplitError:
        return
    assert sum(counts(after)) == len(left)
    assert all(counts(after))
    was = [span.index for span in before for _ in range(span.count)]
    now = [span.index for span in after for _ in range(span.count)]
    assert now[:held] == was[:held]
    assert all(one.begins <= other.begins for one, other in pairwise(after))
