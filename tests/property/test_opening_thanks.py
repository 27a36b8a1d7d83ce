"""Laws of the turns of the opening thanks: no two counts differ by more than one, as far as that can be."""

from __future__ import annotations

from collections import Counter
from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.opening_thanks import thanks_in_turn

BAND = ("flutes", "clarinets", "saxophones", "trumpets", "low-brass", "percussion", "librarians")
Stated = list[tuple[str, ...] | None]


def stated_days(most: int, band: tuple[str, ...] = BAND) -> st.SearchStrategy[Stated]:
    several = st.lists(st.sampled_from((*band, "strings")), max_size=3, unique=True).map(tuple)
    return st.lists(st.one_of(st.none(), st.none(), several), max_size=most)


def counts(stated: Stated, chosen: tuple[str | None, ...]) -> Counter[str]:
    found = Counter(dict.fromkeys(BAND, 0))
    for those, one in zip(stated, chosen, strict=True):
        found.update([one] if one else (those or ()))
    return Counter({one: found[one] for one in BAND})


@given(stated_days(60))
def test_somebody_is_chosen_exactly_where_nothing_is_stated(stated: Stated) -> None:
    chosen = thanks_in_turn(BAND, stated)
    assert [one is None for one in chosen] == [those is not None for those in stated]


@given(stated_days(60))
def test_nobody_who_is_chosen_had_more_than_one_above_the_least(stated: Stated) -> None:
    """So no two counts differ by more than one, unless what is stated alone is more than that."""
    chosen = thanks_in_turn(BAND, stated)
    found = counts(stated, chosen)
    least = min(found.values())
    assert all(found[one] <= least + 1 for one in chosen if one)
    alone = counts([those or () for those in stated], (None,) * len(stated))
    if max(alone.values()) <= least + 1:
        assert max(found.values()) - least <= 1


@given(stated_days(6, BAND[:3]))
def test_no_other_choice_is_more_even(stated: Stated) -> None:
    """Beside all choices there are: the least gap of counts, and the least count as high as can be."""
    band = BAND[:3]

    def gap(chosen: tuple[str | None, ...]) -> tuple[int, int]:
        found = counts(stated, chosen)
        own = [found[one] for one in band]
        return max(own) - min(own), -min(own)

    free: list[tuple[str | None, ...]] = [band if those is None else (None,) for those in stated]
    assert gap(thanks_in_turn(band, stated)) == min(map(gap, product(*free)))


@given(stated_days(40), st.dictionaries(st.sampled_from(BAND), st.integers(0, 9)))
def test_earlier_cycles_change_the_order_and_no_count_by_more_than_one(
    stated: Stated, before: dict[str, int]
) -> None:
    plain = counts(stated, thanks_in_turn(BAND, stated))
    other = counts(stated, thanks_in_turn(BAND, stated, before))
    assert sorted(plain.values()) == sorted(other.values())


@given(st.integers(2, 60), st.integers(2, 7))
def test_with_nothing_stated_each_comes_back_after_all_the_others(days: int, size: int) -> None:
    chosen = thanks_in_turn(BAND[:size], [None] * days)
    for first in range(days - size + 1):
        assert len(set(chosen[first : first + size])) == size
