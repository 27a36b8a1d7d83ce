"""Set-ups and resets on a school stage (common practice, no source)."""

from __future__ import annotations

import pytest

from handbook.domain.seating import (
    BARE_STAGE,
    USUAL,
    Need,
    Reset,
    Setup,
    Shortage,
    check_stock,
    largest,
    reset,
    resets,
    setup,
)
from handbook.domain.tables.instruments import INSTRUMENTS, Family
from tests.oracles.seating import applied

BEGINNERS = {"flute": 8, "clarinet": 10, "trumpet": 7, "percussion": 5}
CONCERT = {"flute": 6, "clarinet": 8, "trumpet": 6, "tuba": 2, "percussion": 6, "electric-bass": 1}


def things(text: str) -> Setup:
    """Read `25 chair, 31 stand`."""
    pairs = [part.split() for part in text.split(",") if part.strip()]
    return Setup(tuple(sorted((thing, int(count)) for count, thing in pairs)))


def test_the_usual_rules_name_the_instruments_of_the_table() -> None:
    """All percussion gets a station, and whatever is plugged in an outlet."""
    rows = {row.id: row for row in INSTRUMENTS}
    assert set(USUAL.by_instrument) == set(rows)
    plugged = {name for name, needs in USUAL.by_instrument.items() if Need("power-outlet") in needs}
    assert plugged == {"electric-bass", "guitar", "keyboard"}
    stations = {
        name for name, needs in USUAL.by_instrument.items() if Need("percussion-station") in needs
    }
    assert stations == {name for name, row in rows.items() if row.family is Family.PERCUSSION}


@pytest.mark.parametrize(
    ("players", "expected"),
    [
        # one stand more than players, and the podium, for the director
        pytest.param({"flute": 1}, "1 chair, 2 stand, 1 podium", id="one player"),
        pytest.param(
            BEGINNERS, "25 chair, 31 stand, 5 percussion-station, 1 podium", id="beginners"
        ),
        pytest.param(
            CONCERT,
            "23 chair, 30 stand, 6 percussion-station, 1 amplifier, 1 power-outlet, 1 podium",
            id="concert band with electric bass",
        ),
        pytest.param({"string-bass": 2}, "2 stool, 3 stand, 1 podium", id="basses on stools"),
        pytest.param(
            {"timpani": 1}, "1 percussion-station, 1 stool, 2 stand, 1 podium", id="timpani"
        ),
        pytest.param({"marimba": 2}, "2 percussion-station, 3 stand, 1 podium", id="mallets"),
        pytest.param(
            {"guitar": 1, "keyboard": 1},
            "1 chair, 2 stand, 1 bench, 2 amplifier, 2 power-outlet, 1 podium",
            id="plugged in",
        ),
        pytest.param({"piano": 1}, "1 bench, 1 stand, 1 podium", id="piano"),
        pytest.param({}, "", id="nobody"),
        pytest.param({"flute": 0}, "", id="nobody on a listed instrument"),
    ],
)
def test_set_ups_by_the_usual_rules(players: dict[str, int], expected: str) -> None:
    assert setup(players) == things(expected)


def test_the_program_s_own_rules_override() -> None:
    shared = USUAL.overridden({"flute": (Need("chair"), Need("stand", players=2))}, once=[])
    assert setup({"flute": 5}, shared) == things("5 chair, 3 stand")
    assert setup({"flute": 5, "oboe": 1}, shared) == things("6 chair, 4 stand")
    assert setup({"percussion": 5}, shared) == setup({"percussion": 5}, USUAL.overridden(once=[]))


def test_extras_are_added() -> None:
    assert setup({"flute": 1}, extra={"chair": 2, "riser": 4}) == things(
        "3 chair, 2 stand, 1 podium, 4 riser"
    )


def test_reset_between_neighbours() -> None:
    change = reset(setup(BEGINNERS), setup(CONCERT))
    assert change == Reset(
        add=things("1 amplifier, 1 power-outlet, 1 percussion-station"),
        strike=things("2 chair, 1 stand"),
    )
    assert applied(setup(BEGINNERS), change) == setup(CONCERT)


def test_no_change_is_no_reset() -> None:
    assert reset(setup(CONCERT), setup(CONCERT)) == Reset(BARE_STAGE, BARE_STAGE)


def test_resets_start_from_what_stands_there() -> None:
    first, second = things("4 chair"), things("6 chair, 1 stand")
    assert resets([first, second]) == (
        Reset(first, BARE_STAGE),
        Reset(things("2 chair, 1 stand"), BARE_STAGE),
    )
    assert resets([first, second], opening=second)[0] == Reset(
        BARE_STAGE, things("2 chair, 1 stand")
    )
    assert resets([]) == ()


def test_the_largest_set_up_takes_the_most_of_each_thing() -> None:
    assert largest([setup(BEGINNERS), setup(CONCERT)]) == things(
        "25 chair, 31 stand, 6 percussion-station, 1 amplifier, 1 power-outlet, 1 podium"
    )
    assert largest([]) == BARE_STAGE


def test_a_venue_s_stock() -> None:
    check = check_stock(
        things("25 chair, 31 stand, 1 podium"), {"chair": 25, "stand": 24, "riser": 3}
    )
    assert check.short == (Shortage("stand", 31, 24),)
    assert check.short[0].short == 7
    assert check.unstated == ("podium",)


def test_none_in_stock_is_short_not_unstated() -> None:
    check = check_stock(things("1 podium"), {"podium": 0})
    assert check.short == (Shortage("podium", 1, 0),)
    assert check.unstated == ()


def test_slips_of_a_caller_are_refused() -> None:
    with pytest.raises(ValueError, match="below 0"):
        setup({"flute": -1})
    with pytest.raises(ValueError, match="below 0"):
        setup({"flute": 1}, extra={"chair": -1})
    with pytest.raises(ValueError, match="for 0 players"):
        Need("stand", players=0)
    with pytest.raises(ValueError, match="strike"):
        applied(things("1 chair"), Reset(BARE_STAGE, things("2 chair")))


def test_counts_by_name() -> None:
    assert things("3 chair").of("chair") == 3
    assert things("3 chair").of("stand") == 0
