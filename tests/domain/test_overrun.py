"""A rehearsal that runs late: its end is kept, and what is left is shared by planned minutes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.overrun import places_to_drop, shared_to_the_end, without, without_last

# Worked by hand by the method of largest remainders (Hamilton; Hare quotas).
CASES = [
    # left, minutes planned for the blocks ahead with the close last, shares
    (20, (10, 10, 10, 3), (6, 6, 5, 3)),  # 17 over three alike: 5 each, two remainders to the first
    (33, (10, 10, 10, 3), (10, 10, 10, 3)),  # on time: as planned
    (36, (10, 10, 10, 3), (11, 11, 11, 3)),  # early: each a minute more
    (14, (12, 6, 4, 3), (6, 3, 2, 3)),  # quotas 6, 3, 2: no remainder at all
    (12, (12, 6, 4, 3), (5, 2, 2, 3)),  # quotas 4.91, 2.45, 1.64
    (3, (8, 4, 3), (0, 0, 3)),  # time for the close alone
    (2, (8, 4, 3), (0, 0, 2)),
    (0, (8, 4, 3), (0, 0, 0)),
    (5, (3,), (5,)),  # the close has begun: it lasts until the end
    (9, (0, 0, 3), (0, 0, 9)),
]


@pytest.mark.parametrize(("left", "planned", "shares"), CASES)
def test_what_is_left_is_shared(
    left: int, planned: tuple[int, ...], shares: tuple[int, ...]
) -> None:
    assert shared_to_the_end(left, planned) == shares


@given(st.integers(0, 120), st.lists(st.integers(0, 40), min_size=1, max_size=12))
def test_the_end_is_kept_and_nobody_is_treated_unlike(left: int, planned: list[int]) -> None:
    shares = shared_to_the_end(left, planned)
    assert sum(shares) == left
    assert min(shares) >= 0
    for place, minutes in enumerate(planned[:-1]):
        if minutes == 0:
            assert shares[place] == 0
        for other, more in enumerate(planned[:-1]):
            first_of_two = minutes == more and place < other
            assert minutes > more or shares[place] <= shares[other] + first_of_two


def test_what_is_more_than_planned_is_the_musics() -> None:
    """Of 36 minutes the close keeps 3; 24 are planned, and the 9 others are 5 and 4 for two pieces alike."""
    music = (False, True, True)
    assert shared_to_the_end(36, (4, 10, 10, 3), music) == (4, 15, 14, 3)
    assert shared_to_the_end(27, (4, 10, 10, 3), music) == (4, 10, 10, 3)
    assert shared_to_the_end(15, (4, 10, 10, 3), music) == (2, 5, 5, 3)


@given(st.integers(0, 120), st.lists(st.tuples(st.integers(1, 40), st.booleans()), min_size=2))
def test_nothing_grows_before_music_does(left: int, ahead: list[tuple[int, bool]]) -> None:
    planned, music = [one for one, _ in ahead], [one for _, one in ahead[:-1]]
    shares = shared_to_the_end(left, planned, music)
    assert sum(shares) == left
    if any(music):
        grown = [share - one for share, one in zip(shares[:-1], planned, strict=False)]
        assert all(
            more <= 0 or is_music or left <= sum(planned)
            for more, is_music in zip(grown, music, strict=True)
        )


def test_what_cannot_be_shared_is_refused() -> None:
    for left, planned in ((5, ()), (-1, (3,)), (5, (-1, 3))):
        with pytest.raises(ValueError, match="cannot share"):
            shared_to_the_end(left, planned)


@pytest.mark.parametrize(
    ("planned", "left"),
    [
        ((10, 8, 6, 3), (10, 8, 0, 3)),
        ((10, 8, 0, 3), (10, 0, 0, 3)),
        ((10, 0, 0, 3), (10, 0, 0, 3)),
        ((10, 3), (10, 3)),
        ((3,), (3,)),
    ],
)
def test_the_last_block_is_dropped_but_never_the_close(
    planned: tuple[int, ...], left: tuple[int, ...]
) -> None:
    assert without_last(planned) == left


def test_any_block_ahead_may_fall_out_but_the_first_and_the_close() -> None:
    """Of 12, 0, 5 and 8 minutes before a close of 3: the one of 5, or the one of 8."""
    planned = [12, 0, 5, 8, 3]
    assert places_to_drop(planned) == (2, 3)
    assert without(planned, 2) == (12, 0, 0, 8, 3)
    assert without(planned, 3) == without_last(planned)
    for place in (0, 1, 4, 5, -1):
        with pytest.raises(ValueError, match="cannot be dropped"):
            without(planned, place)
