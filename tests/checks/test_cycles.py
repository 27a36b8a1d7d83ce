"""Cycles must fit their year, their ensembles and each other.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import CONCERT, CYCLE, YEAR, Change, checked


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([("cycles/spring/cycle.yaml", "", "name: Spring\nyear: 2026-27\nstarts: 2027-01-11\nensembles: [lantern]\nstages:\n  - {id: a, name: A, purpose: P, tempo: 50-100, minutes: {fundamentals: 1, music: 1}, goals: [G]}\n")], ["cycles/spring/cycle.yaml:3:1 cycle-without-end: this cycle has neither a concert nor a last day | write cycles/spring/concert.yaml, or add `ends:` with a date"]),
        ([(CYCLE, "starts: Mon 2026-10-19", "starts: Mon 2026-10-19\nends: 2026-12-11")], ["cycles/winter/cycle.yaml:4:7 warning end-said-twice: this last day is not used: the cycle ends with its concert on Thu 2026-12-10 | remove `ends`, or correct the concert's date"]),
        ([(CYCLE, "starts: Mon 2026-10-19", "starts: Mon 2026-10-19\nends: 2026-12-10")], []),
        ([(CONCERT, "date: Thu 2026-12-10", "date: 2026-10-19")], ["cycles/winter/concert.yaml:2:7 concert-before-cycle: the concert is on Mon 2026-10-19, but its cycle starts on Mon 2026-10-19 | check both dates, above all their years"]),
        ([(CONCERT, "date: Thu 2026-12-10", "date: 2026-10-20")], []),
        ([(CYCLE, "starts: Mon 2026-10-19", "starts: 2026-08-23")], ["cycles/winter/cycle.yaml:3:9 cycle-outside-year: Sun 2026-08-23 is outside the school year 2026-27 (2026-08-24 to 2027-06-04) | check the date, or name another `year` in the cycle"]),
        ([(CONCERT, "date: Thu 2026-12-10", "date: 2027-06-05")], ["cycles/winter/concert.yaml:2:7 warning cycle-outside-year: Sat 2027-06-05 is outside the school year 2026-27 (2026-08-24 to 2027-06-04) | check the date, or name another `year` in the cycle"]),
        ([(CYCLE, "year: 2026-27", "year: 2026-27\nheld_until: 2199-01-01")], ["cycles/winter/cycle.yaml:3:13 warning day-outside-cycle: Tue 2199-01-01 is outside the cycle (2026-10-19 to 2026-12-10) | choose a date within the cycle"]),
        ([(CYCLE, "year: 2026-27", "year: 2026-27\nheld_until: 2026-10-19")], []),
        ([(CYCLE, "stages:", "days:\n  - {date: 2026-10-18, thanks: T}\n  - {date: 2026-10-19, thanks: T}\n  - {date: 2026-12-10, thanks: T}\n  - {date: 2026-12-11, thanks: T}\nstages:")], ["cycles/winter/cycle.yaml:6:12 day-outside-cycle: Sun 2026-10-18 is outside the cycle (2026-10-19 to 2026-12-10) | choose a date within the cycle", "cycles/winter/cycle.yaml:9:12 day-outside-cycle: Fri 2026-12-11 is outside the cycle (2026-10-19 to 2026-12-10) | choose a date within the cycle"]),
        ([(CYCLE, "stages:", "cancelled:\n  - {ensemble: harbor, date: 2025-11-03, why: Field trip}\nstages:")], ["cycles/winter/cycle.yaml:6:30 day-outside-cycle: Mon 2025-11-03 is outside the cycle (2026-10-19 to 2026-12-10) | choose a date within the cycle"]),
        ([(CYCLE, "stages:", "extra:\n  - {ensemble: harbor, date: 2026-12-15, start: 3 pm, end: 5 pm}\nstages:")], ["cycles/winter/cycle.yaml:6:30 extra-outside-cycle: Tue 2026-12-15 is outside the cycle (2026-10-19 to 2026-12-10) | choose a date within the cycle"]),
        ([(CYCLE, "[lantern, harbor]", "[lantern]"), (CONCERT, "  - ensemble: harbor\n    pieces: [tweed-kites]\n", "")], ["cycles/winter/music.yaml:25:15 ensemble-not-in-cycle: `harbor` does not take part in the cycle `winter` | add it to the cycle's ensembles, or name one of `lantern`", "years/2026-27.yaml:19:15 warning meeting-without-cycle: `harbor` has meetings, but is in no cycle of this school year, so no page shows them | add it to the `ensembles` of a cycle; a cycle of its own needs no concert if it has `ends`"]),
        ([(YEAR, "  - ensemble: harbor\n    weekdays: [Tue, Thu]\n    period: p4\n", "")], ["cycles/winter/cycle.yaml:4:22 ensemble-without-meetings: `harbor` has no meetings in the school year 2026-27 | add them to years/2026-27.yaml under meetings, or take it out of this cycle"]),
        ([("cycles/spring/cycle.yaml", "", "name: Spring\nyear: 2026-27\nstarts: 2026-12-10\nends: 2027-03-01\nensembles: [lantern]\nstages:\n  - {id: a, name: A, purpose: P, tempo: 50-100, minutes: {fundamentals: 1, music: 1}, goals: [G]}\n")], ["cycles/spring/cycle.yaml:3:9 cycles-overlap: this cycle starts before `winter` ends on Thu 2026-12-10, and `lantern` is in both | start the later cycle on the day after the earlier one's concert"]),
        ([("cycles/spring/cycle.yaml", "", "name: Spring\nyear: 2026-27\nstarts: 2026-12-11\nends: 2027-03-01\nensembles: [lantern]\nstages:\n  - {id: a, name: A, purpose: P, tempo: 50-100, minutes: {fundamentals: 1, music: 1}, goals: [G]}\n")], []),
    ],
)  # fmt: skip
def test_cycles_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told
