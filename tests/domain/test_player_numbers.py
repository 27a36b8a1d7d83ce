"""Who plays what by the numbers of players; worked by hand."""

from __future__ import annotations

from handbook.domain.player_numbers import TurnFaults, turn_faults


def test_nothing_is_odd_where_each_player_has_something_or_rests() -> None:
    turns = {1: ["snare-drum"], 2: ["bass-drum", "triangle"], 3: []}
    assert turn_faults(turns, 3, {"snare-drum": 1, "bass-drum": 1}) == TurnFaults((), (), ())


def test_numbers_run_from_one_to_the_last_player() -> None:
    found = turn_faults({2: ["snare-drum"], 4: ["triangle"], 7: []}, 4, {})
    assert found.too_high == (7,)
    assert found.left_out == (1, 3)


def test_an_instrument_is_given_as_often_as_it_is_counted() -> None:
    turns = {
        1: ["snare-drum", "snare-drum"],
        2: ["snare-drum"],
        3: ["snare-drum", "gong"],
        4: ["gong"],
    }
    assert turn_faults(turns, 4, {"snare-drum": 2}).twice == (("snare-drum", (1, 2, 3)),)
    assert turn_faults(turns, 4, {"snare-drum": 3}).twice == ()


def test_a_band_without_percussion_has_no_player() -> None:
    assert turn_faults({1: []}, 0, {}).too_high == (1,)
