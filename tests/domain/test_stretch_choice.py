"""Which joins and runs a stage has, worked by hand."""

from __future__ import annotations

from dataclasses import replace

from handbook.domain.season import (
    Mix,
    MusicBlock,
    MusicKind,
    SeasonDay,
    SeasonNeed,
    Stretch,
)
from handbook.domain.stretch_choice import chosen_stretches


def run(*minutes: int, gaps: tuple[int, ...] = ()) -> Stretch:
    return Stretch(MusicKind.RUN, 0, (), frozenset(gaps), minutes)


def join(*minutes: int, gaps: tuple[int, ...] = ()) -> Stretch:
    return Stretch(MusicKind.JOIN, 0, (), frozenset(gaps), minutes)


def need(
    stages: str, *stretches: Stretch, mix: Mix, minutes: int = 20, longest: int = 10
) -> SeasonNeed:
    """Give rehearsals of 20 minutes, in the stages told by digits; every gap is to be covered."""
    days = tuple(SeasonDay(minutes, int(stage), 3, longest) for stage in stages)
    return SeasonNeed(days, (), stretches, (mix,) * (1 + int(stages[-1])), window=2, gaps=9)


def test_passages_alone_have_no_joins_nor_runs() -> None:
    assert chosen_stretches(need("00", run(5), join(3), mix=Mix(1, 0, 0))) == {0: []}


def test_runs_come_while_half_of_the_next_fits_their_share() -> None:
    """Half of 40 minutes: 20 hold three runs of 6 and a third of a fourth; of 8, two and a half."""
    many = need("0000", run(6), mix=Mix(1, 0, 1), minutes=10)
    assert chosen_stretches(many) == {0: [0, 0, 0]}
    assert chosen_stretches(replace(many, stretches=(run(8),))) == {0: [0, 0, 0]}


def test_a_run_comes_once_a_rehearsal_at_most() -> None:
    assert chosen_stretches(need("00", run(2), mix=Mix(0, 0, 1))) == {0: [0, 0]}


def test_rehearsals_ahead_have_their_share_after_others_that_are_over() -> None:
    """Of 7 rehearsals 4 are over, each with its run: a third of 140 minutes holds 7 runs of 6, so 3 are left.

    Found when a snow day in a stage's middle took joins and runs from the rest of it.
    """
    seven = need("0000000", run(6), mix=Mix(2, 0, 1))
    assert chosen_stretches(seven) == {0: [0] * 7}
    been = (MusicBlock(MusicKind.RUN, 0, 6), MusicBlock(MusicKind.PASSAGE, 0, 14))
    days = tuple(
        replace(day, held=been) if place < 4 else day for place, day in enumerate(seven.days)
    )
    assert chosen_stretches(replace(seven, days=days)) == {0: [0] * 3}
    # Of two pieces, the one that had its turns waits for the other.
    two = replace(seven, days=days, stretches=(run(6), run(6)))
    assert chosen_stretches(two) == {0: [1, 1, 1, 0]}  # half of an eighth run fits too


def test_runs_take_turns_from_stage_to_stage() -> None:
    """A fifth of 20 minutes, 4, is one run in each stage: the first piece, the second, the first."""
    found = chosen_stretches(need("012", run(4, 4, 4), run(4, 4, 4), mix=Mix(4, 0, 1)))
    assert found == {0: [0], 1: [1], 2: [0]}


def test_measures_without_a_passage_are_covered_by_the_most_for_the_minutes() -> None:
    """One gap in 4 minutes, or two in 5: the second; then nothing is left to cover."""
    shares = Mix(1, 0, 0)
    first, second = join(4, gaps=(0,)), join(5, gaps=(0, 1))
    assert chosen_stretches(need("00", first, second, mix=shares)) == {0: [1]}
    # a run of the stage covers them already: one run for a fifth of 40, no join
    whole = run(8, gaps=(0, 1))
    assert chosen_stretches(need("00", whole, first, second, mix=Mix(4, 0, 1))) == {0: [0]}


def test_what_is_too_long_is_left_out_but_for_runs_in_the_last_stage() -> None:
    long_run, long_join = run(14, 14, gaps=(0,)), join(12, 12, gaps=(1,))
    found = chosen_stretches(need("01", long_run, long_join, mix=Mix(0, 1, 1)))
    assert found == {0: [], 1: [0]}
    too_long = need("01", run(21, 21, gaps=(0,)), mix=Mix(0, 0, 1))
    assert chosen_stretches(too_long) == {0: [], 1: []}


def test_one_long_rehearsal_has_room_for_what_is_long() -> None:
    """Half of 10 and 30 minutes is one run of 20, which only the second of them holds."""
    season = need("00", run(20), mix=Mix(1, 0, 1), minutes=10, longest=10)
    long = replace(season.days[1], minutes=30, longest=20)
    assert chosen_stretches(season) == {0: []}
    assert chosen_stretches(replace(season, days=(season.days[0], long))) == {0: [0]}
    joined = need(
        "00", join(16), mix=Mix(1, 1, 0), minutes=10, longest=10
    )  # a block of 20 holds it
    assert chosen_stretches(joined) == {0: []}
    assert chosen_stretches(replace(joined, days=(joined.days[0], long))) == {0: [0]}


def test_what_the_director_orders_and_what_has_been_count() -> None:
    """A quarter of 40 minutes is one run of 10: ordered, or had, it is not chosen again."""
    season = need("00", run(10), mix=Mix(3, 0, 1))
    assert chosen_stretches(season) == {0: [0]}
    ordered = replace(season.days[0], runs=((0, 10),))
    assert chosen_stretches(replace(season, days=(ordered, season.days[1]))) == {0: []}
    had = replace(season.days[0], held=(MusicBlock(MusicKind.RUN, 0, 10),))
    assert chosen_stretches(replace(season, days=(had, season.days[1]))) == {0: []}


def test_what_is_dropped_is_never_chosen() -> None:
    gone = replace(run(4, gaps=(0,)), dropped=True)
    assert chosen_stretches(need("0", gone, mix=Mix(0, 0, 1))) == {0: []}


def test_rehearsals_without_music_have_no_stage_to_fill() -> None:
    assert chosen_stretches(need("00", run(4), mix=Mix(0, 0, 1), minutes=0)) == {}
