"""Bus times and seats for an away concert (common practice, no source)."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from handbook.domain.travel import Bus, RideMinutes, SeatsShort, homebound, outbound, seats_short

HOME = ZoneInfo("America/Chicago")


def at(clock: str) -> datetime:
    return datetime.fromisoformat(f"2027-04-22T{clock}").replace(tzinfo=HOME)


def faces(*moments: datetime) -> str:
    return " ".join(f"{moment:%H:%M}" for moment in moments)


@pytest.mark.parametrize(
    ("call", "ride", "expected"),
    [
        # report, load, depart, arrive, call
        ("17:30", RideMinutes(load=20, drive=35, unload=10), "16:25 16:25 16:45 17:20 17:30"),
        ("17:30", RideMinutes(load=15, drive=42), "16:30 16:33 16:48 17:30 17:30"),
        ("00:10", RideMinutes(load=10, drive=30), "23:30 23:30 23:40 00:10 00:10"),
    ],
)
def test_the_way_there_is_reckoned_back_from_the_call(
    call: str, ride: RideMinutes, expected: str
) -> None:
    way = outbound(at(call), ride)
    assert faces(way.report, way.load, way.depart, way.arrive, way.call) == expected


@pytest.mark.parametrize(
    ("packed", "ride", "expected"),
    [
        # load, depart, arrive, unloaded, pick-up
        ("20:15", RideMinutes(load=20, drive=35, unload=10), "20:15 20:35 21:10 21:20 21:20"),
        ("20:13", RideMinutes(load=15, drive=42), "20:13 20:28 21:10 21:10 21:10"),
        ("20:14", RideMinutes(load=15, drive=42), "20:14 20:29 21:11 21:11 21:15"),
        ("23:50", RideMinutes(load=5, drive=30), "23:50 23:55 00:25 00:25 00:25"),
    ],
)
def test_the_way_back_is_reckoned_on_to_the_pick_up(
    packed: str, ride: RideMinutes, expected: str
) -> None:
    way = homebound(at(packed), ride)
    assert faces(way.load, way.depart, way.arrive, way.unloaded, way.pick_up) == expected


@pytest.mark.parametrize(
    ("riders", "buses", "finding"),
    [
        (96, [Bus("one", 48), Bus("two", 48)], None),
        (97, [Bus("one", 48), Bus("two", 48)], SeatsShort(97, 96, 1, 2)),
        (96, [Bus("one", 48, held=6), Bus("two", 48)], SeatsShort(96, 90, 6, 2)),
        (1, [Bus("gear", 1, held=1)], SeatsShort(1, 0, 1, 1)),
        (10, [], SeatsShort(10, 0, 10, 0)),
        (0, [], None),
    ],
)
def test_seats_short(riders: int, buses: list[Bus], finding: SeatsShort | None) -> None:
    assert seats_short(riders, buses) == finding


FLEET = [Bus("short", 24), Bus("long", 48), Bus("loaded", 48, held=20), Bus("other-long", 48)]


@pytest.mark.parametrize(("seats", "held"), [(0, 0), (-1, 0), (48, 49), (48, -1)])
def test_impossible_buses(seats: int, held: int) -> None:
    with pytest.raises(ValueError, match="held"):
        Bus("bus", seats, held)


def test_impossible_rides_and_riders() -> None:
    with pytest.raises(ValueError, match="below 0"):
        RideMinutes(load=-1, drive=30)
    with pytest.raises(ValueError, match="riders"):
        seats_short(-1, FLEET)
