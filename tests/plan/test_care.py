"""Sound and lifts that staff measured, by the published rules for adults at work."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.domain.lifting import LiftResult, OutsideMethod, as_printed
from handbook.domain.tables.lift_limits import Outside
from handbook.plan.care import CarePlan, care_plan
from tests.plan.planning import CONCERT, planned, winter

CONCERT_TEXT = """
name: Winter concert
date: Thu 2026-12-10
downbeat: 7:00 pm
venue: hall
program:
  - {ensemble: harbor, pieces: [tweed-kites]}
equipment:
  - {id: crate, name: Crate, weight: 20 lb, from: band-room, to: band-room}
care:
"""
# NIOSH 94-110 (rev. 9/2021), example 5, "Dish-Washing Machine Unloading" (Figure 16): 20 lb,
# at the origin H 20, V 44, A 30, at the destination H 20, V 7, A 30; 5 lifts a minute for
# up to an hour, good coupling. Printed RWL 14.4 and 13.3 lb; LI 1.4 and 1.5.
UNLOADING = """
  lifts:
    - what: Crates onto the cart
      equipment: crate
      start: {reach: 20 in, height: 44 in, twist: 30}
      end: {reach: 20 in, height: 7 in, twist: 30}
      guided: "yes"
      per_minute: 5
      lasting: short
      grip: good
"""


def care(folder: Path, entries: str) -> CarePlan:
    concert = winter(planned(folder, {CONCERT: CONCERT_TEXT + entries})).concert
    assert concert is not None
    return care_plan(concert)


def test_a_lift_by_the_manuals_example(tmp_path: Path) -> None:
    (row,) = care(tmp_path, UNLOADING).lifts
    assert isinstance(row.result, LiftResult)
    assert row.result.destination is not None
    # The manual multiplies rounded multipliers, so that print and exact differ a little.
    assert float(row.result.origin.rwl) == pytest.approx(14.4, abs=0.1)
    assert float(row.result.destination.rwl) == pytest.approx(13.3, abs=0.1)
    assert str(as_printed(row.result.governing.index, 1)) == "1.5"


def test_centimetres_and_pounds_are_told_apart(tmp_path: Path) -> None:
    # The same lift, its lengths in cm: reckoned with the metric constants, 20 lb as 9.07 kg
    # (NIST SP 811, Appendix B: a pound is 0.45359237 kg, an inch 2.54 cm).
    metric = UNLOADING.replace("20 in", "50.8 cm").replace("44 in", "111.76 cm")
    metric = metric.replace("height: 7 in", "height: 17.78 cm")
    (row,) = care(tmp_path, metric).lifts
    assert (row.units.mass, str(as_printed(row.load, 2))) == ("kg", "9.07")
    assert isinstance(row.result, LiftResult)
    # The two systems are no exact conversions (p. 7): within 3 percent.
    assert float(row.result.origin.rwl) == pytest.approx(14.34 * 0.4536, rel=0.03)


def test_one_length_in_centimetres_among_inches_is_converted(tmp_path: Path) -> None:
    """An inch is 2.54 cm (NIST SP 811, Appendix B): the same lift."""
    (whole,) = care(tmp_path / "a", UNLOADING).lifts
    (mixed,) = care(tmp_path / "b", UNLOADING.replace("44 in", "111.76 cm")).lifts
    assert mixed.units == whole.units
    assert mixed.result == whole.result


def test_a_lift_outside_the_method_has_no_limit(tmp_path: Path) -> None:
    # H over 25 in: p. 8 gives a multiplier of 0, and of 0 there is no index.
    (row,) = care(
        tmp_path, UNLOADING.replace("reach: 20 in, height: 44", "reach: 26 in, height: 44")
    ).lifts
    assert row.result == OutsideMethod((Outside.TOO_FAR,))


def test_both_rules_reckon_the_same_day(tmp_path: Path) -> None:
    # NIOSH 98-126 and 29 CFR 1910.95 Appendix A: 50 min at 95 dBA is 50 / 47.6 and 50 / 240.
    found = care(tmp_path, "  sound: [{what: Rehearsal, level: 95 dBA, minutes: 50}]\n")
    niosh, osha = found.rules
    assert (niosh.limit.name[:5], round(niosh.dose_percent, 1), niosh.over_limit) == (
        "NIOSH",
        105.0,
        True,
    )
    assert (osha.limit.name[:4], round(osha.dose_percent, 1), osha.over_limit) == (
        "OSHA",
        20.8,
        False,
    )


def test_without_measurements_nothing_is_reckoned(tmp_path: Path) -> None:
    found = care(tmp_path, "  sound: []\n")
    assert (found.sound, found.rules, found.lifts) == ((), (), ())
