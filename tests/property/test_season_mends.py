"""Mends of seasons that lack hours: what a mend promises holds when the season is planned with it."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from handbook.domain.season import (
    Law,
    Mix,
    MusicKind,
    PassageNeed,
    SeasonDay,
    SeasonNeed,
    Stretch,
)
from handbook.domain.season_mends import LARGEST, Change, MendKind, season_mends, tries_for
from handbook.domain.season_planner import plan_season

CHANGED = {MendKind.WINDOW, MendKind.MUSIC, MendKind.GOALS, MendKind.MIX}


def changed(need: SeasonNeed, change: Change) -> SeasonNeed | None:
    """Make the changes that need no more than numbers; the others cannot be made here."""
    size = change.size
    if change.kind is MendKind.WINDOW:
        return replace(need, window=need.window + size)
    if change.kind is MendKind.MUSIC:
        return replace(need, days=tuple(replace(d, minutes=d.minutes + size) for d in need.days))
    if change.kind is MendKind.GOALS:
        if any(one.visits <= size for one in need.passages):
            return None
        return replace(
            need, passages=tuple(replace(p, visits=p.visits - size) for p in need.passages)
        )
    if change.kind is MendKind.MIX:
        return replace(need, mixes=tuple(Mix(1, 0, 0) for _ in need.mixes))
    return None


@st.composite
def seasons(draw: st.DrawFn) -> SeasonNeed:
    count, passages = draw(st.integers(5, 9)), draw(st.integers(2, 5))
    days = tuple(
        SeasonDay(draw(st.integers(4, 16)), int(2 * place >= count), 4, 8) for place in range(count)
    )
    return SeasonNeed(
        days=days,
        passages=tuple(
            PassageNeed(draw(st.integers(2, 7)), draw(st.integers(count // 2, count - 2)), weight)
            for weight in range(1, passages + 1)
        ),
        stretches=(Stretch(MusicKind.RUN, 0, tuple(range(passages)), frozenset({0}), (6, 5)),),
        mixes=(Mix(4, 0, 1), Mix(2, 0, 2)),
        window=draw(st.integers(2, 4)),
        gaps=1,
    )


@settings(max_examples=40, deadline=None)
@given(seasons())
def test_what_a_mend_promises_holds(need: SeasonNeed) -> None:
    season = plan_season(need)
    broken = {unmet.law for unmet in season.unmet}
    assume(broken)
    for mend in season_mends(need, season, lambda change: changed(need, change)):
        after = changed(need, mend.change)
        assert after is not None
        left = {unmet.law for unmet in plan_season(after).unmet}
        assert not left & mend.keeps
        assert min(broken) in mend.keeps, "the weightiest law is restored"
        assert 1 <= mend.change.size <= LARGEST[mend.change.kind]


def test_a_season_that_keeps_every_law_is_not_mended() -> None:
    need = SeasonNeed(
        days=tuple(SeasonDay(30, 0, 4, 30) for _ in range(6)),
        passages=(PassageNeed(2, 3, 1),),
        stretches=(Stretch(MusicKind.RUN, 0, (0,), frozenset(), (3,)),),
        mixes=(Mix(1, 0, 1),),
        window=3,
    )
    season = plan_season(need)
    assert season.unmet == ()

    def never(change: Change) -> SeasonNeed | None:
        raise AssertionError(f"{change} was tried")

    assert season_mends(need, season, never) == ()


def test_two_more_minutes_make_room_for_a_second_passage() -> None:
    """Worked out by hand: blocks of 4 minutes at least, 6 minutes a day hold one passage, 8 hold both.

    Each of the two passages needs five visits and one more, so all six rehearsals.
    """
    need = SeasonNeed(
        days=tuple(SeasonDay(6, 0, 4, 6) for _ in range(6)),
        passages=(PassageNeed(5, 4, 1), PassageNeed(5, 4, 1)),
        stretches=(),
        mixes=(Mix(1, 0, 0),),
        window=6,
    )
    season = plan_season(need)
    assert {unmet.law for unmet in season.unmet} == {Law.GOAL, Law.SETTLED}
    mends = season_mends(
        need, season, lambda one: changed(need, one) if one.kind is MendKind.MUSIC else None
    )
    assert [(mend.change.kind, mend.change.size) for mend in mends] == [(MendKind.MUSIC, 2)]
    assert mends[0].keeps == frozenset(Law)


def test_the_more_there_is_to_plan_the_fewer_tries() -> None:
    def tries(days: int, passages: int) -> int:
        return tries_for(
            SeasonNeed(
                tuple(SeasonDay(30, 0, 4, 12) for _ in range(days)),
                tuple(PassageNeed(3, 4, 1) for _ in range(passages)),
                (),
                (Mix(1, 0, 0),),
                4,
            )
        )

    assert tries(7, 2) == 30
    assert tries(30, 12) == 11
    assert tries(400, 20) == 0
